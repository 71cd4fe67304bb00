#include "app/report/trace_svg.h"

#include <gmock/gmock.h>

#include <limits>
#include <vector>

#include "app/report/axis.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

TEST(RoundMarksTest, GivesRoundNumbersInside) {
  EXPECT_THAT(RoundMarks(0, 100, 5), ElementsAre(0, 20, 40, 60, 80, 100));
  EXPECT_THAT(RoundMarks(0, 420, 8), ElementsAre(0, 100, 200, 300, 400));
  EXPECT_THAT(RoundMarks(-1, 1, 4), ElementsAre(-1, -0.5, 0, 0.5, 1));
  EXPECT_THAT(RoundMarks(3, 4, 1), ElementsAre(3, 4));
  EXPECT_THAT(RoundMarks(1, 1, 5), IsEmpty());
  EXPECT_THAT(RoundMarks(2, 1, 5), IsEmpty());
  EXPECT_THAT(RoundMarks(0, std::numeric_limits<double>::infinity(), 5), IsEmpty());
  for (const double high : {0.001, 0.7, 13.0, 99.0, 1e6}) {
    const auto marks = RoundMarks(0, high, 8);
    EXPECT_GE(marks.size(), 4u) << high;
    EXPECT_LE(marks.size(), 16u) << high;
  }
}

std::vector<DistanceSample> Samples(
    std::initializer_list<std::pair<double, double>> seconds_and_mm) {
  std::vector<DistanceSample> samples;
  for (const auto& [seconds, mm] : seconds_and_mm) {
    DistanceSample sample;
    sample.time = FromMilliseconds(1000 * seconds);
    if (mm > 0) sample.distance = UncertainLength{Length::Millimeters(mm), Length::Millimeters(1)};
    samples.push_back(sample);
  }
  return samples;
}

int Count(const std::string& text, const std::string& word) {
  int count = 0;
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++count;
  return count;
}

TracePicture Example(const std::vector<DistanceSample>& samples, const std::vector<Trial>& trials) {
  TracePicture picture;
  picture.title = "A & <B>";
  picture.samples = samples;
  picture.trials = trials;
  picture.estimate.break_mm = Band{80.0, 70, 90, 0.95};
  picture.estimate.cut_off = Length::Millimeters(63.5);
  return picture;
}

TEST(TraceSvgTest, NamesPlaneUnitsAndBand) {
  const auto samples = Samples({{0, 300}, {1, 200}, {2, 100}});
  const std::string svg = TraceSvg(Example(samples, {}));
  EXPECT_THAT(svg, HasSubstr("target distance from the corneal plane, mm"));
  EXPECT_THAT(svg, HasSubstr("time, seconds"));
  EXPECT_THAT(svg, HasSubstr("break 80 mm (95 % band 70 to 90)"));
  EXPECT_THAT(svg, HasSubstr("recovery: no value"));
  EXPECT_THAT(svg, HasSubstr("cut-off 63.5 mm"));
  EXPECT_THAT(svg, HasSubstr("A &amp; &lt;B&gt;"));
}

TEST(TraceSvgTest, InterruptsTheLineWhereNothingIsKnown) {
  const auto whole = Samples({{0, 300}, {0.2, 290}, {0.4, 280}});
  const auto holed = Samples({{0, 300}, {0.2, 290}, {2, 0}, {4, 280}, {4.2, 270}});
  const auto pieces = [](const std::vector<DistanceSample>& samples) {
    const std::string svg = TraceSvg(Example(samples, {}));
    const auto begin = svg.find("<path d=\"M");
    return Count(svg.substr(begin, svg.find('"', begin + 10) - begin), "M");
  };
  EXPECT_EQ(pieces(whole), 1);
  EXPECT_EQ(pieces(holed), 2);
}

TEST(TraceSvgTest, MarksTrialsByWhatTheyAre) {
  const auto samples = Samples({{0, 300}, {10, 60}, {20, 300}});
  Trial trial;
  trial.number = 1;
  trial.end = FromMilliseconds(20000);
  trial.break_point =
      EventDistance{FromMilliseconds(9000), {Length::Millimeters(80), Length()}, {}, {}};
  const std::string counted = TraceSvg(Example(samples, {trial}));
  EXPECT_THAT(counted, HasSubstr("trial 1<"));
  trial.set_aside = SetAside::kTooFast;
  EXPECT_THAT(TraceSvg(Example(samples, {trial})), HasSubstr("trial 1, set aside"));
  trial.set_aside.reset();
  trial.break_point.reset();
  trial.censored = Censoring::kBelow;
  trial.limit = Length::Millimeters(55);
  EXPECT_THAT(TraceSvg(Example(samples, {trial})), HasSubstr("at most 55"));
}

TEST(TraceSvgTest, MarksWhatTheEyesSaidByShapeAndNamesIt) {
  const auto samples = Samples({{0, 300}, {10, 60}, {20, 300}});
  Trial trial;
  trial.end = FromMilliseconds(20000);
  const std::vector<Trial> trials{trial};
  TracePicture picture = Example(samples, trials);
  EXPECT_THAT(TraceSvg(picture), Not(HasSubstr("seen in the eyes")));
  EXPECT_EQ(Count(TraceSvg(picture), "class=\"eye\""), 0);

  const TraceMark at_break{FromMilliseconds(8000), Length::Millimeters(90)};
  const TraceMark at_recovery{FromMilliseconds(13000), Length::Millimeters(120)};
  picture.eyes = {{at_break, at_recovery}};
  const std::string both = TraceSvg(picture);
  EXPECT_THAT(both, HasSubstr("break seen in the eyes"));
  EXPECT_THAT(both, HasSubstr("recovery seen in the eyes"));
  EXPECT_EQ(Count(both, "class=\"eye\""), 4);  // two on the line, two in the legend
  // Down from the line and filled, up from it and open: colour is not needed.
  EXPECT_EQ(Count(both, "l5 6 l-5 6 l-5 -6 z"), 2);
  EXPECT_EQ(Count(both, "l5 -6 l-5 -6 l-5 6 z"), 2);
  picture.eyes = {{at_break, std::nullopt}};
  EXPECT_EQ(Count(TraceSvg(picture), "class=\"eye\""), 3);
}

TEST(TraceSvgTest, CountsFromTheChosenPlane) {
  const auto samples = Samples({{0, 300}, {1, 200}});
  Trial trial;
  trial.censored = Censoring::kBelow;
  trial.limit = Length::Millimeters(63.5);
  TracePicture picture = Example(samples, {});
  const std::vector<Trial> trials{trial};
  picture.trials = trials;
  picture.plane = ReferencePlane::kSpectacle;
  const std::string svg = TraceSvg(picture);
  EXPECT_THAT(svg, HasSubstr("from the spectacle plane, mm"));
  EXPECT_THAT(svg, HasSubstr("at most 50"));  // 13.5 mm less
}

TEST(TraceSvgTest, SaysSoWhenThereIsNothingToDraw) {
  const std::string svg = TraceSvg(TracePicture{});
  EXPECT_THAT(svg, HasSubstr("no distance was measured"));
  EXPECT_THAT(svg, Not(HasSubstr("nan")));
  EXPECT_THAT(svg, Not(HasSubstr("inf")));
}

}  // namespace
}  // namespace nearpoint
