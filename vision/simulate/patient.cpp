#include "vision/simulate/patient.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

#include "vision/simulate/head_shape.h"
#include "vision/simulate/options_check.h"
#include "vision/simulate/studio.h"

namespace nearpoint::simulate {
namespace {

class PatientSource : public FrameSource {
 public:
  PatientSource(const PatientOptions& options, TruthSink truth)
      : options_(options), performance_(options), studio_(options), truth_(std::move(truth)) {
    std::ostringstream text;
    text << "simulated patient, " << options.optics.camera.width << "x"
         << options.optics.camera.height << " at " << options.behaviour.frames_per_second
         << " frames a second";
    info_.description = text.str();
    info_.width = options.optics.camera.width;
    info_.height = options.optics.camera.height;
    info_.frame_count = performance_.script().frame_count;
  }

  [[nodiscard]] const SourceInfo& info() const override { return info_; }

  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    if (next_ >= performance_.script().frame_count) return std::optional<Frame>();
    const double interval_ms = 1000 / options_.behaviour.frames_per_second;
    const Time time = FromMilliseconds(static_cast<double>(next_) * interval_ms);
    // The time of a frame is the middle of its exposure.
    const Time half = FromMilliseconds(options_.optics.exposure_fraction * interval_ms / 2);
    const PatientState middle = performance_.At(time);
    cv::Mat bgr = studio_.Take(next_, performance_.At(std::max(Time{}, time - half)), middle,
                               performance_.At(time + half), interval_ms / 1000);
    if (truth_) truth_(studio_.Truth(next_, time, middle));
    return std::optional<Frame>(Frame(next_++, time, std::move(bgr)));
  }

 private:
  PatientOptions options_;
  Performance performance_;
  Studio studio_;
  TruthSink truth_;
  SourceInfo info_;
  std::int64_t next_ = 0;
};

}  // namespace

Script MakeScript(const PatientOptions& options) {
  if (!CheckOptions(options)) return {};
  return Performance(options).script();
}

Profile TrueProfile(const PatientOptions& options) {
  const HeadShape shape(options.appearance);
  const auto known = [](double mm, double sd_mm) {
    return UncertainLength{Length::Millimeters(mm), Length::Millimeters(sd_mm)};
  };
  Profile profile;
  profile.camera = options.optics.camera;
  profile.camera.focal_rel_sd = 0.003;
  profile.face.outer_corners = known(2 * shape.OuterCorner().x(), 0.8);
  profile.face.inner_corners = known(2 * shape.InnerCorner().x(), 0.5);
  profile.face.iris = known(options.appearance.iris.mm(), 0.15);
  profile.face.distance_pd = known(options.appearance.distance_pd.mm(), 0.5);
  profile.face.outer_corner_depth = known(-shape.OuterCorner().z(), 1.5);
  profile.face.inner_corner_depth = known(-shape.InnerCorner().z(), 1.5);
  profile.target_mm = options.target_mm;
  profile.target_sd = Length::Millimeters(1.0);
  profile.lag = options.behaviour.lag;
  profile.lag_sd = options.behaviour.lag_sd;
  return profile;
}

CameraIntrinsics PinholeCamera(int width, int height, Angle horizontal_field) {
  CameraIntrinsics camera;
  camera.width = width;
  camera.height = height;
  camera.fx = width / (2 * std::tan(horizontal_field.rad() / 2));
  camera.fy = camera.fx;
  camera.cx = (width - 1) / 2.0;
  camera.cy = (height - 1) / 2.0;
  return camera;
}

Result<std::unique_ptr<FrameSource>> MakePatient(const PatientOptions& options, TruthSink truth) {
  if (auto ok = CheckOptions(options); !ok) return tl::unexpected(ok.error());
  return std::make_unique<PatientSource>(options, std::move(truth));
}

}  // namespace nearpoint::simulate
