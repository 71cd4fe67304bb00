// A patch of skin between the eyes that is found again in later pictures: where the head went,
// whatever the eyes do.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>

namespace nearpoint {

// The patch as it looked in its key frame. Always registered against that key frame, never against
// the frame before, so that errors do not add up from frame to frame.
struct SkinPatch {
  cv::Mat pattern;            // CV_32F, kPatchHeight x kPatchWidth, mean 0 and spread 1
  double scale = 1;           // key picture pixels per patch pixel
  Eigen::Vector2d centre_px;  // in the key picture
};

inline constexpr int kPatchWidth = 64, kPatchHeight = 48;

// width_px: of the patch in the picture; nullopt when a tenth of it would lie outside.
[[nodiscard]] std::optional<SkinPatch> CutSkinPatch(const cv::Mat& grey,
                                                    const Eigen::Vector2d& centre_px,
                                                    double width_px);

struct PatchPosition {
  Eigen::Vector2d centre_px;  // where the middle of the key patch is now
  Eigen::Vector2d sd_px;      // from the patch's texture and what is left after registration
  double likeness = 0;        // normalised correlation, 1: the same
};

// expected_px: where it should be, within about an eighth of its width. enlargement: size now over
// size in the key picture; roll_rad: turn in the picture since then. nullopt when it is not found
// again, or lies mostly outside.
[[nodiscard]] std::optional<PatchPosition> FindSkinPatch(const cv::Mat& grey, const SkinPatch& key,
                                                         const Eigen::Vector2d& expected_px,
                                                         double enlargement, double roll_rad);

}  // namespace nearpoint
