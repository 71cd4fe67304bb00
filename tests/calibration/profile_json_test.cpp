#include "calibration/profile_json.h"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "calibration/print_scale.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

json Good() {
  return json::parse(R"({
    "schema": "nearpoint/profile/1",
    "camera": {"width": 1280, "height": 720, "fx": 1004.6, "fy": 1005.5, "cx": 639.5, "cy": 359.5,
               "distortion": [0.1, -0.2, 0.001, 0.002, 0.05], "focal_rel_sd": 0.003},
    "face": {"outer_corners_mm": 84.7, "outer_corners_mm_sd": 0.8, "inner_corners_mm": 35.1,
             "inner_corners_mm_sd": 0.5, "iris_mm": 11.7, "iris_mm_sd": 0.15, "distance_pd_mm": 62,
             "distance_pd_mm_sd": 0.5, "outer_corner_depth_mm": 9.9, "outer_corner_depth_mm_sd": 1.5,
             "inner_corner_depth_mm": 4.4, "inner_corner_depth_mm_sd": 1.25},
    "target_mm": [1, 20, -3], "target_sd_mm": 1, "lag_ms": 350, "lag_sd_ms": 80})");
}

Result<Profile> Parse(const json& document) { return ParseProfile(document.dump(), "p.json"); }

TEST(ProfileJsonTest, ReadsEveryField) {
  const auto profile = Parse(Good());
  ASSERT_THAT(profile, IsOk());
  EXPECT_EQ(profile->camera.width, 1280);
  EXPECT_EQ(profile->camera.height, 720);
  EXPECT_EQ(profile->camera.fx, 1004.6);
  EXPECT_EQ(profile->camera.fy, 1005.5);
  EXPECT_EQ(profile->camera.cx, 639.5);
  EXPECT_EQ(profile->camera.cy, 359.5);
  EXPECT_THAT(profile->camera.distortion, testing::ElementsAre(0.1, -0.2, 0.001, 0.002, 0.05));
  EXPECT_EQ(profile->camera.focal_rel_sd, 0.003);
  EXPECT_EQ(profile->face.outer_corners->value.mm(), 84.7);
  EXPECT_EQ(profile->face.outer_corners->sd.mm(), 0.8);
  EXPECT_EQ(profile->face.inner_corners->value.mm(), 35.1);
  EXPECT_EQ(profile->face.iris->value.mm(), 11.7);
  EXPECT_EQ(profile->face.distance_pd->value.mm(), 62);
  EXPECT_EQ(profile->face.outer_corner_depth->value.mm(), 9.9);
  EXPECT_EQ(profile->face.inner_corner_depth->sd.mm(), 1.25);
  EXPECT_EQ(profile->target_mm, Eigen::Vector3d(1, 20, -3));
  EXPECT_EQ(profile->target_sd.mm(), 1);
  EXPECT_EQ(profile->lag, FromMilliseconds(350));
  EXPECT_EQ(profile->lag_sd, FromMilliseconds(80));
}

TEST(ProfileJsonTest, GlassesComeBackWithTheirDeviations) {
  EXPECT_FALSE(Parse(Good())->face.glasses.has_value());
  EXPECT_FALSE(json::parse(SerializeProfile(*Parse(Good())))["face"].contains("glasses"));
  json document = Good();
  document["face"]["measured_with_glasses"] = true;
  document["face"]["glasses"] = {
      {"worn", true},
      {"right",
       {{"sphere", -3.5}, {"sphere_sd", 0.1}, {"cylinder", -1.25}, {"axis", 90}, {"base_out", -2}}},
      {"left", nullptr},
      {"addition", 1.5},
      {"vertex_mm", 14},
      {"vertex_mm_sd", 1}};
  const auto first = Parse(document);
  ASSERT_THAT(first, IsOk());
  const auto again = ParseProfile(SerializeProfile(*first), "p.json");
  ASSERT_THAT(again, IsOk());
  for (const Profile& profile : {*first, *again}) {
    EXPECT_EQ(profile.face.measured_with_glasses, true);
    ASSERT_TRUE(profile.face.glasses);
    const Glasses& glasses = *profile.face.glasses;
    EXPECT_EQ(glasses.worn, true);
    EXPECT_FALSE(glasses.left.has_value());
    ASSERT_TRUE(glasses.right);
    EXPECT_EQ(glasses.right->sphere.value.value(), -3.5);
    EXPECT_EQ(glasses.right->sphere.sd.value(), 0.1);
    EXPECT_EQ(glasses.right->cylinder.value.value(), -1.25);
    EXPECT_NEAR(glasses.right->axis->deg(), 90, 1e-9);
    EXPECT_EQ(glasses.right->base_out.value(), -2);
    EXPECT_EQ(glasses.addition->value.value(), 1.5);
    EXPECT_EQ(glasses.addition->sd, kPrescriptionSd);
    EXPECT_EQ(glasses.vertex.value.mm(), 14);
    EXPECT_EQ(glasses.vertex.sd.mm(), 1);
  }
}

TEST(ProfileJsonTest, GlassesThatCannotBeAreRefusedByName) {
  const auto refused = [](const char* field, const json& value) {
    json document = Good();
    document["face"]["glasses"] = {{"worn", true}, {"left", {{"sphere", -2}}}};
    if (std::string(field) == "worn") {
      document["face"]["glasses"]["worn"] = value;
    } else {
      document["face"]["glasses"]["left"][field] = value;
    }
    const auto profile = Parse(document);
    return profile ? std::string() : profile.error().message;
  };
  EXPECT_THAT(refused("worn", "yes"), AllOf(HasSubstr("face.glasses.worn"), HasSubstr("true")));
  EXPECT_THAT(refused("sphere", -300),
              AllOf(HasSubstr("face.glasses.left.sphere"), HasSubstr("dioptres")));
  EXPECT_THAT(refused("axis", 190), HasSubstr("face.glasses.left.axis"));
  EXPECT_THAT(refused("cylindr", -1), HasSubstr("cylinder"));
}

TEST(ProfileJsonTest, AHeldCardComesBackWithItsZero) {
  json document = Good();
  document["setup"] = "held_card";
  document["held_card"] = {
      {"target_in_card_mm", {0, -22, 1.0}}, {"zero_mm", 2.5}, {"zero_mm_sd", 3}};
  const auto profile = Parse(document);
  ASSERT_THAT(profile, IsOk());
  ASSERT_TRUE(profile->held_card.has_value());
  EXPECT_EQ(profile->held_card->target_in_card_mm, Eigen::Vector3d(0, -22, 1));
  EXPECT_EQ(profile->held_card->zero->value.mm(), 2.5);
  EXPECT_EQ(profile->held_card->zero->sd.mm(), 3);
  EXPECT_EQ(json::parse(SerializeProfile(*profile)), document);
}

TEST(ProfileJsonTest, AMeasuredPrintComesBackAndCountsWithItsDay) {
  json document = Good();
  document["print"] = {{"width", 0.998}, {"height", 0.996}, {"rel_sd", 0.003}};
  auto profile = Parse(document);
  ASSERT_THAT(profile, IsOk());
  EXPECT_EQ(json::parse(SerializeProfile(*profile)), document);
  EXPECT_EQ(PrintOf(*profile).sd, kUncheckedPrintSd);  // nobody says when
  EXPECT_EQ(LengthFactor(PrintOf(*profile)), 1);
  profile->made.print = Origin{};
  EXPECT_EQ(PrintOf(*profile).sd, 0.003);
  EXPECT_NEAR(LengthFactor(PrintOf(*profile)), 0.997, 1e-12);
  // Without the size it is somebody's word, and does not come back as a measurement.
  profile->print.reset();
  EXPECT_EQ(PrintOf(*profile).sd, kUncheckedPrintSd);
  const auto word = ParseProfile(SerializeProfile(*profile), "p.json");
  ASSERT_THAT(word, IsOk());
  EXPECT_FALSE(word->made.print);

  document["print"]["width"] = 99.8;
  EXPECT_THAT(Parse(document),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("print.width"), HasSubstr("1 is"))));
  document["print"] = 1;
  EXPECT_THAT(Parse(document), testing::Not(IsOk()));
}

TEST(ProfileJsonTest, LeaningInIsTheSetupWithoutAWord) {
  json document = Good();
  EXPECT_FALSE(Parse(document)->held_card.has_value());
  document["setup"] = "lean_in";
  EXPECT_FALSE(Parse(document)->held_card.has_value());
  document["setup"] = "handheld";
  EXPECT_THAT(Parse(document),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("setup"), HasSubstr("held_card"))));
  document["setup"] = "held_card";  // and no held_card in it
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kNotFound, HasSubstr("held_card")));
}

TEST(ProfileJsonTest, ComesBackAsItWent) {
  const auto profile = Parse(Good());
  ASSERT_THAT(profile, IsOk());
  const std::string text = SerializeProfile(*profile);
  EXPECT_EQ(json::parse(text), Good());
  const auto again = ParseProfile(text, "p.json");
  ASSERT_THAT(again, IsOk());
  EXPECT_EQ(SerializeProfile(*again), text);
}

TEST(ProfileJsonTest, AcceptsNullForAnyFaceValue) {
  for (const char* name : {"outer_corners_mm", "inner_corners_mm", "iris_mm", "distance_pd_mm",
                           "outer_corner_depth_mm", "inner_corner_depth_mm"}) {
    json document = Good();
    document["face"][name] = nullptr;
    EXPECT_THAT(Parse(document), IsOk()) << name;
    document["face"][std::string(name) + "_sd"] = nullptr;
    const auto profile = Parse(document);
    ASSERT_THAT(profile, IsOk()) << name;
    EXPECT_EQ(json::parse(SerializeProfile(*profile)), document);
    document["face"].erase(std::string(name) + "_sd");
    EXPECT_THAT(Parse(document), IsOk()) << name;
  }
}

TEST(ProfileJsonTest, AllowsFieldsOfItsOwn) {
  json document = Good();
  document["made"] = "2026-02-03";
  document["camera"]["name"] = "the left one";
  EXPECT_THAT(Parse(document), IsOk());
}

// Each field of the contract, as the path a person would write.
const std::vector<std::pair<std::string, std::string>> kFields{
    {"", "camera"},
    {"", "face"},
    {"", "target_mm"},
    {"", "target_sd_mm"},
    {"", "lag_ms"},
    {"", "lag_sd_ms"},
    {"camera", "width"},
    {"camera", "height"},
    {"camera", "fx"},
    {"camera", "fy"},
    {"camera", "cx"},
    {"camera", "cy"},
    {"camera", "distortion"},
    {"camera", "focal_rel_sd"},
    {"face", "outer_corners_mm"},
    {"face", "outer_corners_mm_sd"},
    {"face", "inner_corners_mm"},
    {"face", "inner_corners_mm_sd"},
    {"face", "iris_mm"},
    {"face", "iris_mm_sd"},
    {"face", "distance_pd_mm"},
    {"face", "distance_pd_mm_sd"},
    {"face", "outer_corner_depth_mm"},
    {"face", "outer_corner_depth_mm_sd"},
    {"face", "inner_corner_depth_mm"},
    {"face", "inner_corner_depth_mm_sd"}};

// As a message names a field.
std::string PathOf(const std::string& parent, const std::string& name) {
  std::string path = parent;
  if (!path.empty()) path += '.';
  path += name;
  return path;
}

TEST(ProfileJsonTest, NamesEachMissingField) {
  for (const auto& [parent, name] : kFields) {
    json document = Good();
    (parent.empty() ? document : document[parent]).erase(name);
    const std::string path = PathOf(parent, name);
    EXPECT_THAT(Parse(document),
                FailsWith(ErrorCode::kNotFound,
                          AllOf(HasSubstr("p.json"), HasSubstr('"' + path + "\" is missing"))));
  }
}

TEST(ProfileJsonTest, NamesEachMisspeltField) {
  for (const auto& [parent, name] : kFields) {
    json document = Good();
    json& object = parent.empty() ? document : document[parent];
    const std::string slip = name + "x";
    object[slip] = object[name];
    object.erase(name);
    EXPECT_THAT(Parse(document),
                FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr(slip), HasSubstr(name + '"'))));
  }
}

TEST(ProfileJsonTest, NamesEachFieldOfTheWrongType) {
  for (const auto& [parent, name] : kFields) {
    json document = Good();
    (parent.empty() ? document : document[parent])[name] = "wide";
    const std::string path = PathOf(parent, name);
    EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kBadValue, HasSubstr('"' + path + '"')))
        << path;
  }
}

struct BadValue {
  const char* parent;
  const char* name;
  double value;
  const char* words;
};
class ProfileValueTest : public testing::TestWithParam<BadValue> {};

TEST_P(ProfileValueTest, IsRefusedWithTheUnitExpected) {
  const BadValue& bad = GetParam();
  json document = Good();
  (*bad.parent == '\0' ? document : document[bad.parent])[bad.name] = bad.value;
  EXPECT_THAT(Parse(document),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr(bad.name), HasSubstr(bad.words))));
}

INSTANTIATE_TEST_SUITE_P(
    NegativesAndUnitSlips, ProfileValueTest,
    testing::Values(
        BadValue{"face", "iris_mm", 1.17, "millimetres"},    // centimetres
        BadValue{"face", "iris_mm", 0.0117, "millimetres"},  // metres
        BadValue{"face", "distance_pd_mm", 6.2, "millimetres"},
        BadValue{"face", "outer_corners_mm", 8.47, "millimetres"},
        BadValue{"face", "inner_corners_mm", 3.5, "millimetres"},
        BadValue{"face", "iris_mm", -11.7, "millimetres"},
        BadValue{"face", "iris_mm_sd", -0.1, "deviation"},
        BadValue{"face", "outer_corner_depth_mm", 99, "millimetres"},
        BadValue{"camera", "fx", 0, "pixels"}, BadValue{"camera", "fx", -1000, "pixels"},
        BadValue{"camera", "fx", 3.6, "pixels"},  // millimetres of a lens
        BadValue{"camera", "fy", 1e9, "pixels"}, BadValue{"camera", "cx", 5000, "pixels"},
        BadValue{"camera", "cy", -1, "pixels"}, BadValue{"camera", "width", 0, "pixels"},
        BadValue{"camera", "width", 1280.5, "whole"}, BadValue{"camera", "height", -720, "pixels"},
        BadValue{"camera", "focal_rel_sd", 3, "fraction"},  // pixels, or per cent
        BadValue{"camera", "focal_rel_sd", -0.1, "fraction"},
        BadValue{"", "target_sd_mm", -1, "millimetres"},
        BadValue{"", "lag_ms", 0.35, "milliseconds"},  // seconds
        BadValue{"", "lag_ms", -350, "milliseconds"},
        BadValue{"", "lag_sd_ms", -1, "milliseconds"}));

TEST(ProfileJsonTest, RefusesListsOfAnotherLengthAndWhatIsNoNumber) {
  json document = Good();
  document["target_mm"] = {1, 2};
  EXPECT_THAT(Parse(document),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("target_mm"), HasSubstr("3"))));
  document = Good();
  document["target_mm"][1] = nullptr;
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kBadValue, HasSubstr("target_mm[1]")));
  document = Good();
  document["camera"]["distortion"].push_back(0);
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kBadValue, HasSubstr("distortion")));
  document = Good();
  document["lag_ms"] = nullptr;
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kBadValue, HasSubstr("lag_ms")));
}

TEST(ProfileJsonTest, RefusesOtherSchemas) {
  json document = Good();
  document["schema"] = "nearpoint/profile/2";
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kBadValue, HasSubstr("version 1")));
  document.erase("schema");
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kNotFound, HasSubstr("schema")));
  EXPECT_THAT(ParseProfile("[1, 2]", "p.json"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("object")));
}

TEST(ProfileJsonTest, NamesTheFileThatIsNotThere) {
  const TempFolder folder;
  EXPECT_THAT(ReadProfile(folder / "none.json"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("none.json")));
  EXPECT_THAT(ReadProfile(folder.path().string()),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("folder")));
  EXPECT_THAT(ReadProfile(folder.Write("empty.json", "")),
              FailsWith(ErrorCode::kBadValue, HasSubstr("empty.json")));
  EXPECT_THAT(ReadProfile(folder.Write("good.json", Good().dump())), IsOk());
}

TEST(CheckImageSizeTest, NamesBothSizes) {
  const auto profile = Parse(Good());
  ASSERT_THAT(profile, IsOk());
  EXPECT_THAT(CheckImageSize(*profile, 1280, 720), IsOk());
  EXPECT_THAT(CheckImageSize(*profile, 640, 360),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("640x360"), HasSubstr("1280x720"))));
  EXPECT_THAT(CheckImageSize(*profile, 720, 1280),
              FailsWith(ErrorCode::kMismatch, HasSubstr("720x1280")));
}

}  // namespace
}  // namespace nearpoint
