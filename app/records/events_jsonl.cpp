#include "app/records/events_jsonl.h"

#include <sstream>

#include "app/records/json_number.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr std::string_view kWords =
    "one of \"trial_start\", \"double\", \"single\", \"no_double\", \"trial_end\"";
constexpr double kLongestMs = 1e12;

Result<Event> ParseLine(const std::string& line, const std::string& where) {
  const auto json = ParseJson(line, where);
  if (!json) return tl::unexpected(json.error());
  JsonFields fields(*json, where);
  const double t_ms = fields.Number("t_ms", {-kLongestMs, kLongestMs, "a time in milliseconds"});
  const std::string word = fields.Text("event", kWords);
  const auto kind = ParseEventKind(word);
  if (!kind) fields.Refuse("event", std::string(kWords));
  fields.RefuseMisspelt();
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return Event{FromMilliseconds(t_ms), *kind};
}

}  // namespace

Result<std::vector<Event>> ParseEvents(std::string_view text, const std::string& where) {
  std::vector<Event> events;
  std::istringstream in{std::string(text)};
  std::string line;
  for (int number = 1; std::getline(in, line); ++number) {
    if (line.find_first_not_of(" \t\r") == std::string::npos) continue;
    const std::string here = where + ", line " + std::to_string(number);
    const auto event = ParseLine(line, here);
    if (!event) return tl::unexpected(event.error());
    if (!events.empty() && event->time < events.back().time) {
      return Fail(ErrorCode::kBadValue,
                  here +
                      ": \"t_ms\" is earlier than on the line before; expected "
                      "events in the order of time.");
    }
    events.push_back(*event);
  }
  if (events.empty()) {
    return Fail(ErrorCode::kBadValue,
                where +
                    ": there is no event in it; expected lines like {\"t_ms\": 8123.0, \"event\": "
                    "\"double\"}.");
  }
  return events;
}

Result<std::vector<Event>> ReadEvents(const std::string& file) {
  const auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  return ParseEvents(*text, file);
}

std::string EventLine(const Event& event) {
  OrderedJson json;
  json["t_ms"] = JsonMs(event.time);
  json["event"] = ToText(event.kind);
  return json.dump();
}

}  // namespace nearpoint
