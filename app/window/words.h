// What the measuring side says, in the words of the person: every reason has its sentence here, in
// each language.
#pragma once

#include <QString>

#include "app/guide/measure_flow.h"
#include "app/measure/stopping.h"
#include "vision/core/result.h"

namespace nearpoint::words {

// Why nothing is known just now, and what to do about it.
[[nodiscard]] QString Lost(LostReason reason);
// Why the trial does not count, and what to do differently.
[[nodiscard]] QString SetAside(nearpoint::SetAside reason);
// A camera that cannot be opened or broke off.
[[nodiscard]] QString SourceError(const Error& error);
// Any other error in the language of the window: in English the sentence as it was made, which
// names the file and the field; else what kind of thing went wrong and what to do about it.
[[nodiscard]] QString ForError(const Error& error);
// The English detail for somebody who can read it; else empty.
[[nodiscard]] QString Detail(const Error& error);
// Why no further trial is asked for.
[[nodiscard]] QString Advice(nearpoint::Advice advice);

// What the page says in a phase: one short line to be read from afar, one that explains, and what
// is spoken (empty: nothing new to say).
struct Prompt {
  QString headline;
  QString line;
  QString spoken;
};
// card_comes: the card is brought to a face that stays, instead of the face to the letter.
[[nodiscard]] Prompt ForPhase(const FlowState& state, bool card_comes = false);

// "Good pace", "Slower, please"... with the sign that goes with it; empty when there is nothing to
// say.
struct PaceWord {
  QString sign;
  QString word;
};
[[nodiscard]] PaceWord ForPace(FlowPhase phase, PaceVerdict verdict);

}  // namespace nearpoint::words
