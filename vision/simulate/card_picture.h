// Draws the card and the hand that holds it over a finished picture of light (light_scale.h).
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/card_prop.h"
#include "vision/simulate/lighting.h"
#include "vision/simulate/performance.h"

namespace nearpoint::simulate {

struct CardScene {
  const PatientOptions& options;
  const PatientState& state;  // with a card
  const Lighting& lighting;
  const cv::Mat& rays;   // as RayTable gives them
  const cv::Mat& depth;  // of the head, CV_32F, mm from the lens; very far where nothing is
  double gain;
};

// What lies behind the card or the hand is covered, what lies before it covers them. The card
// has the defocus of its own distance: `picture` will later be blurred as the face is.
void DrawCard(const CardScene& scene, cv::Mat& picture);

}  // namespace nearpoint::simulate
