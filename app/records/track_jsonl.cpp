#include "app/records/track_jsonl.h"

#include "app/records/json_number.h"

namespace nearpoint {
namespace {

OrderedJson Mode(TrackMode mode) {
  switch (mode) {
    case TrackMode::kFace:
      return "face";
    case TrackMode::kEyes:
      return "eyes";
    case TrackMode::kLost:
      return "lost";
  }
  return nullptr;
}

OrderedJson Eye(const std::optional<EyeSample>& eye) {
  if (!eye) return nullptr;
  OrderedJson json;
  json["iris_px"] = {JsonNumber(eye->iris_px.x(), 4), JsonNumber(eye->iris_px.y(), 4)};
  json["iris_major_px"] = JsonNumber(eye->iris_major_px, 4);
  json["rotation_deg"] = nullptr;
  json["rotation_sd_deg"] = nullptr;
  if (eye->rotation) {
    json["rotation_deg"] = {JsonDegrees(eye->rotation->horizontal),
                            JsonDegrees(eye->rotation->vertical)};
    json["rotation_sd_deg"] = JsonDegrees(eye->rotation->horizontal_sd);
  }
  return json;
}

}  // namespace

std::string TrackLine(const DistanceSample& sample) {
  OrderedJson json;
  json["schema"] = "nearpoint/track/1";
  json["frame"] = sample.frame;
  json["t_ms"] = JsonMs(sample.time);
  json["mode"] = Mode(sample.mode);
  json["eye_mid_mm"] = nullptr;
  if (sample.eye_mid_mm) {
    json["eye_mid_mm"] = {JsonNumber(sample.eye_mid_mm->x(), 4),
                          JsonNumber(sample.eye_mid_mm->y(), 4),
                          JsonNumber(sample.eye_mid_mm->z(), 4)};
  }
  json["distance_mm"] = nullptr;
  json["distance_sd_mm"] = nullptr;
  json["distance_shared_sd_mm"] = nullptr;
  if (sample.distance) {
    json["distance_mm"] = JsonMm(sample.distance->value);
    json["distance_sd_mm"] = JsonMm(sample.distance->sd);
    json["distance_shared_sd_mm"] = JsonMm(sample.distance_shared_sd);
  }
  json["regime_difference_mm"] = JsonMm(sample.regime_difference);
  json["left_eye"] = Eye(sample.left_eye);
  json["right_eye"] = Eye(sample.right_eye);
  json["vergence_deg"] = JsonDegrees(sample.vergence);
  json["vergence_sd_deg"] = JsonDegrees(sample.vergence_sd);
  json["vergence_shared_sd_deg"] = JsonDegrees(sample.vergence_shared_sd);
  json["demand_deg"] = JsonDegrees(sample.demand);
  json["head_deg"] = nullptr;
  if (sample.head) {
    json["head_deg"] = {JsonDegrees(sample.head->yaw), JsonDegrees(sample.head->pitch),
                        JsonDegrees(sample.head->roll)};
  }
  // Only where glasses are worn.
  if (sample.left_lens && sample.right_lens) {
    const auto lens = [](const LensEstimate& power) {
      return OrderedJson{{"power", JsonNumber(power.diopters, 3)},
                         {"power_sd", JsonNumber(power.sd_diopters, 3)}};
    };
    json["glasses"] = {{"left", lens(*sample.left_lens)}, {"right", lens(*sample.right_lens)}};
  }
  json["why"] = nullptr;
  if (sample.why) json["why"] = ToText(*sample.why);
  return json.dump();
}

}  // namespace nearpoint
