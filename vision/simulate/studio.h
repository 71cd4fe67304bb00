// Renderer and sensor together: the picture a webcam takes of the patient in a given state, and its
// truth.
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/performance.h"
#include "vision/simulate/renderer.h"
#include "vision/simulate/sensor.h"

namespace nearpoint::simulate {

class Studio {
 public:
  explicit Studio(const PatientOptions& options);  // options are valid

  // The head moves from `opening` to `closing` while the shutter is open. elapsed_s: since the
  // picture before, for the exposure control; the first picture is exposed rightly.
  [[nodiscard]] cv::Mat Take(std::int64_t frame, const PatientState& opening,
                             const PatientState& middle, const PatientState& closing,
                             double elapsed_s);
  // A still: the head does not move and the exposure is settled.
  [[nodiscard]] cv::Mat TakeStill(std::int64_t frame, const PatientState& state);
  [[nodiscard]] FrameTruth Truth(std::int64_t frame, Time time, const PatientState& state) const;
  [[nodiscard]] double gain() const { return exposure_.gain(); }
  [[nodiscard]] const Renderer& renderer() const { return renderer_; }

 private:
  void Settle(const PatientState& state);

  PatientOptions options_;
  Renderer renderer_;
  ExposureControl exposure_;
  SensorNoise noise_;
  bool settled_ = false;
};

}  // namespace nearpoint::simulate
