// A window of a test's own: a store in a folder that goes away, no sound, a simulated person as
// fast as the machine can draw one.
#pragma once

#include <QApplication>
#include <QDateTime>
#include <QStringList>
#include <QTimeZone>
#include <chrono>
#include <optional>
#include <utility>
#include <vector>

#include "app/live/live.h"
#include "app/live/practice_patient.h"
#include "app/sound/sound.h"
#include "app/store/store.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/main_window.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {

// The day on which all tests take place.
inline QDateTime TestNow() { return {QDate(2026, 3, 14), QTime(9, 26), QTimeZone::utc()}; }

// The practice patient in a smaller picture, without waiting.
inline PracticeOptions FastPractice() {
  PracticeOptions options = DefaultPractice();
  options.patient.optics.camera = simulate::PinholeCamera(960, 540, Angle::Degrees(65));
  options.real_time = false;
  options.presses = false;
  return options;
}

// The same person with less way to go and fewer pictures of it, for tests that measure to the end.
// Still at 18 mm/s, so that the pace is what it would be.
inline PracticeOptions Quickly(PracticeOptions options) {
  options.real_time = false;
  options.patient.optics.aperture = Length();
  options.patient.behaviour.start = Length::Millimeters(325);
  options.patient.behaviour.withdrawal = Speed::MillimetersPerSecond(40);
  options.patient.behaviour.frames_per_second = 12;
  return options;
}

// What a person would have heard.
class RecordedSound : public NoSound {
 public:
  struct Tone {
    PaceTone pace;
    double height;
  };
  void SetPace(PaceTone pace, double height) override { tones.push_back({pace, height}); }
  void PlayHeard(bool two) override { heard.push_back(two); }
  void Say(const QString& sentence) override { said.append(sentence); }

  std::vector<Tone> tones;
  std::vector<bool> heard;
  QStringList said;
};

class Home {
 public:
  explicit Home(const QString& file = {})
      : file_(file.isEmpty() ? QString::fromStdString(folder_ / "nearpoint.db") : file),
        store_(Store::Open(file_, TestNow).value()),
        context_(store_, live_, sound_) {
    context_.open_source = [](const AppContext&) { return OpenPractice(FastPractice()); };
    // Nobody here waits for what may not be answered at once.
    context_.ticks = [ticks = std::chrono::milliseconds{}]() mutable {
      return ticks += std::chrono::seconds(10);
    };
  }

  // Makes the window and its first page.
  MainWindow& Open(bool practice = false) {
    const PageId first = Begin(context_, practice);
    window_.emplace(context_);
    window_->Show(first);
    window_->show();
    return *window_;
  }

  [[nodiscard]] MainWindow& window() { return *window_; }
  [[nodiscard]] Store& store() { return store_; }
  [[nodiscard]] Live& live() { return live_; }
  [[nodiscard]] AppContext& context() { return context_; }
  [[nodiscard]] RecordedSound& sound() { return sound_; }
  [[nodiscard]] const TempFolder& folder() const { return folder_; }
  [[nodiscard]] const QString& file() const { return file_; }

 private:
  TempFolder folder_;
  QString file_;
  Store store_;
  Live live_;
  RecordedSound sound_;
  AppContext context_;
  std::optional<MainWindow> window_;
};

}  // namespace nearpoint
