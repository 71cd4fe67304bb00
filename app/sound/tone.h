// The sounds of this program, computed: 16-bit mono samples. Pure.
#pragma once

#include <cstdint>
#include <span>

#include "app/sound/sound.h"

namespace nearpoint {

inline constexpr int kSampleRate = 44100;

// Writes the pace tone and the short sounds as one signal without clicks: frequency and loudness
// glide to what was asked for last.
class ToneMaker {
 public:
  // height: 0 far .. 1 near; one octave, from 220 Hz to 440 Hz.
  void SetPace(PaceTone pace, double height);
  void PlayHeard(bool two);
  // Appends to nothing: fills all of `samples`.
  void Fill(std::span<std::int16_t> samples);
  // Nothing sounds and nothing will until something is asked for.
  [[nodiscard]] bool silent() const;

 private:
  [[nodiscard]] double PaceLoudness() const;

  PaceTone pace_ = PaceTone::kSilent;
  double wanted_hz_ = 220;
  double hz_ = 220;
  double loudness_ = 0;
  double phase_ = 0;  // of the pace tone, in turns
  double beat_ = 0;   // seconds on the clock of trembling and pauses
  bool heard_two_ = false;
  double heard_for_ = 1e9;  // seconds since the short sound began
  double heard_phase_ = 0;
};

}  // namespace nearpoint
