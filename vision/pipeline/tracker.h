// From frames to distance samples: the one stateful piece of the vision side. It follows one head
// through both regimes.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "calibration/profile.h"
#include "vision/camera/frame.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"
#include "vision/distance/head_model.h"

namespace nearpoint {

struct TrackerModels {
  std::string landmark_file;    // dlib's 68-point shape predictor
  std::string eye_finder_file;  // eyes anywhere in a picture
  std::string eye_reader_file;  // one eye in a window
};

struct TrackerOptions {
  // How near before the corneal plane the eyes may look, where that is nearer than the target; as
  // in an exercise, where a fingertip stands before the screen. Absent: eyes that cross far before
  // the target are taken for something else.
  std::optional<Length> nearest_gaze;
};

// The part of the distance's uncertainty that all frames and trials share: it does not average out.
struct SharedUncertainty {
  double relative_sd =
      0;             // of the distance from the lens: personal scale and focal length together
  Length offset_sd;  // target place and corneal offset
};

class Tracker {
 public:
  // Loads the models. Errors: those of FaceFinder::Load and EyeNet::Load.
  [[nodiscard]] static Result<Tracker> Create(const Profile& profile, const TrackerModels& models,
                                              const TrackerOptions& options = {});
  Tracker(Tracker&&) noexcept;
  Tracker& operator=(Tracker&&) noexcept;
  ~Tracker();

  // Frames in the order of their time. More than two seconds between two frames, or time running
  // back, forgets everything that was learned. Errors: kMismatch when the frame's size is not the
  // profile's.
  [[nodiscard]] Result<DistanceSample> Process(const Frame& frame);

  [[nodiscard]] SharedUncertainty shared_uncertainty() const;

  // How often each costly step ran: for benchmarks and for finding out why a session was slow.
  struct Counters {
    std::int64_t frames = 0;
    std::int64_t face_searches = 0;
    std::int64_t eye_searches = 0;
    std::int64_t landmark_fits = 0;
  };
  [[nodiscard]] Counters counters() const;

  // Personal lengths as learned so far.
  [[nodiscard]] const HeadModel& personal() const;

 private:
  struct Impl;
  explicit Tracker(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
