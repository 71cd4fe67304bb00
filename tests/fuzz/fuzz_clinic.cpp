// What the clinic and the home program read besides sessions: plans, exercise days, digests, the
// course of a session, names of tracks and pictures, pictures of eyes.
#include "app/clinic/session_digest.h"
#include "app/exchange/session_items.h"
#include "app/records/exercise_days_json.h"
#include "app/records/exercise_plan_json.h"
#include "app/records/session_course.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  if (const auto plan = ParseExercisePlan(input, "fuzz")) {
    Require(ParseExercisePlan(SerializeExercisePlan(*plan), "again").has_value());
  }
  if (const auto days = ParseExerciseDays(input, "fuzz")) {
    Require(ParseExerciseDays(SerializeExerciseDays(*days), "again").has_value());
  }
  if (const auto digest = ParseDigest(input, "fuzz")) {
    Require(ParseDigest(SerializeDigest(*digest), "again").has_value());
  }
  if (const auto course = ParseSessionCourse(input, "fuzz")) {
    for (const TrialCourse& trial : course->trials) Require(trial.number >= 1);
    Require(WithComfort(input, course->comfort).has_value());
  }
  if (const auto track = ParseTrackName(input)) {
    Require(ParseTrackName(TrackName(track->first, track->second)) == track);
  }
  if (const auto picture = ParsePictureName(input)) {
    Require(ParsePictureName(PictureName(picture->stem, picture->trial, picture->moment)) ==
            picture);
  }
  (void)IsEyePicture(input);
}
