// One trial as a picture: distance over time with the two reports, and below it how far both eyes
// turned in against what the target asked for.
#pragma once

#include <QWidget>

#include "app/store/store.h"
#include "app/window/trace.h"

namespace nearpoint {

class TraceView : public QWidget {
  Q_OBJECT

 public:
  explicit TraceView(QWidget* parent = nullptr);
  void SetTrial(const StoredTrial& trial);
  // For the clinician: each eye alone instead of both together, and when the eyes were seen to
  // leave the target and to come back to it. Before SetTrial.
  struct Seen {
    std::optional<Time> left, back;
  };
  void SetClinical(const Seen& seen);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  struct Panel;
  void PaintDistance(QPainter& painter, const Panel& panel) const;
  void PaintTurn(QPainter& painter, const Panel& panel) const;
  void PaintSeen(QPainter& painter, const Panel& panel) const;
  void PaintTime(QPainter& painter, const Panel& panel) const;

  bool clinical_ = false;
  Seen seen_;
  Trial trial_;
  TrialTrace trace_;
};

}  // namespace nearpoint
