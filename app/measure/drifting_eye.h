// Which eye drifted, once a drift is known: by how the difference of the two eyes changed with it.
#pragma once

#include <Eigen/Core>

#include "app/measure/vergence_trace.h"

namespace nearpoint {

enum class DriftingEye {
  kLeft,
  kRight,
  kBoth,     // both eyes gave way alike
  kUnclear,  // the change is sure and the eye is not
};

struct NamedEye {
  DriftingEye eye = DriftingEye::kUnclear;
  double probability = 0;  // of the eye named; of the likeliest when unclear
  // The mean direction of the eyes moved by more than one drifting eye moves it.
  bool glance = false;
};

// course: of the drift at each frame, 0 before it and -1 while it is full; its onset in seconds of
// the trace, its size and deviation. An eye is named from probability `certain` on.
//
// Left less right: an outward drift of the left eye lowers it by x, one of the right eye raises it
// by x, both together leave it, and a glance moves it by any amount. The head's turn and the eyes'
// place beside the lens move it too, and are fitted along. Where the tracker cannot tell a turn of
// the head from a turn of the eyes it says so in the deviation of the single eye, and then no eye
// is named.
[[nodiscard]] NamedEye NameDriftingEye(const VergenceTrace& trace, const Eigen::VectorXd& course,
                                       double onset_s, double size_deg, double size_sd_deg,
                                       double certain);

}  // namespace nearpoint
