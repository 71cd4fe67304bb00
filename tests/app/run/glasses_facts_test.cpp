#include "app/run/glasses_facts.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

FaceScale With(std::optional<bool> worn, std::optional<bool> scale_with) {
  FaceScale face;
  face.glasses = Glasses();
  face.glasses->worn = worn;
  face.glasses->right = face.glasses->left = LensPrescription();
  face.measured_with_glasses = scale_with;
  return face;
}

TEST(GlassesCautions, AreNoneWhereNothingIsAmiss) {
  EXPECT_THAT(GlassesCautions({}), IsEmpty());
  EXPECT_THAT(GlassesCautions(With(false, false)), IsEmpty());
  EXPECT_THAT(GlassesCautions(With(true, true)), IsEmpty());
}

TEST(GlassesCautions, SayWhenTheScaleBelongsToTheOtherState) {
  EXPECT_THAT(GlassesCautions(With(false, true)), ElementsAre(HasSubstr("--glasses off")));
  EXPECT_THAT(GlassesCautions(With(true, false)), ElementsAre(HasSubstr("without glasses")));
}

TEST(GlassesCautions, SayWhatIsNotKnownOfTheLenses) {
  FaceScale face = With(true, true);
  face.glasses->left.reset();
  EXPECT_THAT(GlassesCautions(face), ElementsAre(HasSubstr("strength is not known")));
  EXPECT_THAT(GlassesCautions(With(std::nullopt, std::nullopt)),
              ElementsAre(HasSubstr("not said")));
  face = With(true, true);
  face.glasses->addition = UncertainPower{Diopters::Of(2), Diopters::Of(0.25)};
  face.glasses->right->cylinder.value = Diopters::Of(-2);
  face.glasses->left->base_out = PrismDiopters::Of(3);
  EXPECT_THAT(GlassesCautions(face),
              ElementsAre(HasSubstr("addition"), HasSubstr("cylinder"), HasSubstr("prism")));
}

TEST(LensesSeenSentence, SaysWhatTheFramesToldOfLensesThatNobodyGave) {
  const LensEstimate right{-3.04, 0.4}, left{-2.5, 0.6};
  EXPECT_EQ(LensesSeenSentence({}, std::nullopt, std::nullopt), "");
  EXPECT_EQ(LensesSeenSentence(With(true, true), right, left), "");
  EXPECT_THAT(LensesSeenSentence({}, right, left),
              testing::AllOf(HasSubstr("-3.0 (right) and -2.5 dioptres (left)"), HasSubstr("+-1.2"),
                             HasSubstr("nobody said")));
  FaceScale unknown = With(true, true);
  unknown.glasses->left.reset();
  EXPECT_THAT(LensesSeenSentence(unknown, right, left), testing::Not(HasSubstr("nobody said")));
}

// A person keeps their glasses when their face is measured anew.
TEST(NewScale, KeepsTheGlasses) {
  FaceScale measured;
  measured.iris = UncertainLength{Length::Millimeters(11.5), Length::Millimeters(0.1)};
  const FaceScale scale = NewScale(With(true, false), measured, true);
  EXPECT_EQ(scale.iris->value.mm(), 11.5);
  EXPECT_EQ(scale.glasses->worn, true);
  EXPECT_EQ(scale.measured_with_glasses, true);
}

}  // namespace
}  // namespace nearpoint
