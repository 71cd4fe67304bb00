// How well a drift of one eye is found on simulated traces: the acceptance figures, the receiver
// curve over the drift's size and the distance of the break, and where it fails.
//   drift_roc [TRIALS] [TRIALS_PER_CELL]   (200 and 40 when left out)
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "app/measure/objective_break.h"
#include "tests/support/vergence_patient.h"

namespace {

using nearpoint::AnalyseVergence;
using nearpoint::DriftingEye;
using nearpoint::ObjectiveEvent;
using nearpoint::ObjectiveResult;
using nearpoint::ToMilliseconds;
using nearpoint::testing::DrawPatient;
using nearpoint::testing::SimulateVergence;
using nearpoint::testing::VergencePatient;
using nearpoint::testing::VergenceTrial;

double Quantile(std::vector<double> values, double part) {
  if (values.empty()) return std::nan("");
  std::ranges::sort(values);
  const auto at = static_cast<std::size_t>(part * static_cast<double>(values.size()));
  return values[std::min(values.size() - 1, at)];
}

double ShareWithin(const std::vector<double>& errors, double limit, int of) {
  const auto in = std::ranges::count_if(errors, [limit](double e) { return std::abs(e) <= limit; });
  return 100.0 * static_cast<double>(in) / of;
}

std::vector<double> Absolute(std::vector<double> values) {
  for (double& v : values) v = std::abs(v);
  return values;
}

struct Errors {
  std::vector<double> time_ms, distance_mm, in_time_sds, in_distance_sds;
  void Add(const ObjectiveEvent& event, double true_ms, double true_mm) {
    time_ms.push_back(ToMilliseconds(event.time) - true_ms);
    in_time_sds.push_back(time_ms.back() / ToMilliseconds(event.time_sd));
    if (!event.distance) return;
    distance_mm.push_back(event.distance->value.mm() - true_mm);
    in_distance_sds.push_back(distance_mm.back() / event.distance->sd.mm());
  }
  void Print(const char* name, int of) const {
    std::printf(
        "%-9s time: median %3.0f ms, 95 %% %3.0f ms, within 150 ms %5.1f %%; distance: median %.1f "
        "mm, 95 %% %.1f mm, within 3 mm %5.1f %%; within 2 stated deviations: %.0f %% and %.0f "
        "%%\n",
        name, Quantile(Absolute(time_ms), 0.5), Quantile(Absolute(time_ms), 0.95),
        ShareWithin(time_ms, 150, of), Quantile(Absolute(distance_mm), 0.5),
        Quantile(Absolute(distance_mm), 0.95), ShareWithin(distance_mm, 3, of),
        ShareWithin(in_time_sds, 2, static_cast<int>(in_time_sds.size())),
        ShareWithin(in_distance_sds, 2, static_cast<int>(in_distance_sds.size())));
  }
};

// The evidence of trials without a drift, for the false-alarm levels of the receiver curve.
std::vector<double> WithoutDrift(int trials) {
  std::vector<double> evidence;
  std::vector<std::string> lines;
  int false_breaks = 0;
  int aside = 0;
  for (int i = 0; i < trials; ++i) {
    const std::uint64_t seed = 10000 + static_cast<std::uint64_t>(i);
    const ObjectiveResult r =
        AnalyseVergence(SimulateVergence(DrawPatient(seed, false), seed).samples);
    evidence.push_back(r.log_evidence);
    if (r.set_aside) ++aside;
    if (!r.break_point) continue;
    ++false_breaks;
    char line[160];
    std::snprintf(line, sizeof line, "  false break: seed %d, evidence %.1f, %.1f degrees",
                  10000 + i, r.log_evidence, r.break_point->size.deg());
    lines.emplace_back(line);
  }
  std::printf(
      "%d trials without a drift: %d false breaks (%.1f %%), %d set aside; evidence median "
      "%.1f, 98 %% %.1f, greatest %.1f\n",
      trials, false_breaks, 100.0 * false_breaks / trials, aside, Quantile(evidence, 0.5),
      Quantile(evidence, 0.98), Quantile(evidence, 1));
  for (const std::string& line : lines) std::puts(line.c_str());
  return evidence;
}

void WithDrift(int trials) {
  Errors breaks;
  Errors recoveries;
  int named = 0;
  int misnamed = 0;
  int found = 0;
  std::vector<std::string> lines;
  for (int i = 0; i < trials; ++i) {
    const auto seed = static_cast<std::uint64_t>(i);
    const VergencePatient patient = DrawPatient(seed, true);
    const VergenceTrial trial = SimulateVergence(patient, seed);
    const ObjectiveResult r = AnalyseVergence(trial.samples);
    char line[200];
    if (!r.break_point) {
      std::snprintf(line, sizeof line,
                    "  missed: seed %d, %.1f degrees at %.0f mm, %.0f frames/s, evidence %.1f%s", i,
                    patient.drift_deg, *patient.break_mm, patient.frames_per_second, r.log_evidence,
                    r.set_aside ? ", set aside" : "");
      lines.emplace_back(line);
      continue;
    }
    ++found;
    breaks.Add(*r.break_point, ToMilliseconds(*trial.truth.break_time),
               trial.truth.break_distance->mm());
    if (std::abs(breaks.time_ms.back()) > 150) {
      std::snprintf(line, sizeof line,
                    "  moment off by %.0f ms (stated %.0f): seed %d, %.1f degrees at %.0f mm, %.0f "
                    "frames/s",
                    breaks.time_ms.back(), ToMilliseconds(r.break_point->time_sd), i,
                    patient.drift_deg, *patient.break_mm, patient.frames_per_second);
      lines.emplace_back(line);
    }
    const DriftingEye truth = patient.left_eye_drifts ? DriftingEye::kLeft : DriftingEye::kRight;
    if (r.eye == truth) ++named;
    if (r.eye != truth && r.eye != DriftingEye::kUnclear) ++misnamed;
    if (r.recovery && trial.truth.recovery_time) {
      recoveries.Add(*r.recovery, ToMilliseconds(*trial.truth.recovery_time),
                     trial.truth.recovery_distance->mm());
    }
  }
  std::printf(
      "%d trials with a drift of 5 to 12 degrees: found %d (%.1f %%); eye named rightly %d, "
      "wrongly %d, left open %d\n",
      trials, found, 100.0 * found / trials, named, misnamed, found - named - misnamed);
  breaks.Print("break", trials);
  recoveries.Print("recovery", trials);
  for (const std::string& line : lines) std::puts(line.c_str());
}

constexpr std::array<double, 6> kBreaksMm = {50, 70, 90, 110, 130, 150};
constexpr std::array<double, 9> kDriftsDeg = {1.5, 2, 2.5, 3, 4, 5, 6, 8, 12};

void ReceiverCurve(const std::vector<double>& without, int per_cell) {
  const std::array<double, 4> thresholds = {nearpoint::DriftOptions{}.threshold,
                                            Quantile(without, 0.99), Quantile(without, 0.98),
                                            Quantile(without, 0.95)};
  std::printf(
      "\nShare found (%%), by size of the drift (rows) and distance of the break (columns), "
      "%d trials a cell,\nat the threshold in use; then the share over all distances at "
      "thresholds with 1, 2 and 5 %% false alarms (%.1f, %.1f, %.1f)\n         ",
      per_cell, thresholds[1], thresholds[2], thresholds[3]);
  for (const double mm : kBreaksMm) std::printf("%5.0f mm", mm);
  std::printf("     1 %%    2 %%    5 %%   moment within 150 ms, eye named rightly, wrongly\n");
  for (const double drift : kDriftsDeg) {
    std::printf("%5.1f deg", drift);
    std::array<int, 4> hits{};
    int in_time = 0;
    int named = 0;
    int misnamed = 0;
    int found = 0;
    for (const double mm : kBreaksMm) {
      int here = 0;
      for (int i = 0; i < per_cell; ++i) {
        const auto seed = static_cast<std::uint64_t>(20000 + i);
        VergencePatient patient = DrawPatient(seed, true);
        patient.drift_deg = drift;
        patient.recovery_mm += mm - *patient.break_mm;
        patient.break_mm = mm;
        patient.nearest_mm = std::min(60.0, mm - 8);
        const VergenceTrial trial = SimulateVergence(patient, seed);
        const ObjectiveResult r = AnalyseVergence(trial.samples);
        for (std::size_t k = 0; k < thresholds.size(); ++k) {
          if (r.log_evidence >= thresholds[k]) ++hits[k];
        }
        if (!r.break_point) continue;
        ++here;
        ++found;
        const double off =
            ToMilliseconds(r.break_point->time) - ToMilliseconds(*trial.truth.break_time);
        if (std::abs(off) <= 150) ++in_time;
        const DriftingEye truth =
            patient.left_eye_drifts ? DriftingEye::kLeft : DriftingEye::kRight;
        if (r.eye == truth) ++named;
        if (r.eye != truth && r.eye != DriftingEye::kUnclear) ++misnamed;
      }
      std::printf("%8.0f", 100.0 * here / per_cell);
    }
    const double all = per_cell * static_cast<double>(kBreaksMm.size());
    for (std::size_t k = 1; k < hits.size(); ++k) std::printf("%7.0f", 100.0 * hits[k] / all);
    const double of = std::max(found, 1);
    std::printf("   %5.0f %5.0f %5.0f\n", 100.0 * in_time / of, 100.0 * named / of,
                100.0 * misnamed / of);
    std::fflush(stdout);
  }
}

// One condition made worse at a time, from a middling trial.
void WhereItFails(int trials) {
  struct Condition {
    const char* name;
    void (*change)(VergencePatient&);
  };
  const std::array<Condition, 13> conditions = {{
      {"as drawn", [](VergencePatient&) {}},
      {"white noise 1 degree", [](VergencePatient& p) { p.white_deg = 1; }},
      {"white noise 2 degrees", [](VergencePatient& p) { p.white_deg = 2; }},
      {"slow offsets 3 degrees", [](VergencePatient& p) { p.place_offset_deg = 3; }},
      {"wander 1.5 degrees", [](VergencePatient& p) { p.wander_deg = 1.5; }},
      {"yaw error 4 degrees", [](VergencePatient& p) { p.yaw_error_deg = 4; }},
      {"10 blinks", [](VergencePatient& p) { p.blinks = 10; }},
      {"5 gaps", [](VergencePatient& p) { p.gaps = 5; }},
      {"10 saccades", [](VergencePatient& p) { p.saccades = 10; }},
      {"4 looks at the keyboard", [](VergencePatient& p) { p.keyboard_glances = 4; }},
      {"4 head turns", [](VergencePatient& p) { p.head_turns = 4; }},
      {"the drifted eye stays", [](VergencePatient& p) { p.drifted_eye_stays = true; }},
      {"ramp of 1.5 s", [](VergencePatient& p) { p.drift_ramp_s = p.return_ramp_s = 1.5; }},
  }};
  std::printf(
      "\nWhere it fails: %d trials each, drift 5 to 12 degrees; found, moment within 150 ms, "
      "eye named rightly and wrongly, and false breaks without a drift (%%)\n",
      trials);
  for (const Condition& condition : conditions) {
    int found = 0;
    int in_time = 0;
    int named = 0;
    int misnamed = 0;
    int false_breaks = 0;
    for (int i = 0; i < trials; ++i) {
      const auto seed = static_cast<std::uint64_t>(30000 + i);
      for (const bool breaks : {true, false}) {
        VergencePatient patient = DrawPatient(seed, breaks);
        condition.change(patient);
        const VergenceTrial trial = SimulateVergence(patient, seed);
        const ObjectiveResult r = AnalyseVergence(trial.samples);
        if (!r.break_point) continue;
        if (!breaks) {
          ++false_breaks;
          continue;
        }
        ++found;
        const double off =
            ToMilliseconds(r.break_point->time) - ToMilliseconds(*trial.truth.break_time);
        if (std::abs(off) <= 150) ++in_time;
        const DriftingEye truth =
            patient.left_eye_drifts ? DriftingEye::kLeft : DriftingEye::kRight;
        if (r.eye == truth) ++named;
        if (r.eye != truth && r.eye != DriftingEye::kUnclear) ++misnamed;
      }
    }
    const double part = 100.0 / trials;
    std::printf("%-26s %6.1f %6.1f %6.1f %6.1f %6.1f\n", condition.name, part * found,
                part * in_time, part * named, part * misnamed, part * false_breaks);
    std::fflush(stdout);
  }
}

// As far as the trial of somebody who reports nothing goes: 4 cm behind the turn
// (FlowRules::turned).
void CutBehindTurn(std::vector<nearpoint::DistanceSample>& samples) {
  constexpr double kTurnedMm = 40;
  double nearest = 1e9;
  const auto end = std::ranges::find_if(samples, [&](const nearpoint::DistanceSample& s) {
    if (!s.distance) return false;
    nearest = std::min(nearest, s.distance->value.mm());
    return s.distance->value.mm() - nearest >= kTurnedMm;
  });
  samples.erase(end, samples.end());
}

// Somebody who says nothing and turns round early: nothing but the turn is seen of the way back, so
// that an eye that left shortly before it never returns within the trial.
void WhoTurnsRoundSilently(int trials) {
  std::printf(
      "\nSilent, the trial ends 4 cm behind the turn: %d trials each; false breaks without a "
      "drift, "
      "of them within 4 cm of the turn, and drifts found that began 3 cm before it (%%)\n",
      trials);
  for (const double nearest : {60.0, 100.0, 150.0, 200.0, 250.0}) {
    int false_breaks = 0;
    int at_turn = 0;
    int found = 0;
    for (int i = 0; i < trials; ++i) {
      const auto seed = static_cast<std::uint64_t>(40000 + i);
      for (const bool breaks : {false, true}) {
        VergencePatient patient = DrawPatient(seed, breaks);
        patient.nearest_mm = nearest;
        patient.turns_when_double = false;
        if (breaks) {
          patient.break_mm = nearest + 30;
          patient.recovery_mm = nearest + 60;
        }
        VergenceTrial trial = SimulateVergence(patient, seed);
        CutBehindTurn(trial.samples);
        const ObjectiveResult r = AnalyseVergence(trial.samples);
        if (!r.break_point) continue;
        if (breaks) {
          ++found;
          continue;
        }
        ++false_breaks;
        if (r.break_point->distance && r.break_point->distance->value.mm() - nearest < 40) {
          ++at_turn;
        }
      }
    }
    const double part = 100.0 / trials;
    std::printf("turns at %3.0f mm %6.1f %6.1f %6.1f\n", nearest, part * false_breaks,
                part * at_turn, part * found);
    std::fflush(stdout);
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int trials = argc > 1 ? std::atoi(argv[1]) : 200;
  const int per_cell = argc > 2 ? std::atoi(argv[2]) : 40;
  if (trials < 1 || per_cell < 0) {
    std::fputs("usage: drift_roc [TRIALS] [TRIALS_PER_CELL]\n", stderr);
    return 2;
  }
  const std::vector<double> without = WithoutDrift(trials);
  WithDrift(trials);
  if (per_cell == 0) return 0;
  ReceiverCurve(without, per_cell);
  WhereItFails(per_cell);
  WhoTurnsRoundSilently(5 * per_cell);
  return 0;
}
