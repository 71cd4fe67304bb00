#include "app/measure/stopping.h"

#include <gtest/gtest.h>

#include <vector>

namespace nearpoint {
namespace {

Trial At(int number, double break_mm) {
  Trial trial;
  trial.number = number;
  EventDistance at;
  at.value = {Length::Millimeters(break_mm), Length::Millimeters(1)};
  trial.break_point = at;
  return trial;
}

Trial ToTheNose(int number, double limit_mm) {
  Trial trial;
  trial.number = number;
  trial.censored = Censoring::kBelow;
  trial.limit = Length::Millimeters(limit_mm);
  return trial;
}

EstimateOptions CutOff(double mm) {
  EstimateOptions options;
  options.cut_off = Length::Millimeters(mm);
  return options;
}

TEST(Stopping, GoesOnUntilTheLeastNumber) {
  const std::vector<Trial> two = {At(1, 200), At(2, 202)};
  EXPECT_EQ(AdviseNextStep(two, {}, CutOff(60)).advice, Advice::kContinue);
  EXPECT_EQ(AdviseNextStep({}, {}, CutOff(60)).advice, Advice::kContinue);
}

TEST(Stopping, StopsWithAnAnswer) {
  const std::vector<Trial> far = {At(1, 120), At(2, 125), At(3, 118)};
  const NextStep next = AdviseNextStep(far, {}, CutOff(60));
  EXPECT_EQ(next.advice, Advice::kAnswered);
  EXPECT_EQ(next.estimate.answer, Answer::kBeyond);
  EXPECT_EQ(next.chance_of_answer, 1);
}

TEST(Stopping, GoesOnWhileTheAnswerIsNear) {
  const std::vector<Trial> close = {At(1, 68), At(2, 74), At(3, 62)};
  const NextStep next = AdviseNextStep(close, {}, CutOff(60));
  EXPECT_EQ(next.advice, Advice::kContinue);
  EXPECT_GT(next.chance_of_answer, 0.3);
  EXPECT_LT(next.chance_of_answer, 1);
}

TEST(Stopping, ACalibrationErrorThatRulesIsNotWornDown) {
  SharedCalibration shared;
  shared.offset_sd = Length::Millimeters(15);
  const std::vector<Trial> close = {At(1, 68), At(2, 74), At(3, 62)};
  EXPECT_EQ(AdviseNextStep(close, shared, CutOff(62)).advice, Advice::kCannotChange);
}

TEST(Stopping, TheAgreedNumberIsTheEnd) {
  std::vector<Trial> trials;
  for (int i = 1; i <= 10; ++i) trials.push_back(At(i, i % 2 ? 55 : 65));
  EXPECT_EQ(AdviseNextStep(trials, {}, CutOff(60)).advice, Advice::kMaximum);
  // Trials set aside were made all the same.
  for (Trial& t : trials) t.set_aside = SetAside::kTooFast;
  const NextStep next = AdviseNextStep(trials, {}, CutOff(60));
  EXPECT_EQ(next.advice, Advice::kMaximum);
  EXPECT_EQ(next.chance_of_answer, 0);
}

TEST(Stopping, BoundsThatReachTheCutOffGoOnAndOthersStop) {
  const std::vector<Trial> well_inside = {ToTheNose(1, 45), ToTheNose(2, 45), ToTheNose(3, 45)};
  EXPECT_EQ(AdviseNextStep(well_inside, {}, CutOff(63.5)).advice, Advice::kAnswered);
  // The shortest distance is beyond the cut-off: no number of bounds can tell.
  EXPECT_EQ(AdviseNextStep(well_inside, {}, CutOff(40)).advice, Advice::kCannotChange);
}

}  // namespace
}  // namespace nearpoint
