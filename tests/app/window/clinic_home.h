// A home and a clinic in one window for tests and pictures: people with histories, computed.
#pragma once

#include <sodium.h>

#include "app/clinic_store/receive.h"
#include "app/records/exercise_plan_json.h"
#include "app/window/clinic/clinic.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/stored_session.h"
#include "tests/support/clinic_sessions.h"
#include "tests/support/eye_jpeg.h"

namespace nearpoint {

// The clinic of that window, with a name at work and keys.
inline Clinic& OpenedClinic(Home& home) {
  Clinic& clinic = *OpenClinic(home.context()).value();
  static_cast<void>(clinic.store.SetSetting("by", "A. Optometrist"));
  static_cast<void>(clinic.keys.Create("Eye Clinic Lindenhof"));
  return clinic;
}

inline Identity KeysNumber(std::uint8_t number) {
  Identity::Seed sign{};
  Identity::Seed box{};
  sign.fill(number);
  box.fill(static_cast<std::uint8_t>(number + 100));
  return Identity::FromSeeds(sign, box);
}

inline Day OnDay(std::string_view text) { return ParseDay(text).value(); }

struct History {
  QString name;
  QString number;
  std::optional<int> birth_year;
  std::vector<SentSession> sessions;
  std::vector<ExerciseDay> exercise;
  bool pictures = false;
};

// Sends the history sealed and matches it to a new patient; gives their row. Each with another
// number.
inline RowId AddHistory(Clinic& clinic, const History& history, std::uint8_t number,
                        bool match = true) {
  const Identity home = KeysNumber(number);
  const OwnKeys keys = clinic.keys.Load().value();
  Package package = PackageOf(history.sessions, history.name.toStdString(), number);
  for (std::size_t i = 0; i < history.sessions.size(); ++i) {
    const std::string name = package.items[i].name;
    int trial = 0;
    for (const double mm : history.sessions[i].breaks_mm) {
      ++trial;
      package.items.push_back({ItemKind::kTrack, TrackName(name, trial),
                               ComputedTrial(trial, mm, mm + 28).track_jsonl});
    }
  }
  // Pictures of the newest measurement's first trial, where the history says so.
  if (history.pictures) {
    const std::string name = package.items[history.sessions.size() - 1].name;
    package.items.push_back(
        {ItemKind::kPicture, PictureName(name, 1, EyeMoment::kBreak), EyeJpeg(11)});
    package.items.push_back(
        {ItemKind::kPicture, PictureName(name, 1, EyeMoment::kRecovery), EyeJpeg(0)});
  }
  if (!history.exercise.empty()) {
    package.items.push_back(
        {ItemKind::kExerciseDays, "exercise-days.json", SerializeExerciseDays(history.exercise)});
  }
  const auto sealed = Seal(package, home, keys.identity.card());
  if (!Receive(clinic.store, sealed.value(), keys.identity) || !match) return 0;
  Patient patient;
  patient.name = history.name;
  patient.number = history.number;
  patient.birth_year = history.birth_year;
  const auto added = clinic.store.AddPatient(patient);
  const QString card = QString::fromStdString(ToText(home.card()));
  if (!MatchSender(clinic.store, card, history.name, added->id, "A. Optometrist")) return 0;
  return added->id;
}

// Eight weeks of a person who comes nearer, with a diary that thins out.
inline History Improving() {
  History history{"Mira Demir", "N-2041", 2014, {}, {}, false};
  const char* days[] = {"2026-01-12", "2026-01-19", "2026-01-26", "2026-02-02",
                        "2026-02-09", "2026-02-23", "2026-03-09"};
  double mm = 118;
  for (const char* day : days) {
    SentSession sent;
    sent.started_at = std::string(day) + "T07:50:00+01:00";
    sent.breaks_mm = {mm - 3, mm + 2, mm, mm + 4};
    history.sessions.push_back(sent);
    mm -= 8;
  }
  history.sessions[3].eyes_disagree = true;
  history.sessions.back().set_aside = {2};
  for (int i = 0; i < 44; ++i) {
    if (i % 7 > 4 || i % 11 == 3) continue;
    ExerciseDay day;
    day.entry.day = OnDay("2026-01-13") + std::chrono::days(i);
    day.entry.asked = 10;
    day.entry.counted = i % 5 == 2 ? 6 : 10;
    day.comfort = "fine";
    history.exercise.push_back(day);
  }
  return history;
}

}  // namespace nearpoint
