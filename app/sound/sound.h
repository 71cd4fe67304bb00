// What the person hears. All of it can be switched off, and nothing depends on it.
#pragma once

#include <QLocale>
#include <QString>

namespace nearpoint {

// How the pace tone sounds.
enum class PaceTone {
  kSilent,   // nothing is asked of the person
  kGood,     // a soft steady tone: this pace is right
  kTooFast,  // the tone trembles: slower
  kTooSlow,  // short tones with pauses: on, please
};

class Sound {
 public:
  virtual ~Sound() = default;
  // height: 0 far .. 1 near; the tone rises with it.
  virtual void SetPace(PaceTone pace, double height) = 0;
  // One short sound: a report was heard ("two": falling, "one again": rising).
  virtual void PlayHeard(bool two) = 0;
  // Reads the sentence aloud where a voice for the language exists; ends what is still being said.
  virtual void Say(const QString& sentence) = 0;
  virtual void SetOn(bool on) = 0;
  [[nodiscard]] virtual bool on() const = 0;
  // What this machine can do, for the settings page.
  [[nodiscard]] virtual bool has_device() const = 0;
  [[nodiscard]] virtual bool has_voice() const = 0;
};

// Says and plays nothing: for machines without a sound device, and for tests.
class NoSound : public Sound {
 public:
  void SetPace(PaceTone, double) override {}
  void PlayHeard(bool) override {}
  void Say(const QString&) override {}
  void SetOn(bool on) override { on_ = on; }
  [[nodiscard]] bool on() const override { return on_; }
  [[nodiscard]] bool has_device() const override { return false; }
  [[nodiscard]] bool has_voice() const override { return false; }

 private:
  bool on_ = true;
};

}  // namespace nearpoint
