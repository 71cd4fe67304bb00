#include "app/window/session_result.h"

#include <QCoreApplication>
#include <QLocale>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "app/session/estimate_options.h"
#include "app/window/keep_calibration.h"
#include "app/window/language.h"
#include "app/window/safety_gate.h"
#include "app/window/safety_words.h"
#include "app/window/words.h"
#include "calibration/lag_task.h"
#include "calibration/population.h"
#include "calibration/profile_json.h"

namespace nearpoint {
namespace {

struct Words {
  Q_DECLARE_TR_FUNCTIONS(SessionResult)
};

}  // namespace

SessionResult ReadResult(const Store& store, const HomeSession& session) {
  SessionResult result;
  result.session = session;
  auto trials = store.Trials(session.id);
  const auto shared = store.SharedOfSession(session.id);
  if (!trials || !shared) {
    result.error = !trials ? trials.error() : shared.error();
    return result;
  }
  result.trials = *std::move(trials);
  SharedCalibration calibration = *shared;
  const auto profile = ParseProfile(session.setup.profile_json, "profile of the session");
  if (!profile) {
    result.unread_profile = profile.error();
    calibration.lag_sd =
        FromMilliseconds(kAssumedLagSdMs);  // no hand is surer than that unmeasured
  } else {
    calibration.lag_sd = profile->lag_sd;
    result.calibrated = FilledByPopulation(profile->face).empty();
    for (const PartAge& age : AgesOf(profile->made, DayOf(session.started_at))) {
      const bool old = age.kind == PartAge::Kind::kOld && !session.setup.practice;
      if (old) result.old_parts.push_back(age.part);
    }
  }
  EstimateArguments arguments;
  arguments.norm = session.setup.norm.toStdString();
  const auto norm = FindNorm(arguments.norm);
  if (norm && (*norm)->break_limit) result.norm = *norm;
  std::vector<Trial> plain;
  plain.reserve(result.trials.size());
  for (const StoredTrial& stored : result.trials) plain.push_back(stored.trial);
  result.estimate = EstimateNearPoint(plain, calibration, OptionsOf(arguments));
  return result;
}

QString ShortSentence(const SessionResult& result) {
  if (result.error) return words::ForError(*result.error);
  const auto& band = result.estimate.break_mm;
  if (!band) return Words::tr("No trial counts, so there is no result.");
  if (!band->high) {
    return Words::tr("Two from the start: farther than %1.").arg(Centimeters(band->low));
  }
  if (!band->value) {
    return Words::tr("One all the way: nearer than %1.").arg(Centimeters(*band->high));
  }
  return Words::tr("%1, most likely between %2 and %3.")
      .arg(Centimeters(*band->value), Centimeters(band->low), Centimeters(*band->high));
}

QString MeaningSentence(const SessionResult& result) {
  if (result.session.setup.practice) {
    return Words::tr("This was practice: the numbers are those of a simulated person, not yours.");
  }
  const auto& estimate = result.estimate;
  if (!estimate.break_mm) {
    return Words::tr("No trial counts today, so nothing can be said about your near point.");
  }
  switch (estimate.answer) {
    case Answer::kWithin:
      return estimate.break_mm->value
                 ? Words::tr("You see two only at about %1: nearer than the usual limit.")
                       .arg(Centimeters(*estimate.break_mm->value))
                 : Words::tr(
                       "You saw one all the way: your near point is nearer than the usual limit.");
    case Answer::kBeyond:
      return estimate.break_mm->value
                 ? Words::tr("You see two already at about %1: farther away than the usual limit.")
                       .arg(Centimeters(*estimate.break_mm->value))
                 : Words::tr("You saw two from the start: farther away than the usual limit.");
    case Answer::kCannotTell:
      return Words::tr(
          "Your near point is so close to the usual limit that today's measurement cannot tell on "
          "which side it is.");
  }
  return {};
}

QString NextSentence(const SessionResult& result) {
  if (result.session.setup.practice) {
    return Words::tr("When you feel at home with it, leave practice and measure yourself.");
  }
  // Whatever the number says.
  if (IsTroubleWord(result.session.comfort)) {
    return Words::tr(
        "First ask somebody about your eyes, as it says here. Until then do not "
        "measure or exercise.");
  }
  if (!result.estimate.break_mm) {
    return Words::tr(
        "Rest a little and try again, with light from the front and your face straight "
        "to the camera.");
  }
  switch (result.estimate.answer) {
    case Answer::kWithin:
      return Words::tr(
          "Nothing to do now. If reading is hard or you see double at times, see an "
          "eye professional all the same: this is one number only.");
    case Answer::kBeyond:
      return Words::tr(
          "Show this to your optometrist, orthoptist or eye doctor. It is a screening "
          "result and no diagnosis.");
    case Answer::kCannotTell:
      return Words::tr("Measure again on another day at the same hour, with rested eyes.");
  }
  return {};
}

QString ComfortSentence(const SessionResult& result) {
  if (result.session.comfort == "double") {
    return Words::tr("You said that you still see two. Rest and look far away.") + ' ' +
           words::DoubleVision();
  }
  if (result.session.comfort == "discomfort") {
    return Words::tr(
               "You said that it hurts or that you feel sick. Do not measure again before you have "
               "asked an eye-care professional or a doctor.") +
           ' ' + words::OtherSigns();
  }
  return {};
}

namespace {

// How fine the letter was, as the session's record has it.
QString LetterSentence(const std::string& session_json) {
  const auto json = nlohmann::json::parse(session_json, nullptr, /*allow_exceptions=*/false);
  const auto number = [&json](const char* name) -> std::optional<double> {
    if (!json.is_object() || !json.contains(name) || !json[name].is_number()) return std::nullopt;
    return json[name].get<double>();
  };
  const auto mm = number("target_detail_mm");
  if (!mm) return {};
  const QString detail = QLocale().toString(*mm, 'f', 2);
  const auto minutes = number("target_detail_arcmin_at_break");
  return minutes ? Words::tr(
                       "The finest detail of the letter was %1 mm: %2 minutes of arc where you "
                       "saw two.")
                       .arg(detail, QLocale().toString(*minutes, 'f', 1))
                 : Words::tr("The finest detail of the letter was %1 mm.").arg(detail);
}

QString OldSentence(ProfilePart part) {
  switch (part) {
    case ProfilePart::kCamera:
      return Words::tr(
          "The camera was measured more than two years before: show it the card again.");
    case ProfilePart::kFace:
      return Words::tr(
          "Your face was measured with the card more than half a year before, and children grow: "
          "measure it again.");
    case ProfilePart::kTarget:
      return Words::tr(
          "The place of the letter was measured more than half a year before: check it, since "
          "things are moved.");
    case ProfilePart::kLag:
      return Words::tr(
          "The speed of your hand was measured more than a year before: measure it again.");
  }
  return {};
}

}  // namespace

QString BasisSentence(const SessionResult& result) {
  const Estimate& estimate = result.estimate;
  QString text =
      Words::tr("%n trial(s) count.", nullptr, estimate.trials_used) + ' ' +
      Words::tr(
          "All distances are from the target to the front of the eye (corneal plane). If the "
          "measurement were repeated many times, bands made like this one would hold the "
          "true value 19 times in 20.");
  if (result.norm) {
    const QString source = QString::fromUtf8(result.norm->source.data(),
                                             static_cast<qsizetype>(result.norm->source.size()));
    text += ' ' + Words::tr("The usual limit is %1, counted from the front of the eye: %2.")
                      .arg(Centimeters(estimate.cut_off.mm()), source);
  }
  if (const QString letter = LetterSentence(result.session.session_json); !letter.isEmpty()) {
    text += ' ' + letter;
  }
  if (result.unread_profile) {
    text += ' ' + Words::tr(
                      "What was stored with this measurement about your camera, face and hand "
                      "cannot be read, so nobody knows how they were measured. The band holds the "
                      "speed of a hand that was not measured.");
  } else if (!result.calibrated) {
    text += ' ' + Words::tr(
                      "Your face was not measured with a card, so lengths of an average face "
                      "were used: about plus or minus 4 % instead of 1 %.");
  }
  for (const ProfilePart part : result.old_parts) text += ' ' + OldSentence(part);
  if (estimate.trend_present) {
    text += ' ' + Words::tr(
                      "From trial to trial your near point changed, as it does when eyes "
                      "tire; the number is the mean of the session.");
  }
  return text;
}

}  // namespace nearpoint
