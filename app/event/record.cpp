#include "app/event/record.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "app/records/json_number.h"
#include "app/records/moment.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array<std::string_view, 11> kKinds{"event",  "child",    "consent", "start",
                                                  "stop",   "measured", "undo",    "move",
                                                  "settle", "handover", "trial"};
static_assert(kKinds.size() == std::variant_size_v<RecordBody>);

template <typename Enum, std::size_t kCount>
std::optional<Enum> Parse(const std::array<Enum, kCount>& all, std::string_view text) {
  for (const Enum value : all) {
    if (ToText(value) == text) return value;
  }
  return std::nullopt;
}

constexpr std::array kPlanes{ReferencePlane::kCorneal, ReferencePlane::kSpectacle,
                             ReferencePlane::kLateralCanthus, ReferencePlane::kCentreOfRotation};
constexpr std::array kReasons{StopReason::kPaused, StopReason::kAbsent, StopReason::kUnable,
                              StopReason::kCaution, StopReason::kDeclined};
constexpr std::array kBases{Basis::kReport, Basis::kEyes};

constexpr NumberRule kProbability{0, 1, "a probability"};
constexpr NumberRule kDistance{0, 10000, "a distance in millimetres"};
constexpr int kMany = 1000;

Json Number(std::optional<double> value, int decimals) {
  return value ? JsonNumber(*value, decimals) : Json(nullptr);
}

struct Writer {
  Json operator()(const EventOpened& body) const {
    const EventRule& rule = body.rule;
    return {{"name", body.name},
            {"day", body.day},
            {"norm", rule.norm},
            {"plane", ToText(rule.plane)},
            {"least_trials", rule.least_trials},
            {"most_trials", rule.most_trials},
            {"refer_from", rule.refer_from},
            {"repeat_from", rule.repeat_from}};
  }
  Json operator()(const ChildAdded& body) const {
    return {{"number", body.number},
            {"name", body.name},
            {"group", body.group},
            {"age_years", Number(body.age_years, 2)},
            {"walk_up", body.walk_up}};
  }
  Json operator()(const ConsentTaken& body) const {
    return {{"given", body.given}, {"how", body.how}};
  }
  Json operator()(const MeasuringStarted& body) const { return {{"afresh", body.afresh}}; }
  Json operator()(const MeasuringStopped& body) const { return {{"reason", ToText(body.reason)}}; }
  Json operator()(const ChildMeasured& body) const {
    return {{"break_mm", Number(body.break_mm, 4)},
            {"low_mm", Number(body.low_mm, 4)},
            {"high_mm", Number(body.high_mm, 4)},
            {"probability_beyond", Number(body.probability_beyond, 6)},
            {"cut_off_mm", JsonNumber(body.cut_off_mm, 4)},
            {"trials_made", body.trials_made},
            {"trials_used", body.trials_used},
            {"set_aside", body.set_aside},
            {"basis", ToText(body.basis)},
            {"contradicted", body.contradicted},
            {"card", body.card},
            {"seconds", JsonNumber(body.seconds, 1)},
            {"follows", body.follows},
            {"session_sha256", body.session_sha256}};
  }
  Json operator()(const Undone& body) const { return {{"of", body.of}}; }
  Json operator()(const Moved& body) const { return {{"of", body.of}, {"to", body.to}}; }
  Json operator()(const Settled& body) const {
    return {{"keep", body.keep}, {"drops", body.drops}};
  }
  Json operator()(const HandedOver& body) const { return {{"to", body.to}}; }
  Json operator()(const TrialMade& body) const {
    return {{"trial", body.trial}, {"eyes", body.eyes}, {"card", body.card}};
  }
};

bool Flag(JsonFields& fields, const nlohmann::json& object, const char* name) {
  fields.Allow({name});
  const auto found = object.find(name);
  if (found == object.end() || !found->is_boolean()) {
    fields.Refuse(name, "true or false");
    return false;
  }
  return found->get<bool>();
}

std::vector<std::string> Texts(JsonFields& fields, const char* name) {
  std::vector<std::string> texts;
  for (const auto& item : fields.Array(name)) {
    if (item.is_string()) {
      texts.push_back(item.get<std::string>());
    } else {
      fields.Refuse(name, "a list of texts");
    }
  }
  return texts;
}

template <typename Enum, std::size_t kCount>
Enum Word(JsonFields& fields, const char* name, const std::array<Enum, kCount>& all) {
  const auto value = Parse(all, fields.Text(name, "a word of this program"));
  if (!value) fields.Refuse(name, "a word of this program");
  return value.value_or(all.front());
}

EventOpened ReadEvent(JsonFields& fields) {
  EventOpened body;
  body.name = fields.Text("name", "a text");
  body.day = fields.Text("day", "a day");
  if (const auto day = ParseMoment(body.day); fields.ok() && (!day || day->hour)) {
    fields.Refuse("day", "a day like 2026-03-14");
  }
  body.rule.norm = fields.Text("norm", "the id of a norm");
  body.rule.plane = Word(fields, "plane", kPlanes);
  body.rule.least_trials = fields.Integer("least_trials", 1, kMany, "a number of trials");
  body.rule.most_trials = fields.Integer("most_trials", 1, kMany, "a number of trials");
  body.rule.refer_from = fields.Number("refer_from", kProbability);
  body.rule.repeat_from = fields.Number("repeat_from", kProbability);
  if (fields.ok()) {
    if (const auto fine = CheckRule(body.rule); !fine) {
      fields.Refuse("norm", "a rule that holds (" + fine.error().message + ")");
    }
  }
  return body;
}

ChildMeasured ReadMeasured(JsonFields& fields, const nlohmann::json& json) {
  ChildMeasured body;
  body.break_mm = fields.NumberOrNull("break_mm", kDistance);
  body.low_mm = fields.NumberOrNull("low_mm", kDistance);
  body.high_mm = fields.NumberOrNull("high_mm", kDistance);
  body.probability_beyond = fields.NumberOrNull("probability_beyond", kProbability);
  body.cut_off_mm = fields.Number("cut_off_mm", kDistance);
  body.trials_made = fields.Integer("trials_made", 0, kMany, "a number of trials");
  body.trials_used = fields.Integer("trials_used", 0, kMany, "a number of trials");
  body.set_aside = Texts(fields, "set_aside");
  body.basis = Word(fields, "basis", kBases);
  body.contradicted = Flag(fields, json, "contradicted");
  body.card = Flag(fields, json, "card");
  body.seconds = fields.Number("seconds", {0, 1e6, "a number of seconds"});
  body.follows = Texts(fields, "follows");
  body.session_sha256 = fields.Text("session_sha256", "a checksum, or nothing");
  if (fields.ok() && body.trials_used > body.trials_made) {
    fields.Refuse("trials_used", "at most as many as trials_made");
  }
  if (fields.ok() && body.low_mm && body.high_mm && *body.low_mm > *body.high_mm) {
    fields.Refuse("low_mm", "at most high_mm");
  }
  return body;
}

bool HasControl(std::string_view text) {
  return std::ranges::any_of(text, [](char c) { return (c >= 0 && c < ' ') || c == 0x7F; });
}

// Older stations took any text for the number of a walk-up, so this is wider than what the roster
// lets through; but nothing that could lead a file elsewhere.
bool MayBeNumber(std::string_view text) {
  constexpr std::size_t kLongest = 64;
  return !text.empty() && text.size() <= kLongest && !HasControl(text) && text != "." &&
         text != ".." && text.find_first_of("/\\") == std::string_view::npos;
}

std::string Line(JsonFields& fields, const char* name, const char* meaning) {
  constexpr std::size_t kLongest = 400;  // bytes; of letters of four bytes 100
  std::string text = fields.Text(name, meaning);
  if (text.size() > kLongest || HasControl(text)) fields.Refuse(name, meaning);
  return text;
}

ChildAdded ReadChild(JsonFields& fields, const nlohmann::json& json) {
  ChildAdded body;
  body.number = fields.Text("number", "a number");
  if (fields.ok() && !MayBeNumber(body.number)) {
    fields.Refuse("number", "a number of at most 64 letters and digits without a slash");
  }
  body.name = Line(fields, "name", "a name in one line");
  body.group = Line(fields, "group", "a class in one line");
  body.age_years = fields.NumberOrNull("age_years", {0, 120, "an age in years"});
  body.walk_up = Flag(fields, json, "walk_up");
  return body;
}

RecordBody ReadBody(std::size_t kind, JsonFields& fields, const nlohmann::json& json) {
  switch (kind) {
    case 0:
      return ReadEvent(fields);
    case 1:
      return ReadChild(fields, json);
    case 2: {
      const bool given = Flag(fields, json, "given");
      return ConsentTaken{given, fields.Text("how", "a text")};
    }
    case 3:
      return MeasuringStarted{Flag(fields, json, "afresh")};
    case 4:
      return MeasuringStopped{Word(fields, "reason", kReasons)};
    case 5:
      return ReadMeasured(fields, json);
    case 6:
      return Undone{fields.Text("of", "the id of a record")};
    case 7: {
      Moved body;
      body.of = fields.Text("of", "the id of a record");
      body.to = fields.Text("to", "the id of a child");
      return body;
    }
    case 8: {
      Settled body;
      body.keep = fields.Text("keep", "the id of a record");
      body.drops = Texts(fields, "drops");
      return body;
    }
    case 10: {
      TrialMade body;
      body.trial = fields.Text("trial", "a trial as text");
      body.eyes = fields.Text("eyes", "what the eyes say as text");
      body.card = Flag(fields, json, "card");
      return body;
    }
    default:
      return HandedOver{fields.Text("to", "a name")};
  }
}

}  // namespace

std::string_view KindOf(const RecordBody& body) { return kKinds[body.index()]; }

std::string_view ToText(StopReason reason) {
  switch (reason) {
    case StopReason::kPaused:
      return "paused";
    case StopReason::kAbsent:
      return "absent";
    case StopReason::kUnable:
      return "unable";
    case StopReason::kCaution:
      return "caution";
    case StopReason::kDeclined:
      return "declined";
  }
  return "";
}

std::string_view ToText(Basis basis) { return basis == Basis::kReport ? "report" : "eyes"; }

std::string BodyToText(const RecordBody& body) { return std::visit(Writer(), body).dump(); }

Result<RecordBody> BodyFromText(std::string_view kind, std::string_view text,
                                const std::string& where) {
  const auto* const known = std::find(kKinds.begin(), kKinds.end(), kind);
  if (known == kKinds.end()) {
    return Fail(ErrorCode::kBadValue, where + ": \"" + std::string(kind) +
                                          "\" is no kind of record that this version knows; "
                                          "install the newer version.");
  }
  const auto json = ParseJson(text, where);
  if (!json) return tl::unexpected(json.error());
  if (!json->is_object()) {
    return Fail(ErrorCode::kBadValue, where + ": expected a JSON object.");
  }
  JsonFields fields(*json, where);
  RecordBody body = ReadBody(static_cast<std::size_t>(known - kKinds.begin()), fields, *json);
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return body;
}

}  // namespace nearpoint
