#include "tests/support/flash_counter.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace nearpoint::testing {
namespace {

constexpr int kCell = 8;
constexpr int kBlockColumns = 341 / kCell;
constexpr int kBlockRows = 256 / kCell;
constexpr int kAllowedChanges = 6;  // three flashes
constexpr Time kSecond = std::chrono::seconds(1);

// Of the sRGB curve.
const std::array<double, 256>& Linear() {
  static const auto kTable = [] {
    std::array<double, 256> table{};
    for (std::size_t i = 0; i < table.size(); ++i) {
      const double v = static_cast<double>(i) / 255;
      table[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    }
    return table;
  }();
  return kTable;
}

struct Colour {
  double r = 0, g = 0, b = 0;
  [[nodiscard]] double luminance() const { return 0.2126 * r + 0.7152 * g + 0.0722 * b; }
  [[nodiscard]] bool is_red() const { return r + g + b > 0 && r / (r + g + b) >= 0.8; }
  [[nodiscard]] double redness() const { return std::max(0.0, (r - g - b) * 320); }
};

Colour MeanOf(const QImage& picture, int column, int row) {
  Colour mean;
  for (int y = row * kCell; y < (row + 1) * kCell; ++y) {
    const auto* line = reinterpret_cast<const QRgb*>(picture.constScanLine(y));
    for (int x = column * kCell; x < (column + 1) * kCell; ++x) {
      mean.r += Linear()[static_cast<std::size_t>(qRed(line[x]))];
      mean.g += Linear()[static_cast<std::size_t>(qGreen(line[x]))];
      mean.b += Linear()[static_cast<std::size_t>(qBlue(line[x]))];
    }
  }
  constexpr double kPixels = kCell * kCell;
  return {mean.r / kPixels, mean.g / kPixels, mean.b / kPixels};
}

}  // namespace

void FlashCounter::Change(Follower& follower, Time time, int direction) {
  follower.direction = direction;
  follower.changes.push_back(time);
}

void FlashCounter::Add(Time time, const QImage& as_it_is) {
  const QImage picture = as_it_is.convertToFormat(QImage::Format_RGB32);
  if (luminance_.empty()) {
    columns_ = picture.width() / kCell;
    rows_ = picture.height() / kCell;
    luminance_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
    red_.resize(luminance_.size());
  }
  // An extreme goes with the value while that goes on in its direction; a turn by more than the
  // step is a change.
  const auto follow = [time](Follower& f, double value, double step, bool counts, bool is_red) {
    if (!f.begun) {
      f.begun = true;
      f.extreme = value;
      f.extreme_red = is_red;
      return;
    }
    const bool up = value > f.extreme;
    const bool onward = f.direction != 0 && up == (f.direction > 0);
    if (onward || (std::abs(value - f.extreme) >= step && counts)) {
      if (!onward) Change(f, time, up ? 1 : -1);
      f.extreme = value;
      f.extreme_red = is_red;
    }
  };
  constexpr double kStep = 0.1, kBright = 0.8, kRedStep = 20;
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) {
      const auto at = static_cast<std::size_t>(row * columns_ + column);
      const Colour colour = MeanOf(picture, column, row);
      const double bright = colour.luminance();
      Follower& light = luminance_[at];
      follow(light, bright, kStep, std::min(bright, light.extreme) < kBright, false);
      Follower& red = red_[at];
      follow(red, colour.redness(), kRedStep, colour.is_red() || red.extreme_red, colour.is_red());
    }
  }
  Judge(time);
}

void FlashCounter::Judge(Time time) {
  std::vector<bool> flashes(luminance_.size());
  for (auto* followers : {&luminance_, &red_}) {
    for (std::size_t i = 0; i < followers->size(); ++i) {
      auto& changes = (*followers)[i].changes;
      std::erase_if(changes, [time](Time t) { return time - t >= kSecond; });
      const int count = static_cast<int>(changes.size());
      if (count > kAllowedChanges) flashes[i] = true;
      if (count <= most_changes_) continue;
      most_changes_ = count;
      const int at = static_cast<int>(i);
      where_ = std::to_string(at % columns_ * kCell) + "," + std::to_string(at / columns_ * kCell) +
               " at " + std::to_string(ToSeconds(time)) + " s";
    }
  }
  if (std::ranges::find(flashes, true) == flashes.end()) return;
  const int block_columns = std::min(kBlockColumns, columns_);
  const int block_rows = std::min(kBlockRows, rows_);
  for (int top = 0; top + block_rows <= rows_; ++top) {
    for (int left = 0; left + block_columns <= columns_; ++left) {
      int flashing = 0;
      for (int row = top; row < top + block_rows; ++row) {
        for (int column = left; column < left + block_columns; ++column) {
          flashing += flashes[static_cast<std::size_t>(row * columns_ + column)] ? 1 : 0;
        }
      }
      const double share = static_cast<double>(flashing) / (kBlockColumns * kBlockRows);
      worst_share_ = std::max(worst_share_, share);
    }
  }
}

}  // namespace nearpoint::testing
