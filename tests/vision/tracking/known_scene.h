// A camera and a person that are known exactly, for tests of single steps.
#pragma once

#include "calibration/profile.h"
#include "models/landmark_model.h"
#include "vision/distance/head_model.h"
#include "vision/tracking/scene.h"

namespace nearpoint {

struct KnownScene {
  KnownScene() {
    profile.camera.width = 1280;
    profile.camera.height = 720;
    profile.camera.fx = profile.camera.fy = 1000;
    profile.camera.cx = 639.5;
    profile.camera.cy = 359.5;
    profile.face.distance_pd = UncertainLength{Length::Millimeters(60), Length::Millimeters(0.5)};
    profile.face.iris = UncertainLength{Length::Millimeters(11.7), Length::Millimeters(0.1)};
    model = MakeHeadModel(profile.face);
  }

  [[nodiscard]] Scene Now() const { return {profile, model, nearest_gaze, eyes}; }

  Profile profile;
  HeadModel model;
  std::optional<Length> nearest_gaze;
  EyeNet eyes = EyeNet::Load(FindEyeFinderModel().value(), FindEyeReaderModel().value()).value();
};

inline HeadPose At(double x_mm, double y_mm, double z_mm) {
  HeadPose pose;
  pose.mid_in_camera_mm = {x_mm, y_mm, z_mm};
  return pose;
}

}  // namespace nearpoint
