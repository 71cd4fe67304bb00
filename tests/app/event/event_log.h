// Stations of a test: each writes records with its own numbers and a Lamport clock.
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "app/event/event_state.h"

namespace nearpoint {

class LogStation {
 public:
  LogStation(std::string name, std::vector<EventRecord>& log) : name_(std::move(name)), log_(log) {}

  // Reads what the others wrote.
  void Merge() {
    for (const EventRecord& record : log_) tick_ = std::max(tick_, record.tick);
  }
  Uuid Write(const Uuid& child, RecordBody body) {
    EventRecord record;
    record.seq = ++seq_;
    record.uuid = name_ + std::to_string(record.seq);
    record.event = "event";
    record.child = child;
    record.station = name_;
    record.tick = ++tick_;
    record.at = "2026-03-14T09:00:00Z";
    record.volunteer = "volunteer " + name_;
    record.body = std::move(body);
    log_.push_back(record);
    return record.uuid;
  }
  Uuid Measure(const Uuid& child, double probability, std::vector<Uuid> follows = {}) {
    Write(child, MeasuringStarted());
    ChildMeasured what;
    what.break_mm = 40 + 60 * probability;
    what.low_mm = *what.break_mm - 10;
    what.high_mm = *what.break_mm + 10;
    what.probability_beyond = probability;
    what.cut_off_mm = 73.5;
    what.trials_made = 3;
    what.trials_used = 2;
    what.set_aside = {"the approach was too fast"};
    what.seconds = 100;
    what.follows = std::move(follows);
    return Write(child, what);
  }

 private:
  std::string name_;
  std::vector<EventRecord>& log_;
  std::int64_t seq_ = 0;
  std::int64_t tick_ = 0;
};

inline ChildAdded NewChild(std::string number, std::string name = "", std::string group = "",
                           std::optional<double> age = 8.5) {
  return {std::move(number), std::move(name), std::move(group), age, false};
}

}  // namespace nearpoint
