// Who needs a look, and why. Reasons to look, never findings: what follows from them is for the
// clinician to judge.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "app/clinic/session_digest.h"
#include "app/exercise/plan.h"

namespace nearpoint {

// The most urgent first; the order is this program's own, no source. The number is the place in a
// stored set of reasons and stays.
enum class Reason : std::uint8_t {
  kSymptoms = 0,         // double vision that stayed, or discomfort, after the newest measurement
                         // or exercise; or a symptom score at or beyond its limit
  kWorse = 1,            // farther than earlier by more than repeats give
  kBeyond = 2,           // the band lies beyond the cut-off
  kDisagreement = 3,     // report and eyes tell different stories
  kPoorQuality = 4,      // too little to rest on
  kExerciseStopped = 5,  // the plan asks for it and it is not done any more
  kMeasureDue = 6,       // the plan asked for a measurement that has not come
};
inline constexpr int kReasonCount = 7;

class Reasons {
 public:
  void Add(Reason reason) { bits_ |= Bit(reason); }
  void Add(Reasons other) { bits_ |= other.bits_; }
  void Remove(Reason reason) { bits_ &= ~Bit(reason); }
  [[nodiscard]] bool Has(Reason reason) const { return (bits_ & Bit(reason)) != 0; }
  [[nodiscard]] bool empty() const { return bits_ == 0; }
  [[nodiscard]] std::vector<Reason> List() const;  // the most urgent first
  // A greater number needs a look sooner: the most urgent reason decides, then the next.
  [[nodiscard]] std::uint32_t urgency() const { return bits_; }
  // As it is stored; bits of a newer program are dropped.
  [[nodiscard]] std::uint32_t stored() const { return bits_; }
  [[nodiscard]] static Reasons FromStored(std::uint32_t stored);
  friend bool operator==(Reasons, Reasons) = default;

 private:
  static constexpr std::uint32_t Bit(Reason reason) {
    return 1U << (kReasonCount - 1 - static_cast<int>(reason));
  }
  std::uint32_t bits_ = 0;
};

// From the measurements, oldest first; simulated ones are left out. The newest decides; once it is
// accepted, what it says has been seen and gives no reason any more. kWorse holds it against the
// one before it and against the first, each at the same time of day, so about 5 in 100 people
// without any change are listed for it (one side of two comparisons at 95 %).
[[nodiscard]] Reasons ReasonsFromSessions(std::span<const SessionDigest> sessions);

// The stored reasons with kBeyond as the newest measurement has it today: the limit follows the
// age.
[[nodiscard]] Reasons WithLimitOf(const SessionDigest& newest, Reasons stored);

// From what is planned and what was done. Exercise has stopped when nothing was done for
// kDaysWithoutExercise days of a plan that is in force; a measurement is due from the day after its
// date on. What is not newer than the last look at this person gives no reason.
struct PlanState {
  std::optional<ExercisePlan> plan;
  std::optional<Day> last_exercise;  // the newest day on which a repetition counted
  std::optional<Day> last_measured;
  std::string last_comfort;  // what was answered after the newest exercise, on that day
  std::optional<Day> last_comfort_day;
  std::optional<Day> high_score_day;  // of the newest office findings, where SymptomStatus is kMet
  std::optional<Day> seen;            // when a clinician last said that nothing is to do
};
inline constexpr int kDaysWithoutExercise = 10;  // this program's own choice, no source
[[nodiscard]] Reasons ReasonsFromPlan(const PlanState& state, Day today);

}  // namespace nearpoint
