#include "vision/simulate/studio.h"

namespace nearpoint::simulate {

Studio::Studio(const PatientOptions& options)
    : options_(options), renderer_(options), sensor_(options.optics.camera.width, options.seed) {}

void Studio::Settle(const PatientState& state) {
  for (int i = 0; i < 3; ++i) {
    renderer_.Draw(state, exposure_.gain(), light_);
    exposure_.Settle(light_);
  }
  settled_ = true;
}

cv::Mat Studio::Take(std::int64_t frame, const PatientState& opening, const PatientState& middle,
                     const PatientState& closing, double elapsed_s) {
  if (!settled_) Settle(middle);
  renderer_.Draw(middle, exposure_.gain(), light_);
  const double noise = Sensor::NoiseDeviation(options_.light, exposure_.gain());
  exposure_.Follow(light_, elapsed_s);
  const double smear = BlurByMotion(options_.optics.camera, opening, middle, closing, light_);
  BlurLikeLens(BlurCirclePx(options_.optics, Length::Millimeters(middle.eye_mid_mm.z())), light_,
               smear);
  return sensor_.Read(light_, noise, frame);
}

cv::Mat Studio::TakeStill(std::int64_t frame, const PatientState& state) {
  Settle(state);
  return Take(frame, state, state, state, 0);
}

FrameTruth Studio::Truth(std::int64_t frame, Time time, const PatientState& state) const {
  FrameTruth truth;
  truth.frame = frame;
  truth.time = time;
  truth.distance = Length::Millimeters(state.distance_mm);
  truth.eye_mid_mm = state.eye_mid_mm;
  truth.camera_from_head = state.camera_from_head;
  truth.left_eye = renderer_.Truth(state, kLeft);
  truth.right_eye = renderer_.Truth(state, kRight);
  truth.vergence = Angle::Radians(state.vergence_rad);
  truth.lids_closed = state.lids_closed;
  truth.target_mm = state.target_mm;
  truth.card = state.card;
  truth.defocus_px = BlurCirclePx(options_.optics, Length::Millimeters(state.eye_mid_mm.z()));
  return truth;
}

}  // namespace nearpoint::simulate
