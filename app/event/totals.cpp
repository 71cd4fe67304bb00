#include "app/event/totals.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/event/csv_table.h"
#include "app/event/session_files.h"
#include "app/measure/robust.h"

namespace nearpoint {
namespace {

void CountFinding(Finding finding, int& within, int& see, int& again) {
  within += finding == Finding::kWithin;
  see += finding == Finding::kSeeProfessional;
  again += finding == Finding::kMeasureAgain;
}

std::string Millimetres(std::optional<double> corneal, ReferencePlane plane) {
  if (!corneal) return {};
  char text[32];
  std::snprintf(text, sizeof text, "%.1f",
                MoveToPlane(Length::Millimeters(*corneal), ReferencePlane::kCorneal, plane).mm());
  return text;
}

std::string_view StageText(const ChildState& child) {
  switch (child.stage) {
    case ChildStage::kWaiting:
      return "waiting";
    case ChildStage::kMeasuring:
      return "measuring";
    case ChildStage::kPaused:
      return "paused";
    case ChildStage::kDone:
      return "measured";
    case ChildStage::kLeft:
      return child.stopped ? ToText(*child.stopped) : "left";
  }
  return "";
}

std::string ConsentText(const ChildState& child) {
  if (!child.consent) return "not asked";
  return child.consent->given ? "given" : "refused";
}

}  // namespace

Totals TotalsOf(const EventState& state) {
  Totals totals;
  std::map<int, AgeRow> ages;
  std::vector<double> seconds;
  for (const ChildState& child : state.children) {
    ++totals.listed;
    const auto& age = child.child.age_years;
    AgeRow& row = ages[age ? static_cast<int>(std::floor(*age)) : 1000];
    row.ages = age ? std::to_string(static_cast<int>(std::floor(*age))) : "unknown";
    ++row.children;
    totals.measuring += child.stage == ChildStage::kMeasuring;
    totals.paused += child.stage == ChildStage::kPaused;
    totals.conflicts += child.conflict;
    totals.look_after += child.needs_looking_after();
    row.look_after += child.needs_looking_after();
    for (const Measurement& made : child.measurements) totals.undone += made.undone;
    const bool refused = child.consent && !child.consent->given;
    totals.refused += refused;
    if (child.stage == ChildStage::kLeft) {
      totals.absent += child.stopped == StopReason::kAbsent;
      totals.unable += child.stopped == StopReason::kUnable;
      totals.declined += child.stopped == StopReason::kDeclined;
      totals.caution += child.stopped == StopReason::kCaution;
    }
    if (!child.counts) {
      totals.not_asked += !child.consent;
      totals.waiting += child.stage == ChildStage::kWaiting && !refused;
      continue;
    }
    const ChildMeasured& what = child.measurements[*child.counts].what;
    ++totals.measured;
    totals.look_after_measured += child.needs_looking_after();
    ++row.measured;
    CountFinding(child.finding, totals.within, totals.see_professional, totals.again);
    CountFinding(child.finding, row.within, row.see_professional, row.again);
    totals.no_number += child.finding == Finding::kNotMeasured;
    totals.by_eyes += what.basis == Basis::kEyes;
    totals.trials += what.trials_made;
    totals.trials_set_aside += static_cast<int>(what.set_aside.size());
    for (const std::string& why : what.set_aside) ++totals.set_aside_why[why];
    ++totals.measured_at[child.measurements[*child.counts].station];
    seconds.push_back(what.seconds);
  }
  if (!seconds.empty()) totals.median_seconds = MedianOf(std::move(seconds));
  for (auto& [age, row] : ages) totals.by_age.push_back(std::move(row));
  return totals;
}

std::string ChildrenCsv(const EventState& state) {
  const ReferencePlane plane = state.event.rule.plane;
  std::string csv =
      "number,name,class,age_years,consent,stage,finding,break_mm,low_mm,high_mm,limit_mm,plane,"
      "trials_used,trials_made,basis,conflict,measurements,needs_looking_after,number_shared,"
      "session_files\n";
  std::map<const ChildState*, std::string> files;
  for (const SessionFile& file : SessionFilesOf(state)) {
    std::string& names = files[file.child];
    names += (names.empty() ? "" : " ") + file.name;
  }
  for (const ChildState& child : state.children) {
    const ChildMeasured* const what =
        child.counts ? &child.measurements[*child.counts].what : nullptr;
    char age[16] = "";
    if (child.child.age_years) std::snprintf(age, sizeof age, "%.1f", *child.child.age_years);
    const auto standing = std::ranges::count_if(
        child.measurements, [](const Measurement& made) { return !made.undone; });
    const std::vector<std::string> cells{
        child.child.number,
        child.child.name,
        child.child.group,
        age,
        ConsentText(child),
        std::string(StageText(child)),
        what || child.needs_looking_after() ? std::string(ToText(child.finding)) : "",
        what ? Millimetres(what->break_mm, plane) : "",
        what ? Millimetres(what->low_mm, plane) : "",
        what ? Millimetres(what->high_mm, plane) : "",
        what ? Millimetres(what->cut_off_mm, plane) : "",
        std::string(ToText(plane)),
        what ? std::to_string(what->trials_used) : "",
        what ? std::to_string(what->trials_made) : "",
        what ? std::string(ToText(what->basis)) : "",
        child.conflict ? "yes" : "no",
        std::to_string(standing),
        child.needs_looking_after() ? "yes" : "no",
        child.number_shared ? "yes" : "no",
        files[&child]};
    for (std::size_t i = 0; i < cells.size(); ++i) {
      csv += (i == 0 ? "" : ",") + CsvCell(cells[i]);
    }
    csv += '\n';
  }
  return csv;
}

std::string MeasurementsCsv(const EventState& state) {
  const ReferencePlane plane = state.event.rule.plane;
  std::string csv =
      "session_file,number,counts,at,station,volunteer,finding,break_mm,low_mm,high_mm,limit_mm,"
      "plane,trials_used,trials_made,basis\n";
  for (const SessionFile& file : SessionFilesOf(state)) {
    const ChildState& child = *file.child;
    const Measurement& made = *file.made;
    const bool counts =
        !child.conflict && child.counts && child.measurements[*child.counts].uuid == made.uuid;
    const std::vector<std::string> cells{file.name,
                                         child.child.number,
                                         child.conflict ? "open" : (counts ? "yes" : "no"),
                                         made.at,
                                         made.station,
                                         made.volunteer,
                                         std::string(ToText(made.finding)),
                                         Millimetres(made.what.break_mm, plane),
                                         Millimetres(made.what.low_mm, plane),
                                         Millimetres(made.what.high_mm, plane),
                                         Millimetres(made.what.cut_off_mm, plane),
                                         std::string(ToText(plane)),
                                         std::to_string(made.what.trials_used),
                                         std::to_string(made.what.trials_made),
                                         std::string(ToText(made.what.basis))};
    for (std::size_t i = 0; i < cells.size(); ++i) {
      csv += (i == 0 ? "" : ",") + CsvCell(cells[i]);
    }
    csv += '\n';
  }
  return csv;
}

std::string TotalsCsv(const Totals& totals) {
  std::string csv = "what,children\n";
  const auto add = [&csv](const std::string& what, int count) {
    csv += CsvCell(what) + ',' + std::to_string(count) + '\n';
  };
  add("listed", totals.listed);
  add("measured", totals.measured);
  add("needs looking after", totals.look_after);
  add("within", totals.within);
  add("see a professional", totals.see_professional);
  add("measure again", totals.again);
  add("measured without a number", totals.no_number);
  add("waiting", totals.waiting);
  add("paused", totals.paused);
  add("measuring now", totals.measuring);
  add("absent", totals.absent);
  add("could not be measured", totals.unable);
  add("did not want to", totals.declined);
  add("sent on before measuring", totals.caution);
  add("consent refused", totals.refused);
  add("measured twice unseen", totals.conflicts);
  add("by the eyes alone", totals.by_eyes);
  csv += "\nage,children,measured,within,see a professional,measure again,needs looking after\n";
  for (const AgeRow& row : totals.by_age) {
    csv += row.ages;
    for (const int n : {row.children, row.measured, row.within, row.see_professional, row.again,
                        row.look_after}) {
      csv += ',' + std::to_string(n);
    }
    csv += '\n';
  }
  csv += "\ntrials set aside because,trials\n";
  for (const auto& [why, count] : totals.set_aside_why) add(why, count);
  return csv;
}

}  // namespace nearpoint
