#include "app/records/json_number.h"

#include <cmath>

namespace nearpoint {

OrderedJson JsonNumber(double value, int decimals) {
  if (!std::isfinite(value)) return nullptr;
  const double scale = std::pow(10.0, decimals);
  const double rounded = std::round(value * scale) / scale;
  if (!std::isfinite(rounded)) return value;
  return rounded == 0 ? 0.0 : rounded;  // no negative zero
}

OrderedJson JsonMm(std::optional<Length> length) {
  return length ? JsonNumber(length->mm(), 4) : OrderedJson(nullptr);
}

OrderedJson JsonMm(std::optional<double> mm) {
  return mm ? JsonNumber(*mm, 4) : OrderedJson(nullptr);
}

OrderedJson JsonDegrees(std::optional<Angle> angle) {
  return angle ? JsonNumber(angle->deg(), 4) : OrderedJson(nullptr);
}

OrderedJson JsonMs(std::optional<Time> time) {
  return time ? JsonNumber(ToMilliseconds(*time), 3) : OrderedJson(nullptr);
}

}  // namespace nearpoint
