#include "app/event/event_state.h"

#include <algorithm>
#include <set>
#include <tuple>

#include "app/event/fold_text.h"

namespace nearpoint {
namespace {

bool Before(const EventRecord* a, const EventRecord* b) {
  return std::tie(a->tick, a->station, a->seq) < std::tie(b->tick, b->station, b->seq);
}

// What is known of one child while the records are gone through.
struct Course {
  ChildState state;
  std::vector<Settled> settled;
  std::size_t joined = 0;
  // The newest record that moves the child along.
  enum class Last { kNothing, kStarted, kStopped, kOther } last = Last::kNothing;
};

class Folder {
 public:
  void Take(const EventRecord& record) {
    StationState& station = state_.stations[record.station];
    station.uuid = record.station;
    if (!record.volunteer.empty()) station.volunteer = record.volunteer;
    state_.uuid = record.event;
    std::visit([&](const auto& body) { On(record, body); }, record.body);
  }

  EventState Finish() {
    PlaceMeasurements();
    std::vector<Course*> order;
    for (auto& [uuid, course] : courses_) {
      if (course.joined > 0) order.push_back(&course);
    }
    std::ranges::sort(order, {}, &Course::joined);
    std::map<std::string, int> numbers;  // as one wristband reads: A-7 is a-7
    for (Course* course : order) {
      std::erase_if(course->state.cautions,
                    [&](const Uuid& caution) { return undone_.contains(caution); });
      Conclude(*course);
      ++numbers[FoldForSearch(course->state.child.number)];
      state_.children.push_back(std::move(course->state));
    }
    for (ChildState& child : state_.children) {
      child.number_shared = numbers[FoldForSearch(child.child.number)] > 1;
    }
    for (const auto& [number, times] : numbers) {
      if (times < 2) continue;
      state_.contradictions.push_back("The number " + number + " was given to " +
                                      std::to_string(times) + " children.");
    }
    return std::move(state_);
  }

 private:
  void On(const EventRecord&, const EventOpened& body) { state_.event = body; }
  void On(const EventRecord& record, const ChildAdded& body) {
    Course& course = courses_[record.child];
    course.state.uuid = record.child;
    course.state.child = body;
    if (course.joined == 0) {
      course.joined = ++joined_;
      course.state.added_by = record.volunteer;
      course.state.added_at = record.at;
    }
  }
  void On(const EventRecord& record, const ConsentTaken& body) {
    courses_[record.child].state.consent = body;
  }
  void On(const EventRecord& record, const MeasuringStarted& body) {
    Course& course = courses_[record.child];
    if (body.afresh || course.state.open_at != record.station) DropTrials(course.state);
    course.last = Course::Last::kStarted;
    course.state.at_station = record.station;
  }
  void On(const EventRecord& record, const MeasuringStopped& body) {
    Course& course = courses_[record.child];
    course.last = Course::Last::kStopped;
    course.state.at_station = record.station;
    course.state.stopped = body.reason;
    if (body.reason == StopReason::kCaution) course.state.cautions.push_back(record.uuid);
  }
  void On(const EventRecord& record, const TrialMade& body) {
    ChildState& state = courses_[record.child].state;
    if (state.open_at != record.station) DropTrials(state);
    state.open_at = record.station;
    state.open_trials.push_back(body);
  }
  void On(const EventRecord& record, const ChildMeasured& body) {
    courses_[record.child].last = Course::Last::kOther;
    DropTrials(courses_[record.child].state);
    ++state_.stations[record.station].measured;
    Measurement made;
    made.uuid = record.uuid;
    made.station = record.station;
    made.at = record.at;
    made.volunteer = record.volunteer;
    made.order = record.tick;
    made.what = body;
    measurements_.emplace_back(record.child, std::move(made));
  }
  void On(const EventRecord& record, const Undone& body) {
    undone_.insert(body.of);
    // Not where the child is at a station again: it must stay taken there.
    if (record.child.empty()) return;
    Course& course = courses_[record.child];
    if (course.last != Course::Last::kStarted) course.last = Course::Last::kOther;
  }
  void On(const EventRecord&, const Moved& body) { moved_[body.of] = body.to; }
  void On(const EventRecord& record, const Settled& body) {
    courses_[record.child].settled.push_back(body);
  }
  void On(const EventRecord&, const HandedOver&) {}

  static void DropTrials(ChildState& state) {
    state.open_trials.clear();
    state.open_at.clear();
  }

  void PlaceMeasurements() {
    for (auto& [child, made] : measurements_) {
      Uuid whose = child;
      if (const auto to = moved_.find(made.uuid); to != moved_.end()) {
        made.moved = to->second != child;
        whose = to->second;
      }
      made.undone = undone_.contains(made.uuid);
      made.finding = Judge(state_.event.rule, made.what.trials_used, made.what.probability_beyond,
                           made.what.contradicted);
      Course& course = courses_[whose];
      if (course.joined == 0) {
        state_.contradictions.push_back("A measurement of " + made.at +
                                        " belongs to a child that no station has listed yet.");
      }
      course.state.measurements.push_back(std::move(made));
    }
  }

  static void Conclude(Course& course) {
    ChildState& state = course.state;
    std::set<Uuid> standing;
    for (const Measurement& made : state.measurements) {
      if (!made.undone) standing.insert(made.uuid);
    }
    // What a later one knew of, or somebody settled against, counts no more. What was undone
    // takes nothing away from the one before it.
    std::set<Uuid> behind;
    for (const Measurement& made : state.measurements) {
      if (!made.undone) behind.insert(made.what.follows.begin(), made.what.follows.end());
    }
    for (const Settled& settled : course.settled) {
      if (standing.contains(settled.keep)) {
        behind.insert(settled.drops.begin(), settled.drops.end());
      }
    }
    std::set<Finding> findings;
    int open = 0;
    for (std::size_t i = 0; i < state.measurements.size(); ++i) {
      Measurement& made = state.measurements[i];
      if (made.undone || behind.contains(made.uuid)) continue;
      made.stands = true;
      state.counts = i;
      findings.insert(made.finding);
      ++open;
    }
    state.conflict = open > 1;
    if (findings.size() == 1) state.finding = *findings.begin();
    if (findings.size() > 1) state.finding = Finding::kMeasureAgain;
    if (state.needs_looking_after()) state.finding = Finding::kNeedsLookingAfter;

    state.stage = state.counts ? ChildStage::kDone : ChildStage::kWaiting;
    if (course.last == Course::Last::kStarted) {
      state.stage = ChildStage::kMeasuring;
    } else if (course.last == Course::Last::kStopped && !state.counts) {
      state.stage = state.stopped == StopReason::kPaused ? ChildStage::kPaused : ChildStage::kLeft;
    }
    if (course.last != Course::Last::kStopped) state.stopped.reset();
    if (state.stage != ChildStage::kMeasuring && state.stage != ChildStage::kPaused) {
      state.at_station.clear();
    }
  }

  EventState state_;
  std::map<Uuid, Course> courses_;
  std::vector<std::pair<Uuid, Measurement>> measurements_;
  std::map<Uuid, Uuid> moved_;
  std::set<Uuid> undone_;
  std::size_t joined_ = 0;
};

std::vector<std::string> WordsOf(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : text + ' ') {
    if (c != ' ' && c != '-' && c != ',' && c != '\t') {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::exchange(word, {}));
    }
  }
  return words;
}

bool Matches(const ChildState& child, const std::vector<std::string>& typed) {
  const auto words =
      WordsOf(FoldForSearch(child.child.name + ' ' + child.child.group + ' ' + child.child.number));
  return std::ranges::all_of(typed, [&](const std::string& part) {
    return std::ranges::any_of(words,
                               [&](const std::string& word) { return word.starts_with(part); });
  });
}

}  // namespace

const ChildState* EventState::Find(const Uuid& child) const {
  const auto found = std::ranges::find(children, child, &ChildState::uuid);
  return found == children.end() ? nullptr : &*found;
}

const ChildState* EventState::FindNumber(std::string_view number) const {
  const auto found =
      std::ranges::find_if(children, [&](const ChildState& c) { return c.child.number == number; });
  return found == children.end() ? nullptr : &*found;
}

EventState StateOf(std::span<const EventRecord> records) {
  std::vector<const EventRecord*> order;
  order.reserve(records.size());
  for (const EventRecord& record : records) order.push_back(&record);
  std::ranges::sort(order, Before);
  Folder folder;
  std::set<std::string_view> seen;
  for (const EventRecord* record : order) {
    if (seen.insert(record->uuid).second) folder.Take(*record);
  }
  return folder.Finish();
}

Result<void> MayStart(const ChildState& child, const Uuid& station, bool anyway) {
  const std::string who =
      child.child.name.empty() ? "Number " + child.child.number : child.child.name;
  if (!child.consent) {
    return Fail(ErrorCode::kInsufficient, who + " has no consent yet; record it before measuring.");
  }
  if (!child.consent->given) {
    return Fail(ErrorCode::kInsufficient,
                who + ": consent was refused, so this child is not measured.");
  }
  if (child.needs_looking_after()) {
    return Fail(ErrorCode::kInsufficient,
                who + " needs looking after and is not measured; call the person in charge.");
  }
  if (anyway) return {};
  if (child.stage == ChildStage::kMeasuring && child.at_station != station) {
    return Fail(ErrorCode::kMismatch, who + " is being measured at another station just now.");
  }
  if (child.stage == ChildStage::kDone) {
    return Fail(ErrorCode::kMismatch, who + " was measured already.");
  }
  return {};
}

std::vector<const ChildState*> FindChildren(const EventState& state, std::string_view typed,
                                            std::size_t most) {
  const auto words = WordsOf(FoldForSearch(typed));
  std::vector<const ChildState*> found;
  for (const ChildState& child : state.children) {
    if (Matches(child, words)) found.push_back(&child);
  }
  const auto rank = [&](const ChildState* child) {
    const bool exact = words.size() == 1 && FoldForSearch(child->child.number) == words.front();
    const bool finished = child->stage == ChildStage::kDone || child->stage == ChildStage::kLeft;
    // 9 comes before 10.
    return std::tuple(!exact, finished, child->child.number.size(),
                      std::string_view(child->child.number));
  };
  std::ranges::sort(found,
                    [&](const ChildState* a, const ChildState* b) { return rank(a) < rank(b); });
  if (found.size() > most) found.resize(most);
  return found;
}

}  // namespace nearpoint
