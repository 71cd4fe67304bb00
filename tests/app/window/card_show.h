// Sources for the calibration by the card: somebody who shows a card in tilts, and a simulated
// person with the card on the forehead.
#pragma once

#include <chrono>
#include <opencv2/imgproc.hpp>
#include <thread>

#include "app/live/live.h"
#include "app/live/open_camera.h"
#include "app/live/practice_card.h"
#include "tests/support/card_studio.h"
#include "vision/card/draw_pattern.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

// Somebody who holds a card in one tilt after the other, each for two pictures.
class CardShow : public FrameSource {
 public:
  static CameraIntrinsics Webcam() {
    CameraIntrinsics camera;
    camera.width = 800;
    camera.height = 600;
    camera.fx = camera.fy = 760;
    camera.cx = 402;
    camera.cy = 296;
    return camera;
  }
  // tilts: after them the last is held on for ever; 0: forty, and then the source ends.
  explicit CardShow(drawn::DrawnCard card, std::size_t tilts = 0)
      : card_(std::move(card)), tilts_(tilts) {
    info_.description = "somebody with a card";
    info_.width = Webcam().width;
    info_.height = Webcam().height;
    info_.live = true;
    std::mt19937_64 random(3);
    poses_ = drawn::DrawPoses(Webcam(), 40, random, 35, 0.45);
  }
  [[nodiscard]] const SourceInfo& info() const override { return info_; }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    auto pose = static_cast<std::size_t>(next_ / 2);
    const bool held_on = tilts_ > 0 && pose >= tilts_;
    if (held_on) pose = tilts_ - 1;
    if (pose >= poses_.size()) return std::optional<Frame>();
    if (held_on) std::this_thread::sleep_for(std::chrono::milliseconds(20));
    if (next_ % 2 == 0 && !held_on) {
      drawn::CardScene scene;
      scene.seed = 100 + pose;
      cv::cvtColor(TakePicture(Webcam(), {{&card_, poses_[pose]}}, scene), picture_,
                   cv::COLOR_GRAY2BGR);
    }
    const Time time = FromMilliseconds(33.0 * static_cast<double>(next_));
    return std::optional(Frame(next_++, time, picture_.clone()));
  }

 private:
  drawn::DrawnCard card_;
  std::size_t tilts_;
  SourceInfo info_;
  std::vector<drawn::CardPose> poses_;
  cv::Mat picture_;
  std::int64_t next_ = 0;
};

inline OpenLiveSource ShowCard(const drawn::DrawnCard& card, std::size_t tilts = 0) {
  return [card, tilts]() -> Result<LiveSource> {
    LiveSource source;
    source.frames = std::make_unique<CardShow>(card, tilts);
    source.profile.camera = OrdinaryWebcam(CardShow::Webcam().width, CardShow::Webcam().height);
    return source;
  };
}

// The sheet on a table with a bank card on its place, printed at this size; never ends.
class SheetShow : public FrameSource {
 public:
  explicit SheetShow(double print) {
    info_.description = "a sheet on a table";
    info_.width = CardShow::Webcam().width;
    info_.height = CardShow::Webcam().height;
    info_.live = true;
    cv::cvtColor(drawn::TakeSheetPicture(CardShow::Webcam(), print, 6), picture_,
                 cv::COLOR_GRAY2BGR);
  }
  [[nodiscard]] const SourceInfo& info() const override { return info_; }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    const Time time = FromMilliseconds(33.0 * static_cast<double>(next_));
    return std::optional(Frame(next_++, time, picture_.clone()));
  }

 private:
  SourceInfo info_;
  cv::Mat picture_;
  std::int64_t next_ = 0;
};

inline OpenLiveSource ShowSheet(double print) {
  return [print]() -> Result<LiveSource> {
    LiveSource source;
    source.frames = std::make_unique<SheetShow>(print);
    source.profile.camera = CardShow::Webcam();
    return source;
  };
}

inline simulate::PatientOptions CardOnForehead() {
  simulate::PatientOptions patient;
  patient.optics.camera = simulate::PinholeCamera(960, 540, Angle::Degrees(55));
  patient.target_mm = {0, 0, 0};
  patient.behaviour.trials = 1;
  patient.behaviour.start = Length::Millimeters(450);
  patient.behaviour.hold = std::chrono::seconds(20);
  patient.behaviour.turn = Angle::Degrees(12);
  patient.behaviour.frames_per_second = 8;
  simulate::CardProp card;
  card.picture = DrawCardPattern(10);
  patient.card = card;
  return patient;
}

inline OpenLiveSource ShowCardOnForehead() {
  return []() -> Result<LiveSource> {
    LiveSource source;
    auto patient = simulate::MakePatient(CardOnForehead());
    if (!patient) return tl::unexpected(patient.error());
    source.frames = *std::move(patient);
    source.profile = simulate::TrueProfile(CardOnForehead());
    source.simulated = true;
    return source;
  };
}

// The simulated person who lays the card on the nose, twice as quickly as in practice: held up
// after 3 s of its clock, on the nose after 6.5. The light goes out at lights_out.
class TouchShow : public FrameSource {
 public:
  TouchShow(std::unique_ptr<FrameSource> person, std::optional<Time> lights_out)
      : person_(std::move(person)), lights_out_(lights_out) {}
  [[nodiscard]] const SourceInfo& info() const override { return person_->info(); }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    auto frame = person_->Next();
    if (!lights_out_ || !frame || !*frame || (*frame)->time() < *lights_out_) return frame;
    constexpr double kLeft = 0.04;
    return std::optional(Frame((*frame)->index(), (*frame)->time(), (*frame)->bgr() * kLeft));
  }

 private:
  std::unique_ptr<FrameSource> person_;
  std::optional<Time> lights_out_;
};

inline simulate::PatientOptions CardToTheNose() {
  simulate::PatientOptions person = CardOnForehead();
  person.optics.camera = CardPracticeCamera();
  person.behaviour.start = Length::Millimeters(400);
  person.behaviour.hold = std::chrono::seconds(12);
  person.behaviour.turn = Angle();
  person.card->place = simulate::CardPlace::kTouch;
  return person;
}

inline OpenLiveSource ShowTouch(const simulate::PatientOptions& options,
                                std::optional<Time> lights_out = {}) {
  return [options, lights_out]() -> Result<LiveSource> {
    auto patient = simulate::MakePatient(options);
    if (!patient) return tl::unexpected(patient.error());
    LiveSource source;
    source.frames = std::make_unique<TouchShow>(*std::move(patient), lights_out);
    source.profile = simulate::TrueProfile(options);
    source.simulated = true;
    return source;
  };
}

}  // namespace nearpoint
