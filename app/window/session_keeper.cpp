#include "app/window/session_keeper.h"

#include <QDateTime>
#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "app/measure/agreement.h"
#include "app/measure/norms.h"
#include "app/records/session_json.h"
#include "app/records/track_jsonl.h"
#include "app/run/run_facts.h"
#include "app/session/estimate_options.h"
#include "app/store/eye_picture_store.h"
#include "app/window/keep_calibration.h"
#include "calibration/profile_json.h"

namespace nearpoint {
namespace {

constexpr const char* kAdults = "scheiman-2003";

EstimateArguments ArgumentsOf(const std::string& norm) {
  EstimateArguments arguments;
  arguments.norm = norm;
  return arguments;
}

// With the offset of this place: eyes tire by the local clock.
std::string LocalMoment(const QDateTime& utc) {
  const QDateTime local = utc.toLocalTime();
  return local.toOffsetFromUtc(local.offsetFromUtc()).toString(Qt::ISODate).toStdString();
}

// What SESSION.json says of the frames so far; nothing where it cannot be read.
struct EarlierCounts {
  std::int64_t frames = 0, lost = 0, missing = 0;
};
EarlierCounts CountsOf(const std::string& text) {
  const auto document = nlohmann::json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (!document.is_object() || !document.contains("frames")) return {};
  const auto& frames = document["frames"];
  const auto number = [&frames](const char* name) -> std::int64_t {
    const bool there =
        frames.is_object() && frames.contains(name) && frames[name].is_number_integer();
    return there ? frames[name].get<std::int64_t>() : 0;
  };
  return {number("seen"), number("without_distance"), number("missing")};
}

// The objects of trials that were measured before the program was started anew hold more than the
// store gives back: they stay as they were written.
std::string WithEarlierTrials(const std::string& text, const std::string& earlier_text) {
  if (earlier_text.empty()) return text;
  auto document = nlohmann::ordered_json::parse(text, nullptr, /*allow_exceptions=*/false);
  const auto earlier =
      nlohmann::ordered_json::parse(earlier_text, nullptr, /*allow_exceptions=*/false);
  if (document.is_discarded() || earlier.is_discarded() || !earlier.contains("trials")) return text;
  auto& trials = document["trials"];
  for (std::size_t i = 0; i < std::min(trials.size(), earlier["trials"].size()); ++i) {
    trials[i] = earlier["trials"][i];
  }
  return document.dump(2) + "\n";
}

}  // namespace

std::string NormFor(const std::optional<Person>& person, const QDate& today) {
  if (!person || !person->birth_year) return kAdults;
  const auto norm = DefaultNorm(today.year() - *person->birth_year, TargetType::kAccommodative);
  return norm ? std::string((*norm)->id) : kAdults;
}

SessionKeeper::SessionKeeper(AppContext& context)
    : context_(context), norm_(NormFor(context.person, context.store.Now().date())) {
  id_ = context.session == 0 && context.unwritten_session
            ? context.unwritten_session
            : std::make_shared<RowId>(context.session);
  if (*id_ != 0) {
    const auto session = context.store.FindSession(*id_);
    auto trials = context.store.Trials(*id_);
    if (!session || !trials) {
      error_ = !session ? session.error() : trials.error();
    } else {
      norm_ = session->setup.norm.toStdString();
      earlier_json_ = session->session_json;
      const EarlierCounts counts = CountsOf(earlier_json_);
      frames_ = counts.frames;
      frames_lost_ = counts.lost;
      frames_missing_ = counts.missing;
      for (StoredTrial& stored : *trials) {
        eyes_.push_back(std::move(stored.eyes));
        earlier_.push_back(std::move(stored.trial));
      }
    }
  }
  options_ = OptionsOf(ArgumentsOf(norm_));
}

PageId SessionKeeper::WayOut() const {
  return context_.session != 0 || context_.unwritten_session ? PageId::kComfort : PageId::kHome;
}

SessionSetup SessionKeeper::SetupOf(const LiveFacts& facts) const {
  SessionSetup setup;
  setup.person = context_.person ? context_.person->id : 0;
  setup.practice = context_.practice;
  setup.source = QString::fromStdString(facts.description);
  setup.profile_json = SerializeProfile(facts.profile);
  setup.norm = QString::fromStdString(norm_);
  setup.target = context_.store.Setting("target", "printed");
  return setup;
}

Session SessionKeeper::SessionOf(const MeasureFlow& flow, const LiveFacts& facts) const {
  Session session;
  session.software = "nearpoint " NEARPOINT_VERSION;
  session.target = ToText(TargetType::kAccommodative);  // a letter, printed or on the screen
  session.target_on = context_.store.Setting("target", "printed").toStdString();
  session.target_detail = context_.letter_detail;
  session.source = facts.description;
  session.frames = frames_;
  session.frames_lost = frames_lost_;
  session.frames_missing = frames_missing_;
  session.shared = facts.shared;
  session.trials = flow.trials();
  session.eyes = eyes_;
  std::vector<TrialAgreement> agreements;
  for (const TrialEyes& eyes : eyes_) agreements.push_back(eyes.agreement);
  session.agreement = CompareSession(agreements);
  session.estimate = flow.advice().estimate;
  session.set_aside = flow.effects();
  session.cut_off_from = CutOffSource(ArgumentsOf(norm_));
  if (context_.practice) {
    session.cautions.emplace_back("Practice with a simulated patient; this measured nobody.");
  }
  const RunCounts counts{frames_, frames_lost_, frames_missing_};
  for (std::string& caution : CautionsOfRun(facts.profile, counts)) {
    session.cautions.push_back(std::move(caution));
  }
  if (!context_.practice) {  // nobody measured the simulated person, and it does not grow
    for (std::string& caution : AgeCautions(facts.profile.made, DayOf(context_.store.Now()))) {
      session.cautions.push_back(std::move(caution));
    }
  }
  return session;
}

void SessionKeeper::AddFrame(const DistanceSample& sample) {
  // A source that was opened again has another clock; a trial never reaches over that. And nobody
  // takes longer over one than this.
  if (!lines_.empty() && sample.time < lines_.back().time) lines_.clear();
  constexpr std::size_t kMost = 20000;
  if (lines_.size() >= kMost) lines_.pop_front();
  lines_.push_back({sample.time, TrackLine(sample) + '\n', !sample.distance});
}

EyeStrips SessionKeeper::eye_strips() const {
  const bool may = !context_.practice && context_.person &&
                   EyePictureStore(context_.store).MayBeKept(context_.person->id);
  return may ? EyeStrips::kWithFrames : EyeStrips::kNone;
}

void SessionKeeper::AddEyeStrip(Time time, const std::string& jpeg) {
  if (!strips_.empty() && time < strips_.back().first) strips_.clear();
  constexpr std::size_t kMost = 3000;  // two minutes, some megabytes
  if (strips_.size() >= kMost) strips_.pop_front();
  strips_.emplace_back(time, jpeg);
}

// Of the moment that the report is about: the hand needed its time for the key.
std::vector<EyePicture> SessionKeeper::PicturesOf(const Trial& trial,
                                                  const LiveFacts& facts) const {
  constexpr Time kFarthest = FromMilliseconds(200);
  const std::pair<EyeMoment, std::optional<EventDistance>> moments[] = {
      {EyeMoment::kBreak, trial.break_point}, {EyeMoment::kRecovery, trial.recovery}};
  std::vector<EyePicture> pictures;
  for (const auto& [moment, event] : moments) {
    if (!event) continue;
    const Time wanted = event->time - facts.profile.lag;
    const auto apart = [&](const auto& strip) {
      return strip.first > wanted ? strip.first - wanted : wanted - strip.first;
    };
    const auto nearest = std::ranges::min_element(strips_, {}, apart);
    if (nearest == strips_.end() || apart(*nearest) > kFarthest) continue;
    pictures.push_back({trial.number, moment, nearest->second});
  }
  return pictures;
}

void SessionKeeper::CountFrames(StoredTrial& stored, const FlowTrial& trial) {
  if (!trial.samples.empty()) {
    const Time first = trial.samples.front().time;
    const Time last = trial.samples.back().time;
    for (const Line& line : lines_) {
      if (line.time < first || line.time > last) continue;
      stored.track_jsonl += line.text;
      ++frames_;
      if (line.lost) ++frames_lost_;
    }
  }
  lines_.clear();
}

// A source that was opened again counts from zero.
void SessionKeeper::CountMissing(std::int64_t missing) {
  frames_missing_ += missing >= missing_of_source_ ? missing - missing_of_source_ : missing;
  missing_of_source_ = missing;
}

Result<void> SessionKeeper::Keep(const FlowTrial& trial, const MeasureFlow& flow,
                                 const LiveFacts& facts) {
  StoredTrial stored;
  stored.trial = trial.trial;
  stored.events = trial.events;
  stored.eyes = trial.eyes;
  CountFrames(stored, trial);
  CountMissing(facts.missing);
  eyes_.push_back(trial.eyes);
  // All that is written, so that it can be tried again when this page is gone.
  struct Writing {
    SessionSetup setup;
    StoredTrial trial;
    Session session;
    SharedCalibration shared;
    std::vector<EyePicture> pictures;
    std::string earlier_json;
    bool trial_is_there = false;
  };
  auto writing = std::make_shared<Writing>(Writing{SetupOf(facts), stored, SessionOf(flow, facts),
                                                   facts.shared, PicturesOf(stored.trial, facts),
                                                   earlier_json_});
  strips_.clear();
  if (*id_ == 0) context_.unwritten_session = id_;
  return context_.pending->Do([writing, id = id_, &context = context_]() -> Result<void> {
    Store& store = context.store;
    if (*id == 0) {
      const auto begun = store.BeginSession(writing->setup);
      if (!begun) return tl::unexpected(begun.error());
      *id = *begun;
    }
    if (!writing->trial_is_there) {
      if (const auto found = store.FindSession(*id)) {
        writing->session.started_at = LocalMoment(found->started_at);
      }
      const std::string text =
          WithEarlierTrials(SerializeSession(writing->session), writing->earlier_json);
      auto added = store.AddTrial(*id, writing->trial, writing->shared, text);
      if (!added) return added;
      writing->trial_is_there = true;
    }
    while (!writing->pictures.empty()) {
      auto kept = EyePictureStore(store).Add(*id, writing->pictures.back());
      if (!kept) return kept;
      writing->pictures.pop_back();
    }
    // Whoever still looks at this session knows it by its number from now on.
    if (context.unwritten_session == id) {
      context.session = *id;
      context.unwritten_session.reset();
    }
    return {};
  });
}

}  // namespace nearpoint
