#include "calibration/profile_json.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "calibration/glasses_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

// The ranges hold every face from a toddler to the largest adult with room to spare; they are there
// to catch centimetres, metres and pixels in a field of millimetres, not to judge anybody.
struct FaceField {
  const char* name;
  std::optional<UncertainLength> FaceScale::*member;
  NumberRule rule;
};
constexpr std::array<FaceField, 6> kFaceFields{{
    {"outer_corners_mm",
     &FaceScale::outer_corners,
     {45, 140, "millimetres between the outer eye corners"}},
    {"inner_corners_mm",
     &FaceScale::inner_corners,
     {12, 60, "millimetres between the inner eye corners"}},
    {"outer_corner_depth_mm",
     &FaceScale::outer_corner_depth,
     {-10, 35, "millimetres of the outer corners behind the corneal plane"}},
    {"inner_corner_depth_mm",
     &FaceScale::inner_corner_depth,
     {-10, 25, "millimetres of the inner corners behind the corneal plane"}},
    {"iris_mm", &FaceScale::iris, {8, 15, "millimetres of visible iris diameter"}},
    {"distance_pd_mm", &FaceScale::distance_pd, {35, 90, "millimetres of pupil distance"}},
}};

CameraIntrinsics ParseCamera(JsonFields& fields) {
  CameraIntrinsics camera;
  // Said first: "cx" in place of "fx" is a missing fx, not a slip.
  fields.Allow({"width", "height", "fx", "fy", "cx", "cy", "distortion", "focal_rel_sd"});
  camera.width = fields.Integer("width", 64, 16384, "the picture's width, whole pixels");
  camera.height = fields.Integer("height", 64, 16384, "the picture's height, whole pixels");
  const double width = camera.width;
  // 0.2 widths is a field of view of 136 degrees, 10 widths one of 6 degrees.
  const NumberRule focal{0.2 * width, 10 * width, "a focal length in pixels"};
  camera.fx = fields.Number("fx", focal);
  camera.fy = fields.Number("fy", focal);
  camera.cx = fields.Number("cx", {0, width, "the principal point in pixels, inside the picture,"});
  camera.cy = fields.Number("cy", {0, static_cast<double>(camera.height),
                                   "the principal point in pixels, inside the picture,"});
  const std::vector<double> distortion = fields.Numbers(
      "distortion", 5, {-1000, 1000, "a distortion coefficient (k1, k2, p1, p2, k3)"});
  if (fields.ok()) std::copy(distortion.begin(), distortion.end(), camera.distortion.begin());
  camera.focal_rel_sd = fields.Number(
      "focal_rel_sd", {0, 0.5, "a fraction of the focal length (0.01 is one per cent)"});
  fields.RefuseMisspelt();
  return camera;
}

FaceScale ParseFace(const nlohmann::json& json, JsonFields& fields) {
  FaceScale face;
  for (const FaceField& field : kFaceFields) {
    const std::string sd_name = std::string(field.name) + "_sd";
    const auto value = fields.NumberOrNull(field.name, field.rule);
    if (!value) {
      fields.Allow({sd_name});
      continue;
    }
    const double sd = fields.Number(sd_name, {0, 20, "one standard deviation in millimetres"});
    face.*field.member = UncertainLength{Length::Millimeters(*value), Length::Millimeters(sd)};
  }
  face.measured_with_glasses = BoolIfThere(json, fields, "measured_with_glasses");
  fields.Allow({"glasses"});
  if (const auto glasses = json.is_object() ? json.find("glasses") : json.end();
      fields.ok() && glasses != json.end() && !glasses->is_null()) {
    JsonFields own(*glasses, fields.where(), "face.glasses.");
    face.glasses = ParseGlasses(*glasses, own);
    fields.Adopt(own);
  }
  fields.RefuseMisspelt();
  return face;
}

HeldCardSetup ParseHeldCard(JsonFields& profile) {
  HeldCardSetup setup;
  const nlohmann::json& json = profile.Object("held_card");
  if (!profile.ok()) return setup;
  JsonFields fields(json, profile.where(), "held_card.");
  const std::vector<double> target =
      fields.Numbers("target_in_card_mm", 3,
                     {-60, 60, "millimetres in the card's frame: right, down, through the card"});
  if (fields.ok()) setup.target_in_card_mm = {target[0], target[1], target[2]};
  const auto zero = fields.NumberOrNull(
      "zero_mm", {-60, 60, "millimetres that the distance reads too much, from the zero touch,"});
  if (zero) {
    const double sd = fields.Number("zero_mm_sd", {0, 60, "one standard deviation in millimetres"});
    setup.zero = UncertainLength{Length::Millimeters(*zero), Length::Millimeters(sd)};
  }
  fields.Allow({"zero_mm_sd"});
  fields.RefuseMisspelt();
  profile.Adopt(fields);
  return setup;
}

PrintScale ParsePrint(JsonFields& profile) {
  PrintScale print;
  const nlohmann::json& json = profile.Object("print");
  if (!profile.ok()) return print;
  JsonFields fields(json, profile.where(), "print.");
  const NumberRule size{0.5, 1.5, "the print's size by what it should be (1 is true to scale)"};
  print.width = fields.Number("width", size);
  print.height = fields.Number("height", size);
  print.sd = fields.Number("rel_sd", {0, 0.5, "one standard deviation as a fraction"});
  fields.RefuseMisspelt();
  profile.Adopt(fields);
  return print;
}

struct OriginField {
  const char* name;
  std::optional<Origin> ProfileOrigins::*member;
};
constexpr std::array<OriginField, 5> kOriginFields{{
    {"camera", &ProfileOrigins::camera},
    {"face", &ProfileOrigins::face},
    {"target", &ProfileOrigins::target},
    {"lag", &ProfileOrigins::lag},
    {"print", &ProfileOrigins::print},
}};

// "origin" and each of its members may be missing: profiles of before have none.
ProfileOrigins ParseMade(JsonFields& fields, const nlohmann::json& json) {
  ProfileOrigins made;
  for (const OriginField& field : kOriginFields) {
    fields.Allow({field.name});
    const auto member = json.is_object() ? json.find(field.name) : json.end();
    if (!fields.ok() || member == json.end() || member->is_null()) continue;
    JsonFields own(*member, fields.where(), std::string("origin.") + field.name + ".");
    Origin origin;
    const std::string day = own.Text("date", "a day as in 2026-03-01");
    if (const auto date = ParseDay(day)) {
      origin.date = *date;
    } else if (own.ok()) {
      own.Refuse("date", "a day as in 2026-03-01");
    }
    origin.device = own.TextOrNull("device", "the camera's name").value_or("");
    origin.person = own.TextOrNull("person", "the person's name or number").value_or("");
    origin.software = own.Text("software", "the version of the program that measured");
    origin.method = own.Text("method", "how it was measured, in words");
    own.RefuseMisspelt();
    fields.Adopt(own);
    made.*field.member = std::move(origin);
  }
  fields.RefuseMisspelt();
  return made;
}

nlohmann::ordered_json TextOrNull(const std::string& text) {
  return text.empty() ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(text);
}

}  // namespace

Result<Profile> ParseProfile(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "profile", where); !schema) {
    return tl::unexpected(schema.error());
  }
  Profile profile;
  JsonFields fields(*document, where);
  fields.Allow({"schema"});

  const nlohmann::json& camera_json = fields.Object("camera");
  if (fields.ok()) {
    JsonFields camera(camera_json, where, "camera.");
    profile.camera = ParseCamera(camera);
    fields.Adopt(camera);
  }
  const nlohmann::json& face_json = fields.Object("face");
  if (fields.ok()) {
    JsonFields face(face_json, where, "face.");
    profile.face = ParseFace(face_json, face);
    fields.Adopt(face);
  }
  const std::vector<double> target =
      fields.Numbers("target_mm", 3, {-1000, 1000, "millimetres in the camera frame"});
  if (fields.ok()) profile.target_mm = Eigen::Vector3d(target[0], target[1], target[2]);
  profile.target_sd = Length::Millimeters(
      fields.Number("target_sd_mm", {0, 100, "one standard deviation in millimetres"}));
  const double lag_ms = fields.Number("lag_ms", {0, 3000, "the response time in milliseconds"});
  if (fields.ok() && lag_ms > 0 && lag_ms < 20) {
    fields.Refuse("lag_ms",
                  "the response time in milliseconds, which nobody has below 20, or 0 for none");
  }
  profile.lag = FromMilliseconds(lag_ms);
  profile.lag_sd = FromMilliseconds(
      fields.Number("lag_sd_ms", {0, 3000, "one standard deviation in milliseconds"}));
  if (fields.ok() && document->contains("setup")) {
    const std::string setup = fields.Text("setup", "\"lean_in\" or \"held_card\"");
    if (setup == "held_card") {
      profile.held_card = ParseHeldCard(fields);
    } else if (fields.ok() && setup != "lean_in") {
      fields.Refuse("setup", "\"lean_in\" or \"held_card\"");
    }
  }
  if (fields.ok() && document->contains("print")) profile.print = ParsePrint(fields);
  fields.Allow({"setup", "held_card", "print"});
  fields.Allow({"origin"});
  if (const auto made = document->find("origin"); fields.ok() && made != document->end()) {
    JsonFields own(*made, where, "origin.");
    profile.made = ParseMade(own, *made);
    fields.Adopt(own);
  }
  // A day without a size is somebody's word that the print is right.
  if (!profile.print) profile.made.print.reset();
  fields.RefuseMisspelt();
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return profile;
}

Result<Profile> ReadProfile(const std::string& file) {
  const auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  return ParseProfile(*text, file);
}

std::string SerializeProfile(const Profile& profile) {
  nlohmann::ordered_json camera;
  camera["width"] = profile.camera.width;
  camera["height"] = profile.camera.height;
  camera["fx"] = profile.camera.fx;
  camera["fy"] = profile.camera.fy;
  camera["cx"] = profile.camera.cx;
  camera["cy"] = profile.camera.cy;
  camera["distortion"] = profile.camera.distortion;
  camera["focal_rel_sd"] = profile.camera.focal_rel_sd;

  nlohmann::ordered_json face;
  for (const FaceField& field : kFaceFields) {
    const auto& value = profile.face.*field.member;
    const std::string name = field.name;
    face[name] = nullptr;
    face[name + "_sd"] = nullptr;
    if (value) {
      face[name] = value->value.mm();
      face[name + "_sd"] = value->sd.mm();
    }
  }

  if (profile.face.measured_with_glasses)
    face["measured_with_glasses"] = *profile.face.measured_with_glasses;
  if (profile.face.glasses) face["glasses"] = GlassesToJson(*profile.face.glasses);

  nlohmann::ordered_json document;
  document["schema"] = "nearpoint/profile/1";
  document["camera"] = camera;
  document["face"] = face;
  document["target_mm"] = {profile.target_mm.x(), profile.target_mm.y(), profile.target_mm.z()};
  document["target_sd_mm"] = profile.target_sd.mm();
  document["lag_ms"] = ToMilliseconds(profile.lag);
  document["lag_sd_ms"] = ToMilliseconds(profile.lag_sd);
  if (profile.held_card) {
    document["setup"] = "held_card";
    const HeldCardSetup& setup = *profile.held_card;
    nlohmann::ordered_json card;
    card["target_in_card_mm"] = {setup.target_in_card_mm.x(), setup.target_in_card_mm.y(),
                                 setup.target_in_card_mm.z()};
    card["zero_mm"] = nullptr;
    card["zero_mm_sd"] = nullptr;
    if (setup.zero) {
      card["zero_mm"] = setup.zero->value.mm();
      card["zero_mm_sd"] = setup.zero->sd.mm();
    }
    document["held_card"] = card;
  }
  if (profile.print) {
    document["print"] = {{"width", profile.print->width},
                         {"height", profile.print->height},
                         {"rel_sd", profile.print->sd}};
  }
  nlohmann::ordered_json made = nlohmann::ordered_json::object();
  for (const OriginField& field : kOriginFields) {
    const auto& origin = profile.made.*field.member;
    if (!origin) continue;
    made[field.name] = {{"date", FormatDay(origin->date)},
                        {"device", TextOrNull(origin->device)},
                        {"person", TextOrNull(origin->person)},
                        {"software", origin->software},
                        {"method", origin->method}};
  }
  if (!made.empty()) document["origin"] = made;
  return document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

Result<void> CheckImageSize(const Profile& profile, int width, int height) {
  if (width == profile.camera.width && height == profile.camera.height) return {};
  return Fail(ErrorCode::kMismatch,
              "The pictures are " + std::to_string(width) + "x" + std::to_string(height) +
                  " pixels, the profile's camera gives " + std::to_string(profile.camera.width) +
                  "x" + std::to_string(profile.camera.height) +
                  "; use the profile made for this camera and size.");
}

}  // namespace nearpoint
