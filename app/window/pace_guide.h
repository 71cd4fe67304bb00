// How near the person is and how near one would be who keeps the pace: a lane from far to near.
#pragma once

#include <QWidget>

#include "app/guide/measure_flow.h"

namespace nearpoint {

class PaceGuide : public QWidget {
  Q_OBJECT

 public:
  explicit PaceGuide(QWidget* parent = nullptr);
  void SetState(const FlowState& state);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  [[nodiscard]] double PlaceOf(Length distance, const QRectF& lane) const;

  FlowState state_;
};

}  // namespace nearpoint
