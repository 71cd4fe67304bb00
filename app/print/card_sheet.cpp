#include "app/print/card_sheet.h"

#include <QCoreApplication>
#include <QPainterPath>

#include "app/print/optotype.h"
#include "app/print/sheet_pictures.h"
#include "app/print/true_page.h"
#include "calibration/fixation_letter.h"
#include "vision/card/card_pattern.h"

namespace nearpoint {
namespace {

constexpr double kUsableWidth = 186;  // both papers leave a rim that every printer reaches
constexpr double kReadingDistanceMm = kLetterDistance.mm();
constexpr double kHairline = 0.15;

QString Say(const char* text) { return QCoreApplication::translate("CardSheet", text); }

QRectF Rectangle(const SheetBox& box) { return {box.left, box.top, box.width, box.height}; }

void DrawPattern(QPainter& painter, const QPointF& middle) {
  QPainterPath path;
  for (const CardRectangle& r : DarkRectangles()) {
    path.addRect(middle.x() + r.left, middle.y() + r.top, r.right - r.left, r.bottom - r.top);
  }
  // One outline, so that no hairline shows between the parts.
  painter.fillPath(path.simplified(), Qt::black);
}

// A 20/30 letter, smaller ones beside it for the last centimetres, and two fine lines that lead the
// eye to it.
void DrawTarget(QPainter& painter, const QPointF& at) {
  const double height = LetterHeightMm(kReadingDistanceMm);
  painter.fillPath(Optotype('E', at, height), Qt::black);
  for (const double side : {-1.0, 1.0}) {
    painter.fillPath(Optotype(side < 0 ? 'H' : 'U', at + QPointF(side * 1.4, 0), height / 2),
                     Qt::black);
    painter.fillPath(Optotype(side < 0 ? 'Z' : 'F', at + QPointF(side * 2.3, 0), height / 4),
                     Qt::black);
    painter.fillRect(QRectF(at.x() - 0.05, at.y() + (side < 0 ? -4.0 : 1.5), 0.1, 2.5), Qt::black);
  }
}

void DrawCard(TruePage& page, const SheetLayout& layout) {
  QPainter& painter = page.painter();
  DrawPattern(painter, Rectangle(layout.front).center());

  // The back stands on its head: after folding it reads upright.
  const QPointF middle = Rectangle(layout.back).center();
  painter.save();
  painter.translate(middle);
  painter.rotate(180);
  DrawTarget(painter, QPointF(-kCardTargetX, kCardTargetY));
  page.Text(QRectF(-40, 17, 80, 5), 2.6, Say("Look at the letter E. This side to your eyes."),
            Qt::AlignHCenter | Qt::AlignTop);
  painter.restore();

  painter.setPen(QPen(Qt::black, kHairline));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(Rectangle(layout.front).united(Rectangle(layout.back)));
  QPen fold(Qt::black, kHairline, Qt::CustomDashLine);
  fold.setDashPattern({10, 8});
  painter.setPen(fold);
  painter.drawLine(QPointF(layout.back.left - 5, layout.back.top),
                   QPointF(layout.back.left, layout.back.top));
  painter.drawLine(QPointF(layout.back.left + layout.back.width, layout.back.top),
                   QPointF(layout.back.left + layout.back.width + 5, layout.back.top));
}

// Only the corners of the outline are printed: its straight parts must not be mistaken for the
// edges of the card that lies on it.
void DrawPlace(TruePage& page, const SheetLayout& layout) {
  QPainter& painter = page.painter();
  const QRectF box = Rectangle(layout.place);
  painter.setPen(QPen(Qt::black, kHairline));
  constexpr double kStub =
      5.0;  // of the straight part beyond the rounding is not used for measuring
  for (const double sx : {-1.0, 1.0}) {
    for (const double sy : {-1.0, 1.0}) {
      const QPointF corner = box.center() + QPointF(sx * box.width() / 2, sy * box.height() / 2);
      const double r = kCardCornerRadiusMm;
      QPainterPath path(corner - QPointF(sx * kStub, 0));
      path.lineTo(corner - QPointF(sx * r, 0));
      path.quadTo(corner, corner - QPointF(0, sy * r));
      path.lineTo(corner - QPointF(0, sy * kStub));
      painter.drawPath(path);
    }
  }
  page.Text(box.adjusted(8, 8, -8, -8), 3.4,
            Say("Lay a bank, health or library card here.\nIt must fill the corners exactly."),
            Qt::AlignCenter);
}

void DrawRuler(TruePage& page, const SheetLayout& layout) {
  QPainter& painter = page.painter();
  const QRectF box = Rectangle(layout.ruler);
  painter.setPen(QPen(Qt::black, kHairline, Qt::SolidLine, Qt::FlatCap));
  for (int mm = 0; mm <= 100; ++mm) {
    const double length = mm % 10 == 0 ? 5 : mm % 5 == 0 ? 3.6 : 2.2;
    const double x = box.left() + mm;
    painter.drawLine(QPointF(x, box.bottom()), QPointF(x, box.bottom() - length));
    if (mm % 10 == 0) {
      page.Text(QRectF(x - 6, box.top(), 12, 3.4), 2.6, QString::number(mm),
                Qt::AlignHCenter | Qt::AlignTop);
    }
  }
  painter.drawLine(box.bottomLeft(), box.bottomRight());
  page.Text(QRectF(box.right() + 6, box.top() + 1, kUsableWidth - box.width() - 6, 8), 3.0,
            Say("This line must be 100 mm long.\nIf it is not, print again at 100 %."));
}

void DrawStrip(TruePage& page, const SheetLayout& layout) {
  QPainter& painter = page.painter();
  const QRectF box = Rectangle(layout.strip);
  painter.setPen(QPen(Qt::black, kHairline));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(box);
  DrawTarget(painter, QPointF(box.center().x(), box.top() + layout.target_below_edge_mm));
  page.Text(QRectF(box.left() + 4, box.bottom() - 8, box.width() - 8, 4), 2.4,
            Say("Fixation strip: upper edge right under the lens, letter under its middle."),
            Qt::AlignHCenter | Qt::AlignTop);
}

void DrawSteps(TruePage& page, double left, double top) {
  struct Step {
    SheetPicture picture;
    const char* text;
  };
  const Step steps[] = {
      {SheetPicture::kPrint,
       QT_TRANSLATE_NOOP("CardSheet", "Print at 100 %, not fitted to the page.")},
      {SheetPicture::kRuler, QT_TRANSLATE_NOOP("CardSheet", "Hold a ruler to the line above.")},
      {SheetPicture::kCompare,
       QT_TRANSLATE_NOOP("CardSheet", "Lay a real card on its place and let the camera see both.")},
      {SheetPicture::kCutAndFold,
       QT_TRANSLATE_NOOP("CardSheet",
                         "Cut out, fold, and glue around stiff cardboard or an old card.")},
      {SheetPicture::kShow,
       QT_TRANSLATE_NOOP("CardSheet", "Show the pattern to the camera, tilted to all four sides.")},
      {SheetPicture::kStrip, QT_TRANSLATE_NOOP("CardSheet", "Fix the strip under the lens.")},
  };
  constexpr double kColumn = kUsableWidth / 3, kRow = 31, kPicture = 35;
  for (int i = 0; i < 6; ++i) {
    const int column = i % 3, row = i / 3;
    const double x = left + column * kColumn, y = top + row * kRow;
    const QRectF frame(x, y, kPicture, 26);
    page.painter().setPen(QPen(QColor(150, 150, 150), 0.2));
    page.painter().setBrush(Qt::NoBrush);
    page.painter().drawRoundedRect(frame, 1.5, 1.5);
    DrawSheetPicture(steps[i].picture, frame.adjusted(1, 1, -1, -1), page.painter());
    page.Text(QRectF(x + kPicture + 2, y, kColumn - kPicture - 4, 26), 2.9,
              QString::number(i + 1) + ". " + Say(steps[i].text), Qt::AlignLeft | Qt::AlignVCenter);
  }
}

}  // namespace

double LetterHeightMm(double distance_mm) {
  return DetailAt(Length::Millimeters(distance_mm), kLetterStrokes * kLetterDetailArcmin).mm();
}

SheetLayout LayoutOf(PaperSize paper) {
  SheetLayout l;
  l.width_mm = paper == PaperSize::kA4 ? 210 : 215.9;
  l.height_mm = paper == PaperSize::kA4 ? 297 : 279.4;
  const double left = (l.width_mm - kUsableWidth) / 2;
  l.ruler = {left, 30, 100, 10};
  l.front = {left, 52, kCardWidthMm, kCardHeightMm};
  l.back = {left, l.front.top + kCardHeightMm, kCardWidthMm, kCardHeightMm};
  l.place = {left + kRealCardOffsetMm, l.front.top, kCardWidthMm, kCardHeightMm};
  l.strip = {l.place.left + (kCardWidthMm - 70) / 2, l.back.top + 16, 70, 22};
  l.target_below_edge_mm = 6;
  return l;
}

Result<std::string> CardSheetPdf(PaperSize paper, WordsIn words) {
  const SheetLayout layout = LayoutOf(paper);
  TruePage page(paper, Say("Calibration sheet"));
  const double left = layout.ruler.left;
  page.Text(QRectF(left, 12, kUsableWidth, 8), 5.5, Say("Calibration sheet"),
            Qt::AlignLeft | Qt::AlignTop, true);
  page.Text(QRectF(left, 20.5, kUsableWidth, 6), 3.2,
            Say("Print on paper at 100 % (\"actual size\"). Cut the card only after the check in "
                "step 3."));
  DrawRuler(page, layout);
  DrawCard(page, layout);
  DrawPlace(page, layout);
  DrawStrip(page, layout);
  const double below = layout.back.top + layout.back.height;
  DrawSteps(page, left, below + 10);
  page.Text(QRectF(left, below + 76, kUsableWidth, 20), 2.6,
            Say("A screening measurement, not a diagnosis.") + ' ' +
                QString::fromStdString(HelpRule(words)));
  return page.Finish();
}

}  // namespace nearpoint
