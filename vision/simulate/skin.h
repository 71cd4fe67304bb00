// The skin of one patient, painted once: CV_8UC4, the colours (BGR) square-root coded so that light
// multiplies them.
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/head_mesh.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/patient.h"

namespace nearpoint::simulate {

// Linear reflectance to the code of the textures: 255 sqrt(reflectance).
[[nodiscard]] cv::Vec3f SkinReflectance(double tone);  // BGR, linear
[[nodiscard]] cv::Vec3f HairReflectance(const Appearance& appearance);

// Texel (0, 0) has its centre at grid coordinates (0.5, 0.5) / HeadMesh::kTexelsPerCell.
[[nodiscard]] cv::Mat PaintSkin(const HeadShape& shape, const HeadMesh& mesh,
                                const Appearance& appearance);

}  // namespace nearpoint::simulate
