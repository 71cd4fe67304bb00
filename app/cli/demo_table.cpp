#include "app/cli/demo_table.h"

#include <algorithm>
#include <iomanip>
#include <optional>
#include <sstream>

#include "app/measure/planes.h"

namespace nearpoint {
namespace {

std::string Mm(std::optional<double> mm) {
  if (!mm) return "-";
  std::ostringstream out;
  out << std::fixed << std::setprecision(1) << *mm;
  return out.str();
}

class Table {
 public:
  explicit Table(ReferencePlane plane) : plane_(plane) {}

  std::string Shown(std::optional<Length> distance) const {
    if (!distance) return "-";
    return Mm(MoveToPlane(*distance, ReferencePlane::kCorneal, plane_).mm());
  }

  void Row(const std::vector<std::string>& cells, const std::string& remark = "") {
    out_ << "  " << std::left << std::setw(10) << cells.front() << std::right;
    for (std::size_t i = 1; i < cells.size(); ++i) out_ << std::setw(10) << cells[i];
    if (!remark.empty()) out_ << "  " << remark;
    out_ << '\n';
  }
  std::ostringstream& out() { return out_; }

 private:
  ReferencePlane plane_;
  std::ostringstream out_;
};

std::string Remark(const Trial& trial) {
  if (trial.set_aside) return "set aside: " + SetAsideText(trial);
  switch (trial.censored) {
    case Censoring::kNone:
      return "";
    case Censoring::kBelow:
      return "single to the nearest point: at most";
    case Censoring::kAbove:
      return "double from the start: at least";
  }
  return "";
}

void BandRow(Table& table, const std::string& name, const std::optional<Band>& band, Length truth) {
  if (!band) {
    table.Row({name, "-", "-", "-", table.Shown(truth)});
    return;
  }
  table.Row({name, Mm(band->value), Mm(band->low), Mm(band->high), table.Shown(truth)});
}

}  // namespace

std::string DemoTable(const Session& session, const simulate::Script& truth) {
  const Estimate& estimate = session.estimate;
  const ReferencePlane plane =
      ParsePlane(estimate.reference_plane).value_or(ReferencePlane::kCorneal);
  Table table(plane);
  table.out() << "Simulated patient. Target distance in mm from the " << ToText(plane)
              << "; truth is known to the simulation only.\n\n";
  table.Row({"", "break", "", "", "recovery"});
  table.Row({"trial", "reported", "by eyes", "truth", "reported", "by eyes", "truth", "mm/s"});
  for (std::size_t i = 0; i < session.trials.size(); ++i) {
    const Trial& trial = session.trials[i];
    std::optional<Length> break_at = trial.limit;
    if (trial.break_point) break_at = trial.break_point->value.value;
    std::optional<Length> recovery_at;
    if (trial.recovery) recovery_at = trial.recovery->value.value;
    std::optional<Length> true_break;
    std::optional<Length> true_recovery;
    if (i < truth.trials.size() && truth.trials[i].broke) {
      true_break = truth.trials[i].break_distance;
      true_recovery = truth.trials[i].recovery_distance;
    }
    std::optional<double> speed;
    if (trial.approach_speed) speed = trial.approach_speed->mm_per_s();
    table.Row(
        {std::to_string(trial.number), table.Shown(break_at), table.Shown(trial.objective_break),
         table.Shown(true_break), table.Shown(recovery_at), table.Shown(trial.objective_recovery),
         table.Shown(true_recovery), Mm(speed)},
        Remark(trial));
  }
  table.out() << '\n';
  table.Row({"estimate", "value", "low", "high", "truth"}, "95 % band");
  BandRow(table, "break", estimate.break_mm, truth.true_break);
  BandRow(table, "recovery", estimate.recovery_mm, truth.true_recovery);
  table.out() << "\n  The break is " << ToText(estimate.answer) << " (" << Mm(estimate.cut_off.mm())
              << " mm from the " << ToText(plane)
              << "). A screening measurement, not a diagnosis.\n";
  for (const std::string& sentence : session.agreement.sentences) {
    table.out() << "  Eyes: " << sentence << '\n';
  }
  for (const std::string& caution : estimate.cautions) table.out() << "  Note: " << caution << '\n';
  return table.out().str();
}

}  // namespace nearpoint
