// A few frames drawn once and shown again and again, with time going on: a long source that costs
// nothing to make.
#pragma once

#include <cstdio>
#include <cstdlib>
#include <memory>
#include <vector>

#include "vision/camera/frame_source.h"
#include "vision/simulate/patient.h"

namespace nearpoint::bench {

// A patient who sways about `distance`; eyes on the target, no blinks.
inline simulate::PatientOptions SteadyPatient(Length distance) {
  simulate::PatientOptions o;
  o.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  o.optics.aperture = Length::Millimeters(1.2);
  o.behaviour.trials = 1;
  o.behaviour.start = distance;
  o.behaviour.nearest = distance * 0.85;
  o.behaviour.break_mean = distance * 0.6;
  o.behaviour.recovery_mean = distance * 0.8;
  o.behaviour.fusion_holds = true;
  o.behaviour.blinks_per_minute = 0;
  o.behaviour.frames_per_second = 30;
  return o;
}

inline std::vector<Frame> DrawFrames(const simulate::PatientOptions& options, std::size_t count) {
  std::vector<Frame> frames;
  auto patient = simulate::MakePatient(options);
  if (!patient) {
    std::fprintf(stderr, "%s\n", patient.error().message.c_str());
    std::exit(1);
  }
  while (patient && frames.size() < count) {
    auto frame = (*patient)->Next();
    if (!frame || !*frame) break;
    frames.push_back(**frame);
  }
  return frames;
}

// The pictures there and back, so that nothing jumps where the loop closes.
inline Frame Looped(const std::vector<Frame>& frames, std::int64_t index) {
  const auto n = static_cast<std::int64_t>(frames.size());
  const std::int64_t k = index % (2 * n - 2);
  return Frame(index, Time(index * 33'333'333),
               frames[static_cast<std::size_t>(k < n ? k : 2 * n - 2 - k)].bgr());
}

}  // namespace nearpoint::bench
