#include "app/window/exercise/dot_size.h"

#include <QScreen>
#include <QWidget>

namespace nearpoint {
namespace {

constexpr double kStatedRelativeSd = kStatedPercent / 100.0;
// As ScaleFromOutline (calibration/screen.h) takes a matched edge.
constexpr double kCardRelativeSd = 0.3 / 85.60;
constexpr double kLeastMm = 0.03;  // of a dot
constexpr double kMostMm = 1.5;

QString KeyOf(const QScreen& screen) {
  const QSizeF dots = QSizeF(screen.size()) * screen.devicePixelRatio();
  return QString("screen_mm_per_dot/%1/%2x%3")
      .arg(screen.name())
      .arg(qRound(dots.width()))
      .arg(qRound(dots.height()));
}

bool Likely(double mm_per_dot) { return mm_per_dot >= kLeastMm && mm_per_dot <= kMostMm; }

}  // namespace

DotSize DotSizeOf(const QWidget& widget, const Store& store) {
  const QScreen* const screen = widget.screen();
  if (screen == nullptr) return {};
  const double kept = store.Setting(KeyOf(*screen)).toDouble();
  if (Likely(kept)) return {kept, kCardRelativeSd, true};
  const double dots = screen->size().width() * screen->devicePixelRatio();
  const double stated = dots > 0 ? screen->physicalSize().width() / dots : 0;
  if (Likely(stated)) return {stated, kStatedRelativeSd, false};
  return {};
}

Result<void> KeepDotSize(const QWidget& widget, double mm_per_dot, Store& store) {
  const QScreen* const screen = widget.screen();
  if (screen == nullptr || !Likely(mm_per_dot)) {
    return Fail(ErrorCode::kBadValue,
                "The size of the card on the screen cannot be right; expected dots of 0.03 to 1.5 "
                "mm.");
  }
  return store.SetSetting(KeyOf(*screen), QString::number(mm_per_dot, 'g', 8));
}

}  // namespace nearpoint
