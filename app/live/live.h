// The vision side as the window sees it: a source and a tracker in a thread of their own, connected
// by a bounded queue. All methods and signals belong to the thread of the window.
#pragma once

#include <QObject>
#include <QString>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/live/card_look.h"
#include "app/live/live_frame.h"
#include "app/measure/estimate.h"
#include "calibration/profile.h"
#include "vision/camera/frame_source.h"
#include "vision/core/result.h"
#include "vision/pipeline/tracker.h"

namespace nearpoint {

// A source together with what only some sources can do. Made and used in the vision thread, but for
// begin_trial.
struct LiveSource {
  std::unique_ptr<FrameSource> frames;
  // The profile these pictures are to be measured with.
  Profile profile;
  TrackerOptions tracker;
  // Presses of a simulated patient up to the frame that came last; empty for people.
  std::function<std::vector<LivePress>()> presses;
  // Whether a simulated patient saw two in the frame that came last; empty for people.
  std::function<bool()> sees_two;
  // Tells a simulated patient that it may perform that trial. Called from the window's thread.
  std::function<void(int number)> begin_trial;
  // A simulated patient: every frame is measured, however long it takes, at the speed of its clock.
  bool simulated = false;
};
using OpenLiveSource = std::function<Result<LiveSource>()>;

// What is known of the source that runs.
struct LiveFacts {
  Profile profile;
  std::string description;
  bool live = false;  // a camera, not a recording
  bool simulated = false;
  // The part of the uncertainty that all frames share, as the tracker last knew it.
  SharedCalibration shared;
  std::int64_t frames = 0;
  std::int64_t missing = 0;  // lost before they were measured
};

class LiveWorker;

// Whether frames come with the strip of both eyes: only where the person agreed to have it kept.
enum class EyeStrips { kNone, kWithFrames };

class Live : public QObject {
  Q_OBJECT

 public:
  explicit Live(QObject* parent = nullptr);
  ~Live() override;

  // Stops what runs and starts `open` in the vision thread. Opening and loading takes a second or
  // so; Started() or Failed() tell how it went.
  void Start(OpenLiveSource open, EyeStrips strips = EyeStrips::kNone);
  // The same for a calibration: Looked() in place of FrameArrived(). Whether the source is a live
  // one stands in the facts.
  void StartCard(OpenLiveSource open, CardTask task);
  void Stop();
  [[nodiscard]] bool running() const;

  // The moment of a press, on the clock of the frames. A simulated patient lives on the clock of
  // the frames that were delivered, a person on that of the machine, which live frames are stamped
  // with.
  [[nodiscard]] Time Now() const;
  // For a simulated patient: that trial may begin. Said twice of the same trial it means nothing.
  void BeginTrial(int number);

  [[nodiscard]] LiveFacts facts() const;

 signals:
  void Started();
  void FrameArrived(const nearpoint::LiveFrame& frame);
  void PressArrived(const nearpoint::LivePress& press);
  void Looked(const nearpoint::CardLook& look);
  // The source or the models failed, or the source came to its end; Start() may be called again.
  void Failed(const nearpoint::Error& error);

 private:
  void Begin(OpenLiveSource open, std::optional<CardTask> task, EyeStrips strips);
  void Drain();
  std::unique_ptr<LiveWorker> worker_;
  bool simulated_ = false;
  Time last_delivered_{};
};

}  // namespace nearpoint
