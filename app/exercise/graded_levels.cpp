#include "app/exercise/graded_levels.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"

namespace nearpoint {
namespace {

std::string Mm(double mm) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f mm", mm);
  return text;
}

tl::unexpected<Error> Bad(std::string sentence) {
  return Fail(ErrorCode::kBadValue, std::move(sentence));
}

bool Positive(double value) { return std::isfinite(value) && value > 0; }
bool Deviation(Length sd) { return std::isfinite(sd.mm()) && sd.mm() >= 0; }

Result<void> CheckView(const PairView& view, const PairSurface& surface,
                       const LevelLimits& limits) {
  if (!Positive(view.pupils.value.mm()) || !Deviation(view.pupils.sd)) {
    return Bad("The pupil distance is not known; expected a length above 0 mm.");
  }
  if (!Positive(view.screen.value.mm()) || !Deviation(view.screen.sd)) {
    return Bad("The distance to the screen is not known; expected a length above 0 mm.");
  }
  if (!Positive(surface.mm_per_dot)) {
    return Bad("The size of a screen dot is not known; expected millimetres above 0.");
  }
  if (!Positive(surface.width.mm()) || !Positive(limits.figure.mm())) {
    return Bad("The width of the screen or of a figure is not known; expected more than 0 mm.");
  }
  return {};
}

Length WidestSeparation(const PairSurface& surface, const LevelLimits& limits) {
  const double dots = std::floor((surface.width - limits.figure).mm() / surface.mm_per_dot + 1e-9);
  return Length::Millimeters(dots * surface.mm_per_dot);
}

}  // namespace

Result<PairLevel> MakeLevel(const PairView& view, const PairSurface& surface,
                            const LevelLimits& limits, Length fixation_from_cornea) {
  if (const auto fine = CheckView(view, surface, limits); !fine) {
    return tl::unexpected(fine.error());
  }
  const Length p = view.pupils.value;
  const Length screen = view.screen.value;
  const Length fixation = fixation_from_cornea + kCorneaToRotation;
  const std::string what = "A pair for " + Mm(fixation_from_cornea.mm()) + " ";
  if (!std::isfinite(fixation.mm()) || fixation < limits.nearest) {
    return Bad(what + "is too near; expected at least " +
               Mm((limits.nearest - kCorneaToRotation).mm()) + " from the eyes.");
  }
  if (fixation >= screen) {
    return Bad(what + "lies behind the screen, which is " + Mm((screen - kCorneaToRotation).mm()) +
               " away; expected a nearer distance.");
  }
  PairLevel level;
  level.asked = fixation_from_cornea;
  level.separation_dots =
      static_cast<int>(std::lround(PairSeparation(p, fixation, screen).mm() / surface.mm_per_dot));
  level.separation = Length::Millimeters(level.separation_dots * surface.mm_per_dot);
  if (level.separation > WidestSeparation(surface, limits)) {
    return Bad(what + "needs " + Mm((level.separation + limits.figure).mm()) +
               " of width; there are only " + Mm(surface.width.mm()) + ".");
  }
  level.extra = ExtraAngle(p, level.separation, screen);
  if (level.extra < limits.least_extra) {
    return Bad(what +
               "asks for hardly more than looking at the screen; expected a nearer "
               "distance.");
  }
  if (level.separation < limits.figure) {
    return Bad(what + "would have its two figures overlap; expected a nearer distance.");
  }
  // dd/ds = -d / (p + s).
  if (surface.mm_per_dot / (p + level.separation).mm() > limits.greatest_dot_share) {
    return Bad(what + "cannot be placed finely enough; expected smaller screen dots.");
  }
  level.fixation = FusionDistance(view.pupils, level.separation, view.screen);
  level.fixation.value = level.fixation.value - kCorneaToRotation;
  level.angle = PairAngle(p, level.separation, screen);
  level.demand = PairDemand(p, level.separation, screen);
  level.extra_demand = ExtraDemand(level.separation, screen);
  return level;
}

Result<GradedLevels> MakeLevels(const PairView& view, const PairSurface& surface,
                                const LevelLimits& limits,
                                std::span<const Length> fixations_from_cornea) {
  if (const auto fine = CheckView(view, surface, limits); !fine) {
    return tl::unexpected(fine.error());
  }
  GradedLevels graded;
  for (const Length distance : fixations_from_cornea) {
    auto level = MakeLevel(view, surface, limits, distance);
    if (level) {
      graded.levels.push_back(*level);
    } else {
      graded.notes.push_back(level.error().message);
    }
  }
  std::ranges::stable_sort(graded.levels, {}, &PairLevel::separation_dots);
  graded.levels.erase(std::unique(graded.levels.begin(), graded.levels.end(),
                                  [](const PairLevel& a, const PairLevel& b) {
                                    return a.separation_dots == b.separation_dots;
                                  }),
                      graded.levels.end());
  for (std::size_t i = 0; i < graded.levels.size(); ++i) {
    graded.levels[i].number = static_cast<int>(i) + 1;
  }
  if (graded.levels.empty()) {
    return Fail(ErrorCode::kInsufficient,
                graded.notes.empty()
                    ? "No distance was asked for; expected at least one for the pairs."
                    : "None of the pairs can be shown here. " + graded.notes.front());
  }
  return graded;
}

std::vector<Length> EvenDistances(const PairView& view, const PairSurface& surface,
                                  const LevelLimits& limits, int count) {
  if (!CheckView(view, surface, limits) || count < 1) return {};
  const Length p = view.pupils.value;
  const Length screen = view.screen.value;
  // s for the least extra angle: (p + s) / 2D = tan(base / 2 + extra / 2). A dot more, since
  // rounding must not fall below the limit.
  const double half = PairAngle(p, Length(), screen).rad() / 2 + limits.least_extra.rad() / 2;
  const Length dot = Length::Millimeters(surface.mm_per_dot);
  const Length least = std::max(2 * std::tan(half) * screen - p, limits.figure) + dot;
  const Length most =
      std::min(WidestSeparation(surface, limits), PairSeparation(p, limits.nearest, screen)) - dot;
  std::vector<Length> distances;
  if (most < least) return distances;
  for (int i = 0; i < count; ++i) {
    const double share = count == 1 ? 0 : static_cast<double>(i) / (count - 1);
    const Length s = least + (most - least) * share;
    distances.push_back(FusionDistance(p, s, screen) - kCorneaToRotation);
  }
  return distances;
}

Length VisibleDetail(const PairView& view, const PairSurface& surface, Angle angle) {
  return std::max(view.screen.value * std::tan(angle.rad()),
                  Length::Millimeters(2 * surface.mm_per_dot));
}

}  // namespace nearpoint
