// What a person sees of the target: one, blurred, or two. Drawn, so that words need not do it
// alone.
#pragma once

#include <QRectF>
#include <QWidget>

class QPainter;

namespace nearpoint::percept {

enum class Kind { kOne, kBlurred, kTwo };

// separation: of the two letters, in letter heights.
void Draw(QPainter& painter, const QRectF& place, Kind kind, double separation = 0.5);

}  // namespace nearpoint::percept

namespace nearpoint {

class PerceptPicture : public QWidget {
  Q_OBJECT

 public:
  explicit PerceptPicture(percept::Kind kind, QWidget* parent = nullptr);
  void SetKind(percept::Kind kind, double separation = 0.5);
  // Says nothing of what it shows: while it is a question.
  void SetSecret(bool secret);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  void Name();
  percept::Kind kind_;
  double separation_ = 0.5;
  bool secret_ = false;
};

}  // namespace nearpoint
