#include "app/print/sheet_pictures.h"

#include <QFont>
#include <QPainterPath>
#include <QPolygonF>
#include <algorithm>
#include <cmath>

namespace nearpoint {
namespace {

const QColor kPaper(255, 255, 255);
const QColor kShade(225, 225, 225);
const QColor kInk(30, 30, 30);

// Drawings are made on a field of 100 by 70 units.
class Sketch {
 public:
  Sketch(const QRectF& box, QPainter& painter) : p(painter) {
    p.save();
    const double scale = std::min(box.width() / 100, box.height() / 70);
    p.translate(box.center());
    p.scale(scale, scale);
    p.translate(-50, -35);
    Pen(1.2);
    p.setBrush(Qt::NoBrush);
  }
  ~Sketch() { p.restore(); }
  Sketch(const Sketch&) = delete;
  Sketch& operator=(const Sketch&) = delete;

  void Pen(double width, Qt::PenStyle style = Qt::SolidLine) {
    QPen pen(kInk, width, style, Qt::RoundCap, Qt::RoundJoin);
    p.setPen(pen);
  }
  void Fill(const QPolygonF& shape, const QColor& colour = kPaper) {
    p.setBrush(colour);
    p.drawPolygon(shape);
    p.setBrush(Qt::NoBrush);
  }
  void Box(double x, double y, double w, double h, const QColor& colour = kPaper) {
    Fill(QPolygonF(QRectF(x, y, w, h)), colour);
  }
  // Dots that stand for the pattern, inside a quadrilateral (top left, then clockwise).
  void Pattern(const QPolygonF& q) {
    p.save();
    p.setBrush(kInk);
    p.setPen(Qt::NoPen);
    const auto at = [&](double u, double v) {
      return q[0] * ((1 - u) * (1 - v)) + q[1] * (u * (1 - v)) + q[2] * (u * v) +
             q[3] * ((1 - u) * v);
    };
    for (int i = 0; i < 5; ++i) {
      for (int j = 0; j < 3; ++j) {
        const double u = 0.07 + i * 0.18, v = 0.1 + j * 0.29;
        p.drawPolygon(
            QPolygonF({at(u, v), at(u + 0.13, v), at(u + 0.13, v + 0.21), at(u, v + 0.21)}));
      }
    }
    p.restore();
  }
  void Arrow(const QPointF& from, const QPointF& to) {
    p.drawLine(from, to);
    const QPointF way = to - from;
    const double length = std::hypot(way.x(), way.y());
    const QPointF unit = way / length, side(-unit.y(), unit.x());
    p.drawLine(to, to - unit * 4 + side * 2.5);
    p.drawLine(to, to - unit * 4 - side * 2.5);
  }
  void Tick(double x, double y) {
    Pen(2.4);
    p.drawPolyline(QPolygonF({{x, y}, {x + 4, y + 5}, {x + 11, y - 6}}));
    Pen(1.2);
  }
  void Cross(double x, double y) {
    Pen(2.4);
    p.drawLine(QPointF(x, y - 5), QPointF(x + 10, y + 5));
    p.drawLine(QPointF(x, y + 5), QPointF(x + 10, y - 5));
    Pen(1.2);
  }
  void Write(double x, double y, double size, const QString& text) {
    QFont font("DejaVu Sans");
    font.setPixelSize(100);
    p.save();
    p.setFont(font);
    p.translate(x, y);
    p.scale(size / 100, size / 100);
    p.drawText(QPointF(0, 0), text);
    p.restore();
  }
  // A laptop, its lens at the top of the screen.
  void Laptop(double x, double y) {
    Box(x, y, 46, 30, kShade);
    Box(x + 3, y + 4, 40, 23);
    p.setBrush(kInk);
    p.drawEllipse(QPointF(x + 23, y + 2), 0.9, 0.9);
    p.setBrush(Qt::NoBrush);
    Fill(QPolygonF({{x - 4, y + 36}, {x + 50, y + 36}, {x + 46, y + 30}, {x, y + 30}}), kShade);
  }

  QPainter& p;
};

void Print(Sketch& s) {
  // A printer, and two settings of which one is wrong.
  s.Box(8, 30, 36, 18, kShade);
  s.Box(14, 12, 24, 18);
  s.Box(14, 42, 24, 20);
  s.Pattern(QPolygonF({{16, 45}, {36, 45}, {36, 58}, {16, 58}}));
  s.Write(50, 26, 10, "100 %");
  s.Tick(87, 21);
  s.Box(56, 40, 22, 24);
  s.Pen(1.0, Qt::DashLine);
  s.p.drawRect(QRectF(59, 43.5, 16, 17));
  s.Pen(1.0);
  s.Arrow({57, 41}, {61, 45.5});
  s.Arrow({77, 63}, {73, 58.5});
  s.Cross(86, 52);
}

void Ruler(Sketch& s) {
  s.p.drawLine(QPointF(10, 24), QPointF(90, 24));
  for (int i = 0; i <= 20; ++i) {
    const double x = 10 + 4 * i;
    s.p.drawLine(QPointF(x, 24), QPointF(x, i % 10 == 0 ? 15 : i % 5 == 0 ? 18 : 21));
  }
  s.Write(7, 12, 7, "0");
  s.Write(82, 12, 7, "100");
  s.Box(4, 28, 92, 16, kShade);
  for (int i = 0; i <= 22; ++i) {
    const double x = 6 + 4 * i;
    s.p.drawLine(QPointF(x, 28), QPointF(x, (i - 1) % 5 == 0 ? 35 : 32));
  }
  s.Write(20, 62, 10, "= 100 mm");
  s.Tick(84, 57);
}

void Compare(Sketch& s) {
  // The flat sheet with the card on its place, and the lens over it.
  s.Box(6, 30, 88, 36);
  s.Pattern(QPolygonF({{10, 36}, {47, 36}, {47, 59}, {10, 59}}));
  s.p.setBrush(kShade);
  s.p.drawRoundedRect(QRectF(53, 36, 37, 23), 2, 2);
  s.p.setBrush(kInk);
  s.p.drawRect(QRectF(57, 41, 6, 5));
  s.p.drawRect(QRectF(57, 51, 22, 2));
  s.p.setBrush(Qt::NoBrush);
  s.p.drawRect(QRectF(43, 4, 14, 9));
  s.p.setBrush(kInk);
  s.p.drawEllipse(QPointF(50, 13.5), 2.2, 2.2);
  s.Pen(0.7, Qt::DashLine);
  s.p.drawLine(QPointF(48, 15), QPointF(10, 34));
  s.p.drawLine(QPointF(52, 15), QPointF(90, 34));
}

void CutAndFold(Sketch& s) {
  s.Box(6, 8, 30, 19);
  s.Pattern(QPolygonF({{6, 8}, {36, 8}, {36, 27}, {6, 27}}));
  s.Box(6, 27, 30, 19);
  s.p.drawLine(QPointF(20, 36), QPointF(22, 36));
  s.p.drawLine(QPointF(21, 35), QPointF(21, 38));
  s.Pen(1.0, Qt::DashLine);
  s.p.drawLine(QPointF(2, 27), QPointF(40, 27));
  s.Pen(1.2);
  // Scissors.
  s.p.drawLine(QPointF(8, 64), QPointF(24, 52));
  s.p.drawLine(QPointF(8, 54), QPointF(24, 65));
  s.p.drawEllipse(QPointF(5.5, 65.5), 3, 3);
  s.p.drawEllipse(QPointF(5.5, 52.5), 3, 3);
  s.Arrow({43, 30}, {54, 30});
  // Folded around a stiff board.
  s.Fill(QPolygonF({{62, 14}, {94, 10}, {94, 34}, {62, 40}}));
  s.Pattern(QPolygonF({{62, 14}, {94, 10}, {94, 34}, {62, 40}}));
  s.Fill(QPolygonF({{60, 44}, {92, 39}, {96, 44}, {64, 50}}), kShade);
  s.Fill(QPolygonF({{64, 52}, {96, 46}, {96, 62}, {64, 67}}));
}

void Show(Sketch& s) {
  s.Laptop(2, 16);
  const QPolygonF square({{62, 6}, {92, 6}, {92, 24}, {62, 24}});
  s.Fill(square);
  s.Pattern(square);
  const QPolygonF left({{60, 32}, {76, 35}, {76, 47}, {60, 51}});
  s.Fill(left);
  s.Pattern(left);
  const QPolygonF up({{82, 34}, {98, 34}, {95, 48}, {85, 48}});
  s.Fill(up);
  s.Pattern(up);
  s.Arrow({64, 60}, {56, 60});
  s.Arrow({90, 60}, {98, 60});
  s.Arrow({77, 57}, {77, 52});
  s.Arrow({77, 60}, {77, 67});
}

void Strip(Sketch& s) {
  s.Box(10, 4, 80, 60, kShade);
  s.Box(14, 20, 72, 44);
  s.p.setBrush(kInk);
  s.p.drawEllipse(QPointF(50, 11), 3.2, 3.2);
  s.p.setBrush(Qt::NoBrush);
  s.p.drawEllipse(QPointF(50, 11), 5, 5);
  s.Box(30, 18, 40, 14);
  s.Pen(1.0);
  s.p.drawLine(QPointF(48, 23), QPointF(52, 23));
  s.p.drawLine(QPointF(50, 23), QPointF(50, 27));
  s.Pen(0.8, Qt::DashLine);
  s.Box(24, 16, 9, 18, Qt::transparent);
  s.Box(67, 16, 9, 18, Qt::transparent);
}

}  // namespace

void DrawSheetPicture(SheetPicture picture, const QRectF& box, QPainter& painter) {
  Sketch sketch(box, painter);
  switch (picture) {
    case SheetPicture::kPrint:
      return Print(sketch);
    case SheetPicture::kRuler:
      return Ruler(sketch);
    case SheetPicture::kCompare:
      return Compare(sketch);
    case SheetPicture::kCutAndFold:
      return CutAndFold(sketch);
    case SheetPicture::kShow:
      return Show(sketch);
    case SheetPicture::kStrip:
      return Strip(sketch);
  }
}

}  // namespace nearpoint
