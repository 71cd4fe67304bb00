// One exercise from the first look at the screen to the last repetition: finds how far the person
// sits, chooses the pair, counts, and writes every attempt to the store the moment it ends. No
// widgets.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/exercise/graded_levels.h"
#include "app/exercise/repetition_counter.h"
#include "app/exercise/summary.h"
#include "app/store/exercise_store.h"
#include "app/window/app_context.h"
#include "app/window/exercise/dot_size.h"

namespace nearpoint {

class ExerciseSession {
 public:
  // day: today by the local calendar.
  ExerciseSession(AppContext& context, Day day);

  [[nodiscard]] const ExercisePlan& plan() const { return plan_; }
  // The number of the plan's distance that today begins with, or that is shown now.
  [[nodiscard]] int level() const { return level_; }
  // Another level of the plan, for today. False when there is none.
  bool ChangeLevel(int level);
  // What the store could not give; the exercise goes on without it.
  [[nodiscard]] const std::optional<Error>& error() const { return error_; }

  // What the figures are shown on. The width may change with the window.
  void SetSurface(const PairSurface& surface, double relative_sd);
  [[nodiscard]] double figure_dots() const;

  // What the tracker is to be given for this exercise: its target lies before the screen. From then
  // on distances are taken to the screen and not to that target.
  [[nodiscard]] Profile TrackerProfile();
  // And that the eyes may look as near as the nearest pair asks.
  [[nodiscard]] TrackerOptions Tracking() const;

  // Samples and reports as for the counter, on the clock of the source, which may begin anew. Until
  // the distance is found there is no counter.
  CounterUpdate OnSample(const DistanceSample& sample);
  CounterUpdate OnReport(FusionReport report, Time time);
  // The source broke off, or the person stops: an attempt under way ends.
  CounterUpdate Interrupt();
  void End(const QString& comfort);

  // nullopt while the distance to the screen is being found.
  [[nodiscard]] const std::optional<PairLevel>& pair() const { return pair_; }
  [[nodiscard]] const RepetitionCounter* counter() const { return counter_ ? &*counter_ : nullptr; }
  // Why no pair can be shown from here.
  [[nodiscard]] const std::string& trouble() const { return trouble_; }
  [[nodiscard]] ExerciseSummary summary() const;
  [[nodiscard]] const std::vector<Attempt>& attempts() const { return attempts_; }
  // 0 until the store has it.
  [[nodiscard]] RowId id() const { return *id_; }
  [[nodiscard]] PairView view() const;

 private:
  void FindDistance(const DistanceSample& sample);
  // The plan's distance of level_, or the nearest to it in the list that can be shown here.
  void ChoosePair(Time now);
  CounterUpdate Keep(CounterUpdate update);
  [[nodiscard]] LevelLimits Limits() const;

  AppContext& context_;
  ExerciseStore store_;
  ExercisePlan plan_;
  Day day_;
  int level_ = 1;
  PairSurface surface_;
  double surface_relative_sd_ = 0;
  std::vector<double> distances_mm_;  // corneal plane to screen, of the last second or so
  std::optional<Eigen::Vector3d> screen_in_camera_mm_;
  std::optional<Length> screen_;  // from the centres of rotation, as the pair was chosen for
  Length screen_sd_;
  std::optional<PairLevel> pair_;
  std::optional<RepetitionCounter> counter_;
  std::vector<Attempt> attempts_;
  std::string trouble_;
  std::optional<Error> error_;
  bool begun_ = false;                                      // an attempt was made
  std::shared_ptr<RowId> id_ = std::make_shared<RowId>(0);  // shared by what waits to be written
  Time last_{};                                             // of the session's own clock
  Time shift_{};                                            // from the source's clock to it
};

}  // namespace nearpoint
