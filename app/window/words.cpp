#include "app/window/words.h"

#include <QCoreApplication>
#include <optional>

#include "app/window/language.h"

namespace nearpoint::words {
namespace {

// The context of all these texts for the translator.
struct Words {
  Q_DECLARE_TR_FUNCTIONS(Words)
};

}  // namespace

QString Lost(LostReason reason) {
  switch (reason) {
    case LostReason::kNoFace:
      return Words::tr("The camera does not see your eyes. Sit in front of it and look at it.");
    case LostReason::kEyesClosed:
      return Words::tr("Your eyes seem closed. Open them wide, please.");
    case LostReason::kEyesHalfClosed:
      return Words::tr("Your eyes are only half open. Open them a little wider, please.");
    case LostReason::kEyesHidden:
      return Words::tr("Something hides your eyes: hair, a hand, or light on the glasses.");
    case LostReason::kTooFar:
      return Words::tr("Too far for the camera. Come a little nearer.");
    case LostReason::kTooClose:
      return Words::tr("Too near for the camera. Go back a little.");
    case LostReason::kHeadTurned:
      return Words::tr("Turn your face straight to the camera.");
    case LostReason::kInconsistent:
      return Words::tr("The camera is not sure. More light from the front helps.");
    case LostReason::kNoCard:
      return Words::tr("The camera does not see the card. Turn its pattern to the camera.");
    case LostReason::kTooDark:
      return Words::tr("It is too dark to measure. Put more light on the face, from the front.");
  }
  return {};
}

QString SetAside(nearpoint::SetAside reason) {
  using nearpoint::SetAside;
  switch (reason) {
    case SetAside::kTooFast:
      return Words::tr("That one was too fast to count. Once more, and slower.");
    case SetAside::kTrackingLost:
      return Words::tr(
          "The camera lost your eyes, so that one does not count. Once more: face "
          "straight to the camera, light from the front.");
    case SetAside::kNoApproach:
      return Words::tr(
          "You did not come near enough for that one to count. Once more: lean in "
          "slowly until you see two.");
    case SetAside::kResponseEarly:
      return Words::tr(
          "The key came before you moved, so that one does not count. Once more: "
          "press when one becomes two.");
    case SetAside::kNoResponse:
      return Words::tr(
          "You came back without a key, so that one does not count. Once more: press "
          "any key as soon as you see two.");
    case SetAside::kNotLooking:
      return Words::tr(
          "Your eyes were not on the letter, so that one does not count. Once more: "
          "keep looking at the letter.");
    case SetAside::kOneEyeCovered:
      return Words::tr(
          "One eye was shut or covered, so that one does not count. Once more, with "
          "both eyes open.");
    case SetAside::kByHand:
      return Words::tr("Your professional has set that one aside.");
  }
  return {};
}

QString SourceError(const Error& error) {
  switch (error.code) {
    case ErrorCode::kNotFound:
      return Words::tr("No camera was found, or a part of this program is missing.");
    case ErrorCode::kUnavailable:
      return Words::tr(
          "The camera gives no pictures. It may be unplugged, or another program may "
          "be using it.");
    case ErrorCode::kMismatch:
      return Words::tr(
          "This camera is not the one that was calibrated. Choose the other one, or "
          "set it up again.");
    case ErrorCode::kUnreadable:
    case ErrorCode::kBadValue:
    case ErrorCode::kNotWritable:
    case ErrorCode::kInsufficient:
      return Words::tr("The camera cannot be used.");
  }
  return {};
}

QString Detail(const Error& error) {
  return LanguageInUse() == "en" ? QString::fromStdString(error.message) : QString();
}

QString ForError(const Error& error) {
  if (LanguageInUse() == "en") return QString::fromStdString(error.message);
  switch (error.code) {
    case ErrorCode::kNotFound:
      return Words::tr("Something is missing: a file, or a part of this program.");
    case ErrorCode::kUnreadable:
      return Words::tr("A file cannot be read. It is damaged, or not one that this program knows.");
    case ErrorCode::kBadValue:
      return Words::tr("A value was refused. Look at what was entered, or try again.");
    case ErrorCode::kMismatch:
      return Words::tr(
          "Two things do not belong together: another camera, another person, or a file of a newer "
          "version of this program.");
    case ErrorCode::kNotWritable:
      return Words::tr(
          "It could not be written. Make room on the disk, or check whether the folder may be "
          "written to.");
    case ErrorCode::kUnavailable:
      return Words::tr(
          "Another window of this program is writing just now, or a device is busy. Try again in a "
          "moment.");
    case ErrorCode::kInsufficient:
      return Words::tr("What was seen is not enough for that. Try once more.");
  }
  return {};
}

QString Advice(nearpoint::Advice advice) {
  using nearpoint::Advice;
  switch (advice) {
    case Advice::kContinue:
      return Words::tr("You ended the measurement before it could answer.");
    case Advice::kAnswered:
      return Words::tr("The measurement can answer, so no more trials are needed.");
    case Advice::kCannotChange:
      return Words::tr("More trials today would hardly make the answer clearer.");
    case Advice::kMaximum:
      return Words::tr("That is enough for today.");
  }
  return {};
}

namespace {

// Where the card is brought to the face, the hand moves and not the head.
std::optional<Prompt> ForCard(FlowPhase phase) {
  switch (phase) {
    case FlowPhase::kFind:
      return Prompt{
          Words::tr("Hold the card up"),
          Words::tr("Pattern to the camera, the letter to your eyes, your eyes above it."),
          QString()};
    case FlowPhase::kMoveBack:
      return Prompt{Words::tr("Card farther away"),
                    Words::tr("Until it is about 30 cm from your eyes."),
                    Words::tr("Move the card farther away, please.")};
    case FlowPhase::kApproach:
      return Prompt{Words::tr("Card slowly nearer"),
                    Words::tr("Any key as soon as you see two. Blurred does not matter."),
                    Words::tr("Bring the card slowly nearer. Any key when you see two.")};
    case FlowPhase::kAsNear:
      return Prompt{Words::tr("That is as near as it goes"),
                    Words::tr("Still one? Then move the card back. Two? Press any key now."),
                    Words::tr("That is as near as it goes. If you see one, move the card back.")};
    case FlowPhase::kReturn:
      return Prompt{Words::tr("Card slowly back"), Words::tr("Any key as soon as it is one again."),
                    Words::tr("Two. Move the card slowly back. Any key when it is one again.")};
    default:
      return std::nullopt;
  }
}

}  // namespace

Prompt ForPhase(const FlowState& state, bool card_comes) {
  if (card_comes) {
    if (auto prompt = ForCard(state.phase)) {
      if (state.phase == FlowPhase::kFind && state.lost) prompt->line = Lost(*state.lost);
      return *prompt;
    }
  }
  switch (state.phase) {
    case FlowPhase::kFind:
      return {Words::tr("Look at the camera"),
              state.lost ? Lost(*state.lost) : Words::tr("Looking for your eyes ..."), QString()};
    case FlowPhase::kMoveBack:
      return {Words::tr("Lean back"),
              Words::tr("Until the letter is as far away as your elbow from your fingertips."),
              Words::tr("Lean back, please.")};
    case FlowPhase::kReady:
      return {Words::tr("Hold still"), Words::tr("Look at the letter. Both eyes open."),
              Words::tr("Hold still and look at the letter.")};
    case FlowPhase::kApproach:
      return {Words::tr("Come slowly nearer"),
              Words::tr("Any key as soon as you see two. Blurred does not matter."),
              Words::tr("Come slowly nearer. Any key when you see two.")};
    case FlowPhase::kAsNear:
      return {Words::tr("That is as near as it goes"),
              Words::tr("Still one? Then go back. Two? Press any key now."),
              Words::tr("That is as near as it goes. If you see one, go back.")};
    case FlowPhase::kReturn:
      return {Words::tr("Now slowly back"), Words::tr("Any key as soon as it is one again."),
              Words::tr("Two. Now slowly back. Any key when it is one again.")};
    case FlowPhase::kSettle:
      return {Words::tr("Thank you"), Words::tr("Hold still for a moment."),
              Words::tr("Thank you.")};
    case FlowPhase::kRest: {
      QString line = state.set_aside ? SetAside(*state.set_aside)
                     : state.last_to_the_nose
                         ? Words::tr("It stayed one all the way. That counts too.")
                         : Words::tr("That one counts.");
      const QString look_away = Words::tr("Look far away, out of the window.");
      return {Words::tr("Rest your eyes"), line + ' ' + look_away, line + ' ' + look_away};
    }
    case FlowPhase::kDone:
      return {Words::tr("Done"), Words::tr("Lean back and rest."),
              Words::tr("Done. Lean back and rest.")};
  }
  return {};
}

PaceWord ForPace(FlowPhase phase, PaceVerdict verdict) {
  const bool toward = phase == FlowPhase::kApproach;
  if (!toward && phase != FlowPhase::kReturn) return {};
  switch (verdict) {
    case PaceVerdict::kUnknown:
      return {};
    case PaceVerdict::kGood:
      return {QStringLiteral("✓"), Words::tr("Good pace")};
    case PaceVerdict::kTooFast:
      return {QStringLiteral("!"), Words::tr("Slower, please")};
    case PaceVerdict::kTooSlow:
      return {QStringLiteral("…"),
              toward ? Words::tr("A little nearer") : Words::tr("A little farther back")};
    case PaceVerdict::kWrongWay:
      return {toward ? QStringLiteral("→") : QStringLiteral("←"),
              toward ? Words::tr("Come nearer") : Words::tr("Go back")};
  }
  return {};
}

}  // namespace nearpoint::words
