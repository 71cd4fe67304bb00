#include "app/measure/norms.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace nearpoint {
namespace {

constexpr double kOldestStudied =
    60;  // the near point recedes with age, more so beyond 60 (Eye 2021, s41433-021-01428-x)

MeanAndSd Centimeters(double mean, std::optional<double> sd = std::nullopt) {
  MeanAndSd result{.mean = Length::Centimeters(mean), .sd = std::nullopt};
  if (sd) result.sd = Length::Centimeters(*sd);
  return result;
}

std::vector<Norm> MakeNorms() {
  constexpr std::string_view kHayes = "Hayes et al., Optom Vis Sci 1998;75:506-512";
  constexpr std::string_view kGrades = "The age band is that of the school grade.";
  std::vector<Norm> norms;
  const auto add = [&norms](std::string_view id, std::string_view name, std::string_view source,
                            double from, double to, std::vector<TargetType> targets,
                            std::string_view note) -> Norm& {
    Norm norm;
    norm.id = id;
    norm.name = name;
    norm.source = source;
    norm.age_from = from;
    norm.age_to = to;
    norm.targets = std::move(targets);
    norm.note = note;
    return norms.emplace_back(std::move(norm));
  };

  Norm& adults =
      add("scheiman-2003", "Adults, 5 cm and 7 cm", "Scheiman et al., Optom Vis Sci 2003;80(3)", 18,
          kOldestStudied, {TargetType::kAccommodative, TargetType::kLight},
          "A light counts with red and green filters. Not for people over 60.");
  adults.break_limit = Length::Centimeters(5);
  adults.recovery_limit = Length::Centimeters(7);

  Norm& citt = add("citt", "Children, 6 cm",
                   "Convergence Insufficiency Treatment Trial, eligibility: break 6 cm or more", 9,
                   17, {TargetType::kAccommodative},
                   "The trial's rule rests on the forehead; taken as the spectacle plane.");
  citt.plane = ReferencePlane::kSpectacle;
  citt.break_limit = Length::Centimeters(6);

  Norm& hayes = add("hayes-1998", "Schoolchildren, 6 cm", kHayes, 5, 12,
                    {TargetType::kAccommodative}, kGrades);
  hayes.break_limit = Length::Centimeters(6);

  Norm& kindergarten = add("hayes-1998-kindergarten", "Kindergarten, means", kHayes, 5, 6,
                           {TargetType::kAccommodative}, kGrades);
  kindergarten.break_mean = Centimeters(3.3, 2.6);
  kindergarten.recovery_mean = Centimeters(7.3, 4.8);
  Norm& third = add("hayes-1998-grade-3", "Grade 3, means", kHayes, 8, 9,
                    {TargetType::kAccommodative}, kGrades);
  third.break_mean = Centimeters(4.1, 2.4);
  third.recovery_mean = Centimeters(8.7, 4.2);
  Norm& sixth = add("hayes-1998-grade-6", "Grade 6, means", kHayes, 11, 12,
                    {TargetType::kAccommodative}, kGrades);
  sixth.break_mean = Centimeters(4.3, 3.4);
  sixth.recovery_mean = Centimeters(7.2, 3.9);

  Norm& maples = add(
      "maples-2007", "Schoolchildren with symptoms in mind, 5 cm",
      "Maples & Hoenes, Optom Vis Sci 2007;84(3)", 5, 12, {TargetType::kNotStated},
      "The limit that parted children with symptoms. The age band is that of elementary school.");
  maples.break_limit = Length::Centimeters(5);

  Norm& wajuihian = add("wajuihian-2019", "Age 13 to 18, upper end of the normal range",
                        "Wajuihian, J Optom 2019;12:143-160", 13, 18, {TargetType::kNotStated},
                        "Normal range: break 5 to 10 cm, recovery 6 to 13 cm.");
  wajuihian.break_limit = Length::Centimeters(10);
  wajuihian.recovery_limit = Length::Centimeters(13);

  Norm& moon = add("moon-2020", "Young adults, 7.2 cm", "Moon et al., PLoS One 2020;15:e0228313",
                   18, 28, {TargetType::kNotStated},
                   "The limit that best told convergence insufficiency in 184 people.");
  moon.break_limit = Length::Centimeters(7.2);

  Norm& ernst = add("ernst-2020", "Age 10 to 22 after concussion, 5 cm",
                    "Ernst et al., J Athl Train 2020;55(8):850", 10, 22, {TargetType::kNotStated},
                    "From people examined for concussion.");
  ernst.break_limit = Length::Centimeters(5);

  Norm& students = add("students-iran-18-20", "University students of 18 to 20, mean",
                       "PMC6815340, 1357 students", 18, 20, {TargetType::kNotStated},
                       "A mean without its spread.");
  students.break_mean = Centimeters(6.98);
  return norms;
}

bool HoldsFor(const Norm& norm, double age, TargetType target) {
  if (!(age >= norm.age_from && age <= norm.age_to)) return false;
  return std::ranges::any_of(norm.targets, [&](TargetType t) {
    return t == target || t == TargetType::kNotStated || target == TargetType::kNotStated;
  });
}

std::optional<Band> Move(const std::optional<Band>& band, Length shift) {
  if (!band) return std::nullopt;
  Band moved = *band;
  if (moved.value) *moved.value += shift.mm();
  moved.low += shift.mm();
  if (moved.high) *moved.high += shift.mm();
  return moved;
}

Answer Judge(const std::optional<Band>& band, const std::optional<Length>& limit) {
  if (!band || !limit) return Answer::kCannotTell;
  if (band->low > limit->mm()) return Answer::kBeyond;
  if (band->high && *band->high < limit->mm()) return Answer::kWithin;
  return Answer::kCannotTell;
}

std::optional<double> Deviations(const std::optional<Band>& band,
                                 const std::optional<MeanAndSd>& mean) {
  if (!band || !band->value || !mean || !mean->sd) return std::nullopt;
  return (*band->value - mean->mean.mm()) / mean->sd->mm();
}

}  // namespace

std::string_view ToText(TargetType target) {
  switch (target) {
    case TargetType::kNotStated:
      return "not stated";
    case TargetType::kAccommodative:
      return "accommodative";
    case TargetType::kLight:
      return "light";
  }
  return "";
}

std::span<const Norm> AllNorms() {
  static const std::vector<Norm> norms = MakeNorms();
  return norms;
}

Result<const Norm*> FindNorm(std::string_view id) {
  std::string known;
  for (const Norm& norm : AllNorms()) {
    if (norm.id == id) return &norm;
    known += (known.empty() ? "" : ", ") + std::string(norm.id);
  }
  return Fail(ErrorCode::kNotFound,
              "No norm is called \"" + std::string(id) + "\"; known are " + known + ".");
}

std::vector<const Norm*> NormsFor(double age_years, TargetType target) {
  std::vector<const Norm*> found;
  for (const Norm& norm : AllNorms()) {
    if (HoldsFor(norm, age_years, target)) found.push_back(&norm);
  }
  std::stable_partition(found.begin(), found.end(),
                        [](const Norm* norm) { return norm->break_limit.has_value(); });
  return found;
}

Result<const Norm*> DefaultNorm(double age_years, TargetType target) {
  for (const Norm* norm : NormsFor(age_years, target)) {
    // The usual limits come first in the table; the others are for who asks for them by name.
    if (norm->break_limit &&
        (norm->id == "scheiman-2003" || norm->id == "citt" || norm->id == "hayes-1998")) {
      return norm;
    }
  }
  char age[32];
  std::snprintf(age, sizeof age, "%.0f", age_years);
  return Fail(ErrorCode::kInsufficient, "There is no published limit for age " + std::string(age) +
                                            " with target \"" + std::string(ToText(target)) +
                                            "\"; state a limit of your own or name a norm.");
}

Length BreakLimitIn(const Norm& norm, ReferencePlane plane) {
  return MoveToPlane(norm.break_limit.value_or(Length()),
                     norm.plane.value_or(ReferencePlane::kSpectacle), plane);
}

NormComparison CompareWithNorm(const Estimate& estimate, ReferencePlane plane, const Norm& norm) {
  NormComparison result;
  result.plane = norm.plane.value_or(ReferencePlane::kSpectacle);
  if (!norm.plane) {
    result.cautions.emplace_back(
        "The source does not state its plane; the spectacle plane is assumed.");
  }
  if (std::ranges::find(norm.targets, TargetType::kNotStated) != norm.targets.end()) {
    result.cautions.emplace_back("The source, as read, does not state its target.");
  }
  const Length shift = MoveToPlane(Length(), plane, result.plane);
  result.break_mm = Move(estimate.break_mm, shift);
  result.recovery_mm = Move(estimate.recovery_mm, shift);
  result.break_answer = Judge(result.break_mm, norm.break_limit);
  result.recovery_answer = Judge(result.recovery_mm, norm.recovery_limit);
  result.break_deviations = Deviations(result.break_mm, norm.break_mean);
  result.recovery_deviations = Deviations(result.recovery_mm, norm.recovery_mean);
  return result;
}

}  // namespace nearpoint
