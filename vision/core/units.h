// Lengths, angles, speeds and prism dioptres as types that do not mix. Each is made by naming its
// unit and left by naming its unit: Length::Millimeters(60).mm(). There is no implicit conversion
// from or to double.
//
// Positions are Eigen vectors in millimetres whose name says the frame: eye_in_camera_mm. Camera
// frame as in OpenCV: x right in the image, y down, z out of the lens. Left and right are the
// patient's. Pixel centres are at integers.
#pragma once

#include <chrono>
#include <cmath>
#include <compare>
#include <numbers>

namespace nearpoint {

// Time since an origin that the source chose, on a monotonic clock.
using Time = std::chrono::nanoseconds;

[[nodiscard]] constexpr double ToMilliseconds(Time t) {
  return std::chrono::duration<double, std::milli>(t).count();
}
[[nodiscard]] constexpr double ToSeconds(Time t) {
  return std::chrono::duration<double>(t).count();
}
[[nodiscard]] constexpr Time FromMilliseconds(double ms) {
  return Time(static_cast<Time::rep>(ms * 1e6 + (ms < 0 ? -0.5 : 0.5)));
}

// What all scalar quantities share: addition within the quantity, scaling by a plain number, order.
template <typename Derived>
class Quantity {
 public:
  constexpr Quantity() = default;
  friend constexpr Derived operator+(Derived a, Derived b) { return Make(a.value_ + b.value_); }
  friend constexpr Derived operator-(Derived a, Derived b) { return Make(a.value_ - b.value_); }
  friend constexpr Derived operator-(Derived a) { return Make(-a.value_); }
  friend constexpr Derived operator*(Derived a, double k) { return Make(a.value_ * k); }
  friend constexpr Derived operator*(double k, Derived a) { return Make(a.value_ * k); }
  friend constexpr Derived operator/(Derived a, double k) { return Make(a.value_ / k); }
  friend constexpr double operator/(Derived a, Derived b) { return a.value_ / b.value_; }
  friend constexpr auto operator<=>(Derived a, Derived b) { return a.value_ <=> b.value_; }
  friend constexpr bool operator==(Derived a, Derived b) { return a.value_ == b.value_; }

 protected:
  explicit constexpr Quantity(double value) : value_(value) {}
  double value_ = 0;

 private:
  // The derived classes are friends of this class and not of its friend functions.
  static constexpr Derived Make(double value) { return Derived(value); }
};

class Length : public Quantity<Length> {
 public:
  constexpr Length() = default;
  [[nodiscard]] static constexpr Length Millimeters(double mm) { return Length(mm); }
  [[nodiscard]] static constexpr Length Centimeters(double cm) { return Length(cm * 10); }
  [[nodiscard]] constexpr double mm() const { return value_; }
  [[nodiscard]] constexpr double cm() const { return value_ / 10; }

 private:
  friend class Quantity<Length>;
  explicit constexpr Length(double mm) : Quantity(mm) {}
};

class Angle : public Quantity<Angle> {
 public:
  constexpr Angle() = default;
  [[nodiscard]] static constexpr Angle Radians(double rad) { return Angle(rad); }
  [[nodiscard]] static constexpr Angle Degrees(double deg) {
    return Angle(deg * std::numbers::pi / 180);
  }
  [[nodiscard]] constexpr double rad() const { return value_; }
  [[nodiscard]] constexpr double deg() const { return value_ * 180 / std::numbers::pi; }

 private:
  friend class Quantity<Angle>;
  explicit constexpr Angle(double rad) : Quantity(rad) {}
};

// One prism dioptre turns a ray by 1 cm at 1 m: 100 tan(angle). ISO 13666 names the unit.
class PrismDiopters : public Quantity<PrismDiopters> {
 public:
  constexpr PrismDiopters() = default;
  [[nodiscard]] static constexpr PrismDiopters Of(double value) { return PrismDiopters(value); }
  [[nodiscard]] static PrismDiopters FromAngle(Angle a) {
    return PrismDiopters(100 * std::tan(a.rad()));
  }
  [[nodiscard]] Angle ToAngle() const { return Angle::Radians(std::atan(value_ / 100)); }
  [[nodiscard]] constexpr double value() const { return value_; }

 private:
  friend class Quantity<PrismDiopters>;
  explicit constexpr PrismDiopters(double value) : Quantity(value) {}
};

class Speed : public Quantity<Speed> {
 public:
  constexpr Speed() = default;
  [[nodiscard]] static constexpr Speed MillimetersPerSecond(double v) { return Speed(v); }
  [[nodiscard]] constexpr double mm_per_s() const { return value_; }

 private:
  friend class Quantity<Speed>;
  explicit constexpr Speed(double v) : Quantity(v) {}
};

[[nodiscard]] constexpr Speed operator/(Length d, Time t) {
  return Speed::MillimetersPerSecond(d.mm() / ToSeconds(t));
}
[[nodiscard]] constexpr Length operator*(Speed v, Time t) {
  return Length::Millimeters(v.mm_per_s() * ToSeconds(t));
}

// A length with one standard deviation.
struct UncertainLength {
  Length value;
  Length sd;
};

}  // namespace nearpoint
