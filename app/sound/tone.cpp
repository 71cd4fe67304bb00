#include "app/sound/tone.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace nearpoint {
namespace {

constexpr double kStep = 1.0 / kSampleRate;
constexpr double kLowHz = 220;
constexpr double kLoud = 0.16;          // of full scale: beside a speaking voice
constexpr double kGlideSeconds = 0.03;  // of loudness and frequency: no clicks
constexpr double kTrembleHz = 7;
constexpr double kPauseHz = 1.5;  // short tones when nobody moves
constexpr double kHeardSeconds = 0.22;
constexpr double kHeardLoud = 0.3;

double Sine(double turns) { return std::sin(2 * std::numbers::pi * turns); }

}  // namespace

void ToneMaker::SetPace(PaceTone pace, double height) {
  pace_ = pace;
  wanted_hz_ = kLowHz * std::exp2(std::clamp(height, 0.0, 1.0));
}

void ToneMaker::PlayHeard(bool two) {
  heard_two_ = two;
  heard_for_ = 0;
  heard_phase_ = 0;
}

bool ToneMaker::silent() const {
  return pace_ == PaceTone::kSilent && loudness_ < 1e-4 && heard_for_ >= kHeardSeconds;
}

double ToneMaker::PaceLoudness() const {
  switch (pace_) {
    case PaceTone::kSilent:
      return 0;
    case PaceTone::kGood:
      return kLoud;
    case PaceTone::kTooFast:
      return kLoud * (0.55 + 0.45 * Sine(beat_ * kTrembleHz));
    case PaceTone::kTooSlow:
      return std::fmod(beat_ * kPauseHz, 1.0) < 0.35 ? kLoud : 0;
  }
  return 0;
}

void ToneMaker::Fill(std::span<std::int16_t> samples) {
  const double glide = kStep / kGlideSeconds;
  for (std::int16_t& sample : samples) {
    beat_ += kStep;
    if (beat_ > 3600) beat_ -= 3600;
    loudness_ += (PaceLoudness() - loudness_) * glide;
    hz_ += (wanted_hz_ - hz_) * glide;
    phase_ = std::fmod(phase_ + hz_ * kStep, 1.0);
    // A little of the octave makes it softer than a bare sine.
    double value = loudness_ * (0.85 * Sine(phase_) + 0.15 * Sine(2 * phase_));
    if (heard_for_ < kHeardSeconds) {
      const double part = heard_for_ / kHeardSeconds;
      const double hz = heard_two_ ? 880 - 300 * part : 580 + 300 * part;
      heard_phase_ = std::fmod(heard_phase_ + hz * kStep, 1.0);
      value += kHeardLoud * Sine(part / 2) * Sine(heard_phase_);  // swells and fades
      heard_for_ += kStep;
    }
    sample = static_cast<std::int16_t>(std::lround(std::clamp(value, -1.0, 1.0) * 32767));
  }
}

}  // namespace nearpoint
