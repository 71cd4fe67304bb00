// Sound of this machine: our own tone through QAudioSink, a voice through Qt's text to speech.
#pragma once

#include <QIODevice>
#include <QObject>
#include <memory>
#include <mutex>

#include "app/sound/sound.h"
#include "app/sound/tone.h"

class QAudioSink;
class QTextToSpeech;

namespace nearpoint {

// The stream of tones. The audio side may read it from a thread of its own.
class ToneStream : public QIODevice {
  Q_OBJECT

 public:
  void SetPace(PaceTone pace, double height);
  void PlayHeard(bool two);
  [[nodiscard]] bool isSequential() const override { return true; }
  [[nodiscard]] qint64 bytesAvailable() const override;

 protected:
  qint64 readData(char* data, qint64 size) override;
  qint64 writeData(const char*, qint64) override { return -1; }

 private:
  std::mutex mutex_;
  ToneMaker maker_;  // guarded by mutex_
};

// Silent where there is no device, and without a voice where there is none for the language.
class DeviceSound : public QObject, public Sound {
  Q_OBJECT

 public:
  explicit DeviceSound(const QLocale& language, QObject* parent = nullptr);
  ~DeviceSound() override;

  void SetPace(PaceTone pace, double height) override;
  void PlayHeard(bool two) override;
  void Say(const QString& sentence) override;
  void SetOn(bool on) override;
  [[nodiscard]] bool on() const override { return on_; }
  [[nodiscard]] bool has_device() const override { return sink_ != nullptr; }
  [[nodiscard]] bool has_voice() const override;
  void SetLanguage(const QLocale& language);

 private:
  bool on_ = true;
  ToneStream stream_;
  std::unique_ptr<QAudioSink> sink_;
  std::unique_ptr<QTextToSpeech> voice_;
  bool voice_speaks_language_ = false;
};

}  // namespace nearpoint
