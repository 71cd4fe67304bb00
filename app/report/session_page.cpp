#include "app/report/session_page.h"

#include <QPolygonF>
#include <algorithm>
#include <cmath>

#include "app/print/true_page.h"
#include "app/report/axis.h"

namespace nearpoint {
namespace {

constexpr double kMargin = 20;  // mm
constexpr double kBody = 3.6;   // height of the letters, mm: 10 points
constexpr double kSmall = 3.0;
constexpr double kGap = 4;

const QColor kInk(0x22, 0x22, 0x22);
const QColor kBreakColor(0x00, 0x5a, 0x9c);     // dark blue, 6.9 to 1 on white
const QColor kRecoveryColor(0x9a, 0x4b, 0x00);  // dark orange, 6.3 to 1
const QColor kGrey(0x8a, 0x8a, 0x8a);

QString Words(const std::string& text) { return QString::fromStdString(text); }

// The distance scale: eyes at the left, everything counted from the named plane.
class Scale {
 public:
  Scale(TruePage& page, const StoredSession& session, bool centimetres, const QRectF& box)
      : page_(page), session_(session), centimetres_(centimetres), box_(box) {
    shift_ = MoveToPlane(Length(), ReferencePlane::kCorneal, session.plane).mm();
    const Estimate& estimate = session.estimate;
    double farthest = std::max(100.0, 1.4 * estimate.cut_off.mm());
    for (const auto& band : {estimate.break_mm, estimate.recovery_mm}) {
      if (band) farthest = std::max(farthest, band->high.value_or(band->low + 30));
    }
    for (const Trial& trial : session.data.trials) {
      if (trial.recovery) farthest = std::max(farthest, trial.recovery->value.value.mm() + shift_);
    }
    constexpr double kFarthestShown = 600;
    last_ = std::min(kFarthestShown, 10 * std::ceil(farthest * 1.05 / 10));
    first_ = std::min(0.0, shift_);
  }

  void Draw() {
    DrawAxis();
    DrawLimit();
    constexpr double kBreakRow = 17, kRecoveryRow = 29;
    DrawBand("Break (two)", session_.estimate.break_mm, kBreakRow, kBreakColor);
    DrawBand("Recovery (one)", session_.estimate.recovery_mm, kRecoveryRow, kRecoveryColor);
    for (const Trial& trial : session_.data.trials) DrawTrial(trial, kBreakRow, kRecoveryRow);
  }

 private:
  [[nodiscard]] double X(double mm) const {
    const double part = (std::clamp(mm, first_, last_) - first_) / (last_ - first_);
    return box_.left() + kNameWidth + part * (box_.width() - kNameWidth);
  }
  [[nodiscard]] double Y(double row) const { return box_.top() + row; }
  QPainter& painter() { return page_.painter(); }

  void DrawAxis() {
    const double base = Y(kAxisRow);
    painter().setPen(QPen(kInk, 0.3));
    painter().drawLine(QPointF(X(first_), base), QPointF(X(last_), base));
    for (const double mark : RoundMarks(first_, last_, 8)) {
      painter().setPen(QPen(kInk, 0.3));
      painter().drawLine(QPointF(X(mark), base), QPointF(X(mark), base + 1.5));
      page_.Text({X(mark) - 10, base + 2, 20, 4}, kSmall,
                 QString::number(centimetres_ ? mark / 10 : mark), Qt::AlignHCenter | Qt::AlignTop);
    }
    page_.Text({box_.left(), base + 6, box_.width(), 4}, kSmall,
               Words((centimetres_ ? "centimetres from the " : "millimetres from the ") +
                     session_.estimate.reference_plane + " (eyes on the left)"),
               Qt::AlignRight | Qt::AlignTop);
    page_.Text({box_.left(), base + 11, box_.width(), 4}, kSmall,
               "Strip: 95 % band with its value. Triangle: one trial, filled where it turned into "
               "two, open where it was one again; arrow: at most or at least; cross: set aside.");
  }

  void DrawLimit() {
    const double x = X(session_.estimate.cut_off.mm());
    painter().setPen(QPen(kInk, 0.4, Qt::DashLine));
    painter().drawLine(QPointF(x, Y(6)), QPointF(x, Y(kAxisRow)));
    page_.Text({x - 20, Y(1), 40, 4}, kSmall, "limit", Qt::AlignHCenter | Qt::AlignTop);
  }

  void DrawBand(const char* name, const std::optional<Band>& band, double row,
                const QColor& color) {
    page_.Text({box_.left(), Y(row) - 2.5, kNameWidth - 2, 5}, kSmall, name,
               Qt::AlignLeft | Qt::AlignTop);
    if (!band) return;
    const double left = X(band->low);
    const double right = X(band->high.value_or(last_));
    QColor pale = color;
    pale.setAlphaF(0.25F);
    painter().setPen(QPen(color, 0.3));
    painter().setBrush(pale);
    painter().drawRect(QRectF(left, Y(row) - 2.5, right - left, 5));
    painter().setBrush(Qt::NoBrush);
    if (!band->value) return;
    painter().setPen(QPen(color, 0.8));
    const double x = X(*band->value);
    painter().drawLine(QPointF(x, Y(row) - 3.5), QPointF(x, Y(row) + 3.5));
  }

  // Break a filled triangle pointing down, recovery an open one pointing up, a bound with an arrow
  // into the side where the break lies; what does not count is a grey cross.
  void DrawTrial(const Trial& trial, double break_row, double recovery_row) {
    const bool counts = !trial.set_aside;
    if (trial.censored != Censoring::kNone && trial.limit) {
      Arrow(X(trial.limit->mm() + shift_), Y(break_row) + 5.5, trial.censored, counts);
    } else if (trial.break_point) {
      Mark(X(trial.break_point->value.value.mm() + shift_), Y(break_row) + 5.5, true, counts);
    }
    if (trial.recovery) {
      Mark(X(trial.recovery->value.value.mm() + shift_), Y(recovery_row) + 5.5, false, counts);
    }
  }

  void Mark(double x, double y, bool is_break, bool counts) {
    constexpr double kHalf = 1.1;
    if (!counts) {
      painter().setPen(QPen(kGrey, 0.4));
      painter().drawLine(QPointF(x - kHalf, y - kHalf), QPointF(x + kHalf, y + kHalf));
      painter().drawLine(QPointF(x - kHalf, y + kHalf), QPointF(x + kHalf, y - kHalf));
      return;
    }
    const double tip = is_break ? kHalf : -kHalf;
    const QPolygonF triangle{{{x - kHalf, y - tip}, {x + kHalf, y - tip}, {x, y + tip}}};
    painter().setPen(QPen(is_break ? kBreakColor : kRecoveryColor, 0.3));
    painter().setBrush(is_break ? QBrush(kBreakColor) : QBrush(Qt::NoBrush));
    painter().drawPolygon(triangle);
    painter().setBrush(Qt::NoBrush);
  }

  void Arrow(double x, double y, Censoring side, bool counts) {
    const double to = side == Censoring::kBelow ? -4 : 4;
    const double back = side == Censoring::kBelow ? 1.2 : -1.2;
    painter().setPen(QPen(counts ? kBreakColor : kGrey, 0.4));
    painter().drawLine(QPointF(x, y - 1.2), QPointF(x, y + 1.2));
    painter().drawLine(QPointF(x, y), QPointF(x + to, y));
    painter().drawLine(QPointF(x + to, y), QPointF(x + to + back, y - 0.9));
    painter().drawLine(QPointF(x + to, y), QPointF(x + to + back, y + 0.9));
  }

  static constexpr double kNameWidth = 34;
  static constexpr double kAxisRow = 38;
  TruePage& page_;
  const StoredSession& session_;
  bool centimetres_;
  QRectF box_;
  double shift_ = 0, first_ = 0, last_ = 1;
};

// Sets one thing under the other.
class Column {
 public:
  explicit Column(TruePage& page)
      : page_(page), width_(page.width_mm() - 2 * kMargin), y_(kMargin) {}

  void Text(const std::string& text, double em, bool bold = false) {
    if (text.empty()) return;
    const QRectF taken =
        page_.Text({kMargin, y_, width_, 200}, em, Words(text), Qt::AlignLeft | Qt::AlignTop, bold);
    y_ += taken.height() + 0.35 * kGap;
  }
  void Fact(const std::string& name, const std::string& text) {
    constexpr double kNames = 28;
    page_.Text({kMargin, y_, kNames, 10}, kSmall, Words(name), Qt::AlignLeft | Qt::AlignTop, true);
    const QRectF taken =
        page_.Text({kMargin + kNames, y_, width_ - kNames, 200}, kSmall, Words(text));
    y_ += std::max(taken.height(), kSmall) + 0.3 * kGap;
  }
  void Gap() { y_ += kGap; }
  // So much height for a picture.
  QRectF Take(double height) {
    const QRectF box(kMargin, y_, width_, height);
    y_ += height + kGap;
    return box;
  }
  [[nodiscard]] double y() const { return y_; }

 private:
  TruePage& page_;
  double width_;
  double y_;
};

}  // namespace

Result<std::string> SessionPagePdf(const StoredSession& session,
                                   const SessionPageOptions& options) {
  const SessionWords words = WordsOf(session, options.reader);
  TruePage page(options.paper, Words(words.title));
  Column column(page);
  if (words.simulated) {
    column.Text("SIMULATED PATIENT: this page is an example and says nothing about a person.", 5,
                true);
    column.Gap();
  }
  column.Text(words.title, 6.5, true);
  column.Text("Name: " + (options.person.empty() ? std::string(40, '_') : options.person), kBody);
  column.Text(words.when, kBody);
  column.Gap();
  column.Text(words.result, 4.4, true);
  column.Text(words.meaning, kBody);
  column.Text(words.next, kBody, options.reader != Reader::kRecord);
  column.Gap();
  if (words.picture) {
    constexpr double kPictureHeight = 58;
    Scale(page, session, options.reader == Reader::kParent, column.Take(kPictureHeight)).Draw();
  }
  for (const auto& [name, text] : words.facts) column.Fact(name, text);
  column.Gap();
  if (!words.cautions.empty()) column.Text("Cautions", kBody, true);
  for (const std::string& caution : words.cautions) column.Text("- " + caution, kSmall);

  constexpr double kFoot = 12;
  const double foot = page.height_mm() - kFoot;
  if (column.y() > foot - 2) {
    return Fail(ErrorCode::kInsufficient,
                "The session has more to say than fits on one page; leave out some trials or print "
                "the wording for parents.");
  }
  std::string line = "A screening measurement, not a diagnosis.";
  if (!options.printed.empty()) line += " Printed " + options.printed + ".";
  page.Text({kMargin, foot, page.width_mm() - 2 * kMargin, 5}, kSmall, Words(line));
  return page.Finish();
}

}  // namespace nearpoint
