#include "calibration/glasses_json.h"

#include <string>

namespace nearpoint {
namespace {

constexpr NumberRule kSphere{-30, 30, "dioptres"};
constexpr NumberRule kCylinder{-12, 12, "dioptres"};
constexpr NumberRule kAxis{0, 180, "the axis of the cylinder in degrees"};
constexpr NumberRule kPrism{-40, 40, "prism dioptres, base out positive"};
constexpr NumberRule kAddition{0, 6, "dioptres of the reading addition"};
constexpr NumberRule kVertex{4, 40, "millimetres from the lens to the cornea"};
constexpr NumberRule kSd{0, 20, "one standard deviation"};

std::optional<double> IfThere(const nlohmann::json& json, JsonFields& fields, const char* name,
                              const NumberRule& rule) {
  fields.Allow({name});
  if (!json.is_object() || !json.contains(name)) return std::nullopt;
  return fields.NumberOrNull(name, rule);
}

double SdIfThere(const nlohmann::json& json, JsonFields& fields, const char* name, double usual) {
  return IfThere(json, fields, (std::string(name) + "_sd").c_str(), kSd).value_or(usual);
}

std::optional<LensPrescription> ParseLens(const nlohmann::json& json, JsonFields& glasses,
                                          const char* eye) {
  glasses.Allow({eye});
  const auto member = json.is_object() ? json.find(eye) : json.end();
  if (!glasses.ok() || member == json.end() || member->is_null()) return std::nullopt;
  JsonFields fields(*member, glasses.where(), std::string("face.glasses.") + eye + ".");
  fields.Allow({"sphere_sd", "cylinder_sd", "base_out_sd"});
  LensPrescription lens;
  const double sphere = fields.Number("sphere", kSphere);
  lens.sphere = {Diopters::Of(sphere),
                 Diopters::Of(SdIfThere(*member, fields, "sphere", kPrescriptionSd.value()))};
  lens.cylinder = {Diopters::Of(IfThere(*member, fields, "cylinder", kCylinder).value_or(0)),
                   Diopters::Of(SdIfThere(*member, fields, "cylinder", 0))};
  if (const auto axis = IfThere(*member, fields, "axis", kAxis)) lens.axis = Angle::Degrees(*axis);
  lens.base_out = PrismDiopters::Of(IfThere(*member, fields, "base_out", kPrism).value_or(0));
  lens.base_out_sd = PrismDiopters::Of(SdIfThere(*member, fields, "base_out", 0));
  fields.RefuseMisspelt();
  glasses.Adopt(fields);
  return lens;
}

nlohmann::ordered_json ToJson(const std::optional<LensPrescription>& lens) {
  if (!lens) return nullptr;
  nlohmann::ordered_json json;
  json["sphere"] = lens->sphere.value.value();
  json["sphere_sd"] = lens->sphere.sd.value();
  json["cylinder"] = lens->cylinder.value.value();
  json["cylinder_sd"] = lens->cylinder.sd.value();
  json["axis"] = nullptr;
  if (lens->axis) json["axis"] = lens->axis->deg();
  json["base_out"] = lens->base_out.value();
  json["base_out_sd"] = lens->base_out_sd.value();
  return json;
}

}  // namespace

std::optional<bool> BoolIfThere(const nlohmann::json& json, JsonFields& fields, const char* name) {
  fields.Allow({name});
  const auto member = json.is_object() ? json.find(name) : json.end();
  if (!fields.ok() || member == json.end() || member->is_null()) return std::nullopt;
  if (!member->is_boolean()) {
    fields.Refuse(name, "true, false or null");
    return std::nullopt;
  }
  return member->get<bool>();
}

Glasses ParseGlasses(const nlohmann::json& json, JsonFields& fields) {
  Glasses glasses;
  glasses.worn = BoolIfThere(json, fields, "worn");
  glasses.right = ParseLens(json, fields, "right");
  glasses.left = ParseLens(json, fields, "left");
  fields.Allow({"addition_sd", "vertex_mm_sd"});
  if (const auto addition = IfThere(json, fields, "addition", kAddition)) {
    glasses.addition =
        UncertainPower{Diopters::Of(*addition),
                       Diopters::Of(SdIfThere(json, fields, "addition", kPrescriptionSd.value()))};
  }
  if (const auto vertex = IfThere(json, fields, "vertex_mm", kVertex)) {
    glasses.vertex = {
        Length::Millimeters(*vertex),
        Length::Millimeters(SdIfThere(json, fields, "vertex_mm", glasses.vertex.sd.mm()))};
  }
  fields.RefuseMisspelt();
  return glasses;
}

nlohmann::ordered_json GlassesToJson(const Glasses& glasses) {
  nlohmann::ordered_json json;
  json["worn"] = nullptr;
  if (glasses.worn) json["worn"] = *glasses.worn;
  json["right"] = ToJson(glasses.right);
  json["left"] = ToJson(glasses.left);
  json["addition"] = nullptr;
  if (glasses.addition) {
    json["addition"] = glasses.addition->value.value();
    json["addition_sd"] = glasses.addition->sd.value();
  }
  json["vertex_mm"] = glasses.vertex.value.mm();
  json["vertex_mm_sd"] = glasses.vertex.sd.mm();
  return json;
}

}  // namespace nearpoint
