#include "app/window/send/home_package.h"

#include <sodium.h>

#include <QCoreApplication>
#include <algorithm>

#include "app/exchange/session_items.h"
#include "app/records/exercise_days_json.h"
#include "app/records/session_course.h"
#include "app/store/exercise_store.h"
#include "app/store/eye_picture_store.h"
#include "app/window/language.h"

namespace nearpoint {
namespace {

class PackageWords {
  Q_DECLARE_TR_FUNCTIONS(PackageWords)
};

std::string NameOf(const HomeSession& session) {
  return QString("session-%1-%2.json")
      .arg(session.started_at.toLocalTime().toString("yyyyMMdd-HHmm"))
      .arg(session.id)
      .toStdString();
}

Result<void> AddSession(const Store& store, RowId id, HomePackage& made) {
  const auto session = store.FindSession(id);
  if (!session) return tl::unexpected(session.error());
  auto text = WithComfort(session->session_json, session->comfort.toStdString());
  if (!text) return tl::unexpected(text.error());
  const std::string name = NameOf(*session);
  if (const auto read = ParseSessionTrials(*text, name); !read) {
    return tl::unexpected(read.error());
  }
  made.package.items.push_back({ItemKind::kSession, name, *std::move(text)});
  const auto trials = store.Trials(id);
  if (!trials) return tl::unexpected(trials.error());
  for (const StoredTrial& trial : *trials) {
    if (trial.track_jsonl.empty()) continue;
    made.package.items.push_back(
        {ItemKind::kTrack, TrackName(name, trial.trial.number), trial.track_jsonl});
  }
  made.inside << PackageWords::tr(
                     "The measurement of %1: %n trial(s) with distances, times and "
                     "what the eyes did, the estimate, and how your eyes felt.",
                     nullptr, static_cast<int>(trials->size()))
                     .arg(MomentText(session->started_at));
  return {};
}

// The pictures of one session that is in the package already; their number.
Result<int> AddPictures(Store& store, RowId id, HomePackage& made) {
  const auto session = store.FindSession(id);
  if (!session) return tl::unexpected(session.error());
  auto pictures = EyePictureStore(store).Of(id);
  if (!pictures) return tl::unexpected(pictures.error());
  for (EyePicture& picture : *pictures) {
    made.package.items.push_back({ItemKind::kPicture,
                                  PictureName(NameOf(*session), picture.trial, picture.moment),
                                  std::move(picture.jpeg)});
  }
  return static_cast<int>(pictures->size());
}

Result<void> AddDiary(Store& store, RowId person, HomePackage& made) {
  const auto sessions = ExerciseStore(store).Sessions(person);
  if (!sessions) return tl::unexpected(sessions.error());
  std::vector<ExerciseDay> days;
  for (const StoredExercise& session : *sessions) {
    const auto entries = DiaryEntries({session});
    if (!entries.empty()) days.push_back({entries.front(), session.comfort.toStdString()});
  }
  if (days.empty()) return {};
  made.package.items.push_back(
      {ItemKind::kExerciseDays, "exercise-days.json", SerializeExerciseDays(days)});
  made.inside << PackageWords::tr(
      "The exercise diary: %n session(s) with day, repetitions, the "
      "nearest pair held, and how your eyes felt.",
      nullptr, static_cast<int>(days.size()));
  return {};
}

}  // namespace

Result<std::vector<HomeSession>> SendableSessions(const Store& store, RowId person) {
  auto sessions = store.Sessions(person);
  if (!sessions) return sessions;
  std::erase_if(*sessions, [](const HomeSession& session) {
    return session.setup.practice || session.trials == 0 || session.session_json.empty();
  });
  return sessions;
}

Result<HomePackage> MakeHomePackage(Store& store, const Person& person, const HomeChoice& choice) {
  HomePackage made;
  made.package.from = person.name.toStdString();
  made.package.made_at = store.Now().toUTC().toString(Qt::ISODate).toStdString();
  for (const RowId id : choice.sessions) {
    if (auto added = AddSession(store, id, made); !added) return tl::unexpected(added.error());
  }
  const bool tracks = std::ranges::any_of(
      made.package.items, [](const PackageItem& item) { return item.kind == ItemKind::kTrack; });
  if (tracks) {
    made.inside << PackageWords::tr(
        "The course of each trial: distance and turn of the eyes, one line for each picture.");
  }
  if (choice.diary) {
    if (auto added = AddDiary(store, person.id, made); !added) return tl::unexpected(added.error());
  }
  int pictures = 0;
  for (const RowId id : choice.pictures ? choice.sessions : std::vector<RowId>()) {
    const auto added = AddPictures(store, id, made);
    if (!added) return tl::unexpected(added.error());
    pictures += *added;
  }
  if (made.package.items.empty()) {
    return Fail(ErrorCode::kInsufficient, "Nothing was chosen to be sent.");
  }
  made.inside << PackageWords::tr("The name you gave here: %1.").arg(person.name);
  if (pictures == 0) {
    made.inside << PackageWords::tr("No pictures and no sound.");
  } else {
    made.inside << PackageWords::tr(
        "%n grey picture(s) of your two eyes at break and recovery, never of the whole face; no "
        "sound.",
        nullptr, pictures);
  }
  randombytes_buf(made.package.id.data(), made.package.id.size());
  return made;
}

}  // namespace nearpoint
