// The skin of one patient, painted once: CV_16UC4, the linear reflectance (BGR), 65535 for 1.
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/head_mesh.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/patient.h"

namespace nearpoint::simulate {

// Paint, BGR (see light_scale.h).
[[nodiscard]] cv::Vec3f SkinPaint(double tone);
[[nodiscard]] cv::Vec3f HairPaint(const Appearance& appearance);

// Texel (0, 0) has its centre at grid coordinates (0.5, 0.5) / HeadMesh::kTexelsPerCell.
[[nodiscard]] cv::Mat PaintSkin(const HeadShape& shape, const HeadMesh& mesh,
                                const Appearance& appearance);

}  // namespace nearpoint::simulate
