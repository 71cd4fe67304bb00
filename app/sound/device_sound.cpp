#include "app/sound/device_sound.h"

#include <QAudioDevice>
#include <QAudioFormat>
#include <QAudioSink>
#include <QMediaDevices>
#include <QTextToSpeech>
#include <algorithm>

namespace nearpoint {

void ToneStream::SetPace(PaceTone pace, double height) {
  const std::lock_guard lock(mutex_);
  maker_.SetPace(pace, height);
}

void ToneStream::PlayHeard(bool two) {
  const std::lock_guard lock(mutex_);
  maker_.PlayHeard(two);
}

// There is always more.
qint64 ToneStream::bytesAvailable() const { return kSampleRate + QIODevice::bytesAvailable(); }

qint64 ToneStream::readData(char* data, qint64 size) {
  const std::lock_guard lock(mutex_);
  const auto count = static_cast<std::size_t>(size) / sizeof(std::int16_t);
  maker_.Fill({reinterpret_cast<std::int16_t*>(data), count});
  return static_cast<qint64>(count * sizeof(std::int16_t));
}

DeviceSound::DeviceSound(const QLocale& language, QObject* parent) : QObject(parent) {
  stream_.open(QIODevice::ReadOnly | QIODevice::Unbuffered);
  const QAudioDevice device = QMediaDevices::defaultAudioOutput();
  if (!device.isNull()) {
    QAudioFormat format;
    format.setSampleRate(kSampleRate);
    format.setChannelCount(1);
    format.setSampleFormat(QAudioFormat::Int16);
    if (device.isFormatSupported(format)) {
      sink_ = std::make_unique<QAudioSink>(device, format);
      // A press must be heard at once.
      sink_->setBufferSize(kSampleRate / 10 * 2);
      sink_->start(&stream_);
    }
  }
  if (sink_) SetLanguage(language);
}

DeviceSound::~DeviceSound() {
  if (sink_) sink_->stop();
}

void DeviceSound::SetPace(PaceTone pace, double height) {
  stream_.SetPace(on_ ? pace : PaceTone::kSilent, height);
}

void DeviceSound::PlayHeard(bool two) {
  if (on_) stream_.PlayHeard(two);
}

void DeviceSound::Say(const QString& sentence) {
  if (!on_ || !has_voice()) return;
  voice_->stop();
  voice_->say(sentence);
}

void DeviceSound::SetOn(bool on) {
  on_ = on;
  if (on) return;
  stream_.SetPace(PaceTone::kSilent, 0);
  if (voice_) voice_->stop();
}

bool DeviceSound::has_voice() const { return voice_ != nullptr && voice_speaks_language_; }

void DeviceSound::SetLanguage(const QLocale& language) {
  if (!voice_) {
    // Without an engine the default one complains on standard error; so ask first.
    const QStringList engines = QTextToSpeech::availableEngines();
    const auto real =
        std::ranges::find_if(engines, [](const QString& name) { return name != "mock"; });
    if (real == engines.end()) return;
    voice_ = std::make_unique<QTextToSpeech>(*real);
  }
  const auto locales = voice_->availableLocales();
  const auto fits = std::ranges::find_if(
      locales, [&](const QLocale& l) { return l.language() == language.language(); });
  voice_speaks_language_ = voice_->state() != QTextToSpeech::Error && fits != locales.end();
  if (voice_speaks_language_) voice_->setLocale(*fits);
}

}  // namespace nearpoint
