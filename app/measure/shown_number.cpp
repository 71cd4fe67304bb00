#include "app/measure/shown_number.h"

#include <cmath>
#include <cstdio>

namespace nearpoint {

double RoundedForShow(double value, int decimals) {
  const double scale = std::pow(10.0, decimals);
  // What is a half but for the last bits is a half.
  constexpr double kLastBits = 1e-6;
  return std::round(value * scale + std::copysign(kLastBits, value)) / scale;
}

std::string ShownNumber(double value, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, RoundedForShow(value, decimals));
  return text;
}

std::string ShownCentimeters(double mm, int decimals) {
  return ShownNumber(mm / 10, decimals) + " cm";
}

}  // namespace nearpoint
