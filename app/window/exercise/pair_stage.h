// Where the pair is shown: two figures so many dots apart, or the one mark to look at between
// repetitions.
#pragma once

#include <QWidget>
#include <optional>

#include "vision/core/units.h"

namespace nearpoint {

enum class StageShows { kNothing, kMark, kPair };

class PairStage : public QWidget {
  Q_OBJECT

 public:
  explicit PairStage(QWidget* parent = nullptr);
  // Sizes in dots of the screen.
  void SetPair(int separation_dots, double figure_dots);
  void Show(StageShows what);
  // What the simulated person sees: the fused figure between the two, small, above the pair.
  void SetPercept(std::optional<bool> one);
  [[nodiscard]] StageShows shows() const { return shows_; }
  [[nodiscard]] int separation_dots() const { return separation_dots_; }

 signals:
  void Resized();

 protected:
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent*) override { emit Resized(); }

 private:
  void Name();
  StageShows shows_ = StageShows::kNothing;
  int separation_dots_ = 0;
  double figure_dots_ = 100;
  std::optional<bool> one_;
};

}  // namespace nearpoint
