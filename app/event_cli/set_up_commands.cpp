#include <charconv>

#include "app/cli/print_json.h"
#include "app/event/yield.h"
#include "app/event_cli/event_commands.h"
#include "app/event_store/event_server.h"
#include "app/event_store/event_sync.h"
#include "app/records/json_number.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

Result<RosterColumns> ColumnsOf(const std::vector<std::string>& given) {
  RosterColumns columns;
  for (const std::string& text : given) {
    const std::size_t equals = text.find('=');
    const std::string field = text.substr(0, equals);
    int column = 0;
    bool known = false;
    for (std::size_t i = 0; i < kRosterFields; ++i) {
      if (ToText(static_cast<RosterField>(i)) != field || equals == std::string::npos) continue;
      const char* const end = text.data() + text.size();
      const auto read = std::from_chars(text.data() + equals + 1, end, column);
      known = read.ec == std::errc() && read.ptr == end && column >= 1;
      if (known) columns[i] = static_cast<std::size_t>(column - 1);
    }
    if (!known) {
      return Fail(ErrorCode::kBadValue,
                  "--column " + text +
                      ": expected FIELD=COLUMN with one of number, name, family name, class, age, "
                      "born, consent, and a column from 1.");
    }
  }
  return columns;
}

OrderedJson RosterToJson(const Roster& roster) {
  OrderedJson json;
  json["schema"] = "nearpoint/event-roster/1";
  json["encoding"] = roster.encoding;
  json["columns"] = OrderedJson::object();
  for (std::size_t i = 0; i < kRosterFields; ++i) {
    const auto& column = roster.columns[i];
    const std::string field(ToText(static_cast<RosterField>(i)));
    json["columns"][field] = nullptr;
    if (column && *column < roster.header.size()) {
      json["columns"][field] = roster.header[*column];
    }
  }
  json["columns_not_understood"] = OrderedJson::array();
  for (const UnknownColumn& unknown : roster.unknown) {
    json["columns_not_understood"].push_back(
        {{"column", unknown.column + 1}, {"name", unknown.name}, {"first_cell", unknown.example}});
  }
  json["rows"] = roster.rows;
  json["rows_with_faults"] = roster.rows_with_faults;
  json["children"] = roster.children.size();
  json["faults"] = OrderedJson::array();
  for (const RosterFault& fault : roster.faults) {
    OrderedJson line;
    line["line"] = fault.line > 0 ? OrderedJson(fault.line) : OrderedJson(nullptr);
    line["column"] = fault.column.empty() ? OrderedJson(nullptr) : OrderedJson(fault.column);
    line["fault"] = fault.sentence;
    json["faults"].push_back(line);
  }
  return json;
}

}  // namespace

Result<void> RunEventNew(const NewEventArguments& arguments) {
  const auto rule = RuleOf(arguments.rule);
  if (!rule) return tl::unexpected(rule.error());
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const auto event = EventDesk::Begin(*store, {arguments.name, arguments.day, *rule});
  if (!event) return tl::unexpected(event.error());
  if (auto set = store->SetSetting("event", QString::fromStdString(*event)); !set) return set;
  OrderedJson json;
  json["schema"] = "nearpoint/event/1";
  json["event"] = *event;
  json["name"] = arguments.name;
  json["day"] = arguments.day;
  json["limit_from"] = rule->norm == kNormByAge ? std::string("by each child's age")
                                                : std::string(NormOf(*rule, std::nullopt).source);
  return PrintJson(json);
}

Result<void> RunEventYield(const YieldArguments& arguments) {
  const auto rule = RuleOf(arguments.rule);
  if (!rule) return tl::unexpected(rule.error());
  SchoolOptions school;
  school.children = arguments.children;
  school.simulated = arguments.simulated;
  school.beyond_share = arguments.beyond_share;
  school.seed = arguments.seed;
  if (arguments.equipment != "all") {
    if (auto known = FindEquipment(arguments.equipment); !known) {
      return tl::unexpected(known.error());
    }
  }
  OrderedJson json;
  json["schema"] = "nearpoint/event-yield/1";
  json["children"] = school.children;
  json["norm"] = rule->norm;
  json["refer_from"] = rule->refer_from;
  json["repeat_from"] = rule->repeat_from;
  json["trials"] = {rule->least_trials, rule->most_trials};
  json["equipment"] = OrderedJson::array();
  for (const Equipment& equipment : AllEquipment()) {
    if (arguments.equipment != "all" && arguments.equipment != equipment.id) continue;
    const auto yield = ExpectedYield(*rule, equipment, school);
    if (!yield) return tl::unexpected(yield.error());
    json["equipment"].push_back({{"equipment", equipment.id},
                                 {"errors", equipment.source},
                                 {"truly_beyond", JsonNumber(yield->beyond, 1)},
                                 {"see_a_professional", JsonNumber(yield->referred, 1)},
                                 {"of_them_wrongly", JsonNumber(yield->referred_wrong, 1)},
                                 {"missed", JsonNumber(yield->missed, 1)},
                                 {"measure_again", JsonNumber(yield->again, 1)},
                                 {"of_them_beyond", JsonNumber(yield->again_beyond, 1)},
                                 {"trials_a_child", JsonNumber(yield->trials, 2)},
                                 {"simulation_sd_at_most", JsonNumber(yield->error, 1)}});
  }
  json["rests_on"] = {
      "share beyond and spread: Hayes et al., Optom Vis Sci 1998;75:506-512 (297 children, "
      "abstract "
      "read)",
      "scatter between trials: the estimate's prior, from published repeatability",
      "errors of the equipment: measured on rendered faces and assumed, not on children",
      "children who cannot be measured at all are not in it"};
  return PrintJson(json);
}

Result<void> RunEventImport(const ImportArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  auto desk = OpenDesk(*store, arguments.place.event);
  if (!desk) return tl::unexpected(desk.error());
  const auto text = ReadTextFile(arguments.file);
  if (!text) return tl::unexpected(text.error());
  std::optional<RosterColumns> columns;
  if (!arguments.columns.empty()) {
    const auto chosen = ColumnsOf(arguments.columns);
    if (!chosen) return tl::unexpected(chosen.error());
    columns = *chosen;
  }
  std::set<std::size_t> not_needed;
  for (const int column : arguments.ignore) not_needed.insert(static_cast<std::size_t>(column - 1));
  const auto roster = ReadRoster(*text, arguments.file, RosterRulesFor(desk->state().event.day),
                                 columns, not_needed);
  if (!roster) return tl::unexpected(roster.error());
  if (auto printed = PrintJson(RosterToJson(*roster)); !printed) return printed;
  if (arguments.check_only && roster->faults.empty()) return {};
  if (arguments.check_only) {
    return Fail(ErrorCode::kBadValue, arguments.file + ": the faults are listed above.");
  }
  return desk->Import(*roster);
}

Result<void> RunEventStation(const StationArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const std::pair<const char*, const std::optional<std::string>&> settings[] = {
      {"name", arguments.name}, {"volunteer", arguments.volunteer}};
  for (const auto& [name, value] : settings) {
    if (!value) continue;
    if (auto set = store->SetSetting(name, QString::fromStdString(*value)); !set) return set;
  }
  if (!arguments.join.empty()) {
    if (auto joined = JoinServer(*store, QString::fromStdString(arguments.join)); !joined) {
      return joined;
    }
  }
  if (arguments.server) {
    auto set = SetServer(*store, QString::fromStdString(*arguments.server),
                         QString::fromStdString(arguments.certificate));
    if (!set) return set;
  }
  const auto waiting = Waiting(*store);
  if (!waiting) return tl::unexpected(waiting.error());
  OrderedJson json;
  json["schema"] = "nearpoint/event-station/1";
  json["station"] = store->station();
  for (const char* name : {"name", "server", "volunteer"}) {
    json[name] = store->Setting(name).toStdString();
  }
  json["records_waiting_for_the_server"] = *waiting;
  return PrintJson(json);
}

Result<void> RunEventMerge(const EventFolder& place) {
  auto store = OpenStation(place.data);
  if (!store) return tl::unexpected(store.error());
  ServerLink link;
  const auto report = link.Merge(*store);
  if (!report) return tl::unexpected(report.error());
  OrderedJson json;
  json["schema"] = "nearpoint/event-merge/1";
  json["sent"] = report->sent;
  json["received"] = report->received;
  json["deleted_events"] = report->deleted;
  json["held_events"] = report->held;
  json["locked_events"] = report->locked;
  return PrintJson(json);
}

}  // namespace nearpoint
