// Writes a session to the store as it goes: begun with the first trial, each trial the moment it
// ends, SESSION.json always as it stands. What the store does not take now waits (PendingWrites).
#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/guide/measure_flow.h"
#include "app/live/live.h"
#include "app/records/eye_picture.h"
#include "app/store/store.h"
#include "app/window/app_context.h"
#include "app/window/trial_keeper.h"

namespace nearpoint {

class SessionKeeper : public TrialKeeper {
 public:
  // Goes on with the context's session if there is one, else begins a new one with the first trial.
  explicit SessionKeeper(AppContext& context);

  // The trials that were there already.
  [[nodiscard]] const std::vector<Trial>& earlier() const override { return earlier_; }
  // What the answer is held against: the usual limit for this person's age.
  [[nodiscard]] const EstimateOptions& options() const override { return options_; }
  [[nodiscard]] const std::optional<Error>& error() const override { return error_; }
  [[nodiscard]] PageId After() const override { return PageId::kComfort; }
  [[nodiscard]] PageId WayOut() const override;

  [[nodiscard]] EyeStrips eye_strips() const override;
  void AddFrame(const DistanceSample& sample) override;
  void AddEyeStrip(Time time, const std::string& jpeg) override;
  [[nodiscard]] Result<void> Keep(const FlowTrial& trial, const MeasureFlow& flow,
                                  const LiveFacts& facts) override;

 private:
  [[nodiscard]] SessionSetup SetupOf(const LiveFacts& facts) const;
  [[nodiscard]] std::vector<EyePicture> PicturesOf(const Trial& trial,
                                                   const LiveFacts& facts) const;
  [[nodiscard]] Session SessionOf(const MeasureFlow& flow, const LiveFacts& facts) const;
  void CountFrames(StoredTrial& stored, const FlowTrial& trial);
  void CountMissing(std::int64_t missing);

  AppContext& context_;
  std::string norm_;
  EstimateOptions options_;
  std::vector<Trial> earlier_;
  std::string earlier_json_;     // SESSION.json as it was when this part began
  std::vector<TrialEyes> eyes_;  // trial by trial, those before this part began among them
  struct Line {
    Time time;
    std::string text;
    bool lost;
  };
  std::deque<Line> lines_;                           // of the track; from the trial that ends next
  std::deque<std::pair<Time, std::string>> strips_;  // likewise
  // Of the whole session.
  std::int64_t frames_ = 0;
  std::int64_t frames_lost_ = 0;
  std::int64_t frames_missing_ = 0;
  std::int64_t missing_of_source_ = 0;  // as the source that runs has counted so far
  // The session in the store; 0 until it was begun there. What waits to be written shares it.
  std::shared_ptr<RowId> id_;
  std::optional<Error> error_;
};

// The id of the limit for that person: by age, for adults where the age is not said.
[[nodiscard]] std::string NormFor(const std::optional<Person>& person, const QDate& today);

}  // namespace nearpoint
