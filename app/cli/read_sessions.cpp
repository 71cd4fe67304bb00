#include "app/cli/read_sessions.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "app/records/estimate_csv.h"
#include "app/records/session_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

bool LooksLikeJson(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && (text[first] == '{' || text[first] == '[');
}

// Trials are kept from the corneal plane; those of a ruler were read from another.
void CountFromCorneal(std::vector<Trial>& trials, ReferencePlane plane) {
  const auto move = [plane](Length& length) {
    length = MoveToPlane(length, plane, ReferencePlane::kCorneal);
  };
  for (Trial& trial : trials) {
    if (trial.break_point) move(trial.break_point->value.value);
    if (trial.recovery) move(trial.recovery->value.value);
    if (trial.limit) move(*trial.limit);
  }
}

NamedSession FromRuler(const std::string& file, std::vector<Trial> trials, ReferencePlane plane) {
  CountFromCorneal(trials, plane);
  return {.file = file, .started_at = {}, .trials = std::move(trials), .shared = {}};
}

}  // namespace

Result<std::vector<NamedSession>> ReadSessions(const std::string& file, ReferencePlane plane) {
  const auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  std::vector<NamedSession> sessions;
  if (LooksLikeJson(*text)) {
    auto session = ParseSessionTrials(*text, file);
    if (!session) return tl::unexpected(session.error());
    sessions.push_back(
        {file, std::move(session->started_at), std::move(session->trials), session->shared});
  } else if (LooksLikeDiary(*text)) {
    auto diary = ParseDiaryCsv(*text, file);
    if (!diary) return tl::unexpected(diary.error());
    for (DiarySession& day : *diary) {
      sessions.push_back(FromRuler(file, std::move(day.trials), plane));
      sessions.back().started_at = std::move(day.started_at);
    }
  } else {
    auto trials = ParseTrialsCsv(*text, file);
    if (!trials) return tl::unexpected(trials.error());
    sessions.push_back(FromRuler(file, *std::move(trials), plane));
  }
  return sessions;
}

Result<std::vector<NamedSession>> ReadAllSessions(const std::vector<std::string>& files,
                                                  ReferencePlane plane) {
  std::vector<NamedSession> all;
  for (const std::string& file : files) {
    auto sessions = ReadSessions(file, plane);
    if (!sessions) return sessions;
    std::move(sessions->begin(), sessions->end(), std::back_inserter(all));
  }
  return all;
}

PooledTrials Pool(const std::vector<NamedSession>& sessions) {
  PooledTrials pooled;
  SharedCalibration& shared = pooled.shared;
  for (const NamedSession& session : sessions) {
    pooled.trials.insert(pooled.trials.end(), session.trials.begin(), session.trials.end());
    shared.relative_sd = std::max(shared.relative_sd, session.shared.relative_sd);
    shared.offset_sd = std::max(shared.offset_sd, session.shared.offset_sd);
    shared.lag_sd = std::max(shared.lag_sd, session.shared.lag_sd);
  }
  return pooled;
}

Result<SessionPoint> PointOf(const NamedSession& session, bool dated) {
  if (dated && !session.started_at) {
    return Fail(ErrorCode::kNotFound,
                session.file +
                    ": when it was measured is not in it; expected \"started_at\" in a "
                    "SESSION.json, or a CSV with the header measured_at,break_mm,recovery_mm,"
                    "censored.");
  }
  const double day = session.started_at ? session.started_at->days() : 0;
  const auto hour = session.started_at ? session.started_at->hour : std::nullopt;
  auto point = MakeSessionPoint(session.trials, session.shared, day, hour);
  if (!point) {
    const std::string when = session.started_at ? " (" + session.started_at->text + ")" : "";
    return Fail(ErrorCode::kInsufficient,
                session.file + when + ": no trial in it counts; expected at least one.");
  }
  return *std::move(point);
}

}  // namespace nearpoint
