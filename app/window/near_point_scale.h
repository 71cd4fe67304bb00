// The near point with its band on a distance scale: the eye at one end, the band where the target
// turned into two, the usual limit as a line across.
#pragma once

#include <QWidget>

#include "app/measure/estimate.h"

namespace nearpoint {

class NearPointScale : public QWidget {
  Q_OBJECT

 public:
  // estimate: in the corneal plane, millimetres. show_limit: a usual limit is known.
  NearPointScale(const Estimate& estimate, bool show_limit, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  [[nodiscard]] double X(double mm) const;

  Estimate estimate_;
  bool show_limit_;
  double farthest_mm_;
};

}  // namespace nearpoint
