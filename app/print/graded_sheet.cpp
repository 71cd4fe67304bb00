#include "app/print/graded_sheet.h"

#include <QCoreApplication>
#include <QLocale>
#include <QPen>

#include "app/measure/convergence.h"
#include "app/measure/shown_number.h"
#include "app/print/pair_figure.h"
#include "app/print/true_page.h"

namespace nearpoint {
namespace {

constexpr double kMarginMm = 12;
constexpr double kFigureMm = 15;
constexpr double kFirstRowMm = 92;
constexpr double kRowMm = 34;
constexpr int kMostPairs = 5;
constexpr double kPrinterStepMm = 25.4 / 600;  // an ordinary printer's dot
// No camera judges the sheet, so easier pairs than on the screen are of use.
constexpr Angle kLeastExtra = Angle::Degrees(3);
constexpr double kRulerMm = 100;
constexpr double kZ95 = 1.959963984540054;

// Gives the sentences their context for translators.
struct GradedSheet {
  Q_DECLARE_TR_FUNCTIONS(GradedSheet)
};

QString Cm(double mm) {
  return QLocale().toString(RoundedForShow(mm / 10, 1), 'f', 1) + QChar(0xa0) +
         QStringLiteral("cm");
}

void DrawRuler(TruePage& page, const GradedSheetLayout& layout) {
  QPainter& painter = page.painter();
  painter.setPen(QPen(Qt::black, 0.25, Qt::SolidLine, Qt::FlatCap));
  const double y = layout.ruler_y_mm;
  const double x = layout.ruler_left_mm;
  painter.drawLine(QPointF(x, y), QPointF(x + kRulerMm, y));
  for (int mm = 0; mm <= 100; mm += 10) {
    const double tick = mm % 50 == 0 ? 3 : 1.8;
    painter.drawLine(QPointF(x + mm, y - tick), QPointF(x + mm, y));
  }
  page.Text({x + kRulerMm + 4, y - 4, page.width_mm() - x - kRulerMm - 4 - kMarginMm, 8}, 2.9,
            GradedSheet::tr("This line must be 100 mm long. If not, print again at 100 %."));
}

void DrawRow(TruePage& page, const GradedSheetRow& row, double figure_mm) {
  QPainter& painter = page.painter();
  DrawPairHalf(painter, {row.left_mm, row.y_mm}, figure_mm, PairHalf::kLeft);
  DrawPairHalf(painter, {row.right_mm, row.y_mm}, figure_mm, PairHalf::kRight);
  const PairLevel& level = row.level;
  const double half = kZ95 * level.fixation.sd.mm();
  const QString text =
      GradedSheet::tr(
          "%1   fingertip %2 from the eyes (%3 to %4), %5 prism dioptres more than the sheet")
          .arg(level.number)
          .arg(Cm(level.fixation.value.mm()), Cm(std::max(0.0, level.fixation.value.mm() - half)),
               Cm(level.fixation.value.mm() + half),
               QLocale().toString(level.extra_demand.value(), 'f', 0));
  page.Text(
      {kMarginMm, row.y_mm + kPairHalfHeight * figure_mm + 1.5, page.width_mm() - 2 * kMarginMm, 6},
      3.2, text, Qt::AlignHCenter | Qt::AlignTop);
}

}  // namespace

Result<GradedSheetLayout> LayOutGradedSheet(const GradedSheetOptions& options) {
  GradedSheetLayout layout;
  layout.width_mm = options.paper == PaperSize::kA4 ? 210 : 8.5 * 25.4;
  layout.height_mm = options.paper == PaperSize::kA4 ? 297 : 11 * 25.4;
  layout.figure_mm = kFigureMm;
  const PairView view{options.pupils, {options.sheet.value + kCorneaToRotation, options.sheet.sd}};
  const PairSurface paper{kPrinterStepMm, Length::Millimeters(layout.width_mm - 2 * kMarginMm)};
  LevelLimits limits;
  limits.figure = Length::Millimeters(kFigureMm);
  limits.least_extra = kLeastExtra;
  if (options.distances.size() > kMostPairs || options.pairs < 1 || options.pairs > kMostPairs) {
    return Fail(ErrorCode::kBadValue, "A sheet has room for 1 to 5 pairs.");
  }
  const auto distances = options.distances.empty()
                             ? EvenDistances(view, paper, limits, options.pairs)
                             : options.distances;
  auto graded = MakeLevels(view, paper, limits, distances);
  if (!graded) return tl::unexpected(graded.error());
  layout.notes = std::move(graded->notes);
  for (const PairLevel& level : graded->levels) {
    const double half = level.separation.mm() / 2;
    const double y = kFirstRowMm + kRowMm * static_cast<double>(layout.rows.size());
    layout.rows.push_back({level, y, layout.width_mm / 2 - half, layout.width_mm / 2 + half});
  }
  layout.ruler_left_mm = kMarginMm;
  layout.ruler_y_mm = layout.height_mm - kMarginMm;
  return layout;
}

Result<std::string> GradedSheetPdf(const GradedSheetOptions& options) {
  const auto layout = LayOutGradedSheet(options);
  if (!layout) return tl::unexpected(layout.error());
  TruePage page(options.paper, GradedSheet::tr("Exercise sheet"));
  const double width = page.width_mm() - 2 * kMarginMm;
  page.Text({kMarginMm, kMarginMm, width, 9}, 6.5, GradedSheet::tr("Exercise sheet"),
            Qt::AlignLeft | Qt::AlignTop, true);
  page.Text(
      {kMarginMm, kMarginMm + 9, width, 10}, 3.2,
      GradedSheet::tr(
          "Made for a pupil distance of %1 mm (one standard deviation %2 mm) and a sheet held "
          "%3 from the eyes. Distances are from the front of the eyes.")
          .arg(QLocale().toString(options.pupils.value.mm(), 'f', 1),
               QLocale().toString(options.pupils.sd.mm(), 'f', 1), Cm(options.sheet.value.mm())));
  const QString steps[] = {
      GradedSheet::tr(
          "1. Hold the sheet upright %1 from your eyes and look at your fingertip in front of it.")
          .arg(Cm(options.sheet.value.mm())),
      GradedSheet::tr(
          "2. Bring the fingertip slowly nearer, just below the pair. Behind it everything is "
          "double; "
          "at the distance under the pair, a third figure appears in the middle."),
      GradedSheet::tr(
          "3. It must show both marks: the disc above and the bar below. Hold it for %1 s, look at "
          "something far away, and repeat: %2 times in all.")
              .arg(QLocale().toString(options.hold_s, 'g', 3))
              .arg(options.repetitions) +
          ' ' +
          (options.set_by.empty()
               ? GradedSheet::tr("From a clinic's handout, not made for you.")
               : GradedSheet::tr("Set by %1.").arg(QString::fromStdString(options.set_by))),
      QString::fromStdString(StopRule(options.words) + ' ' + DoubleVisionRule(options.words)),
  };
  double y = kMarginMm + 21;
  for (const QString& step : steps) {
    y = page.Text({kMarginMm, y, width, 12}, 3.4, step).bottom() + 1.6;
  }
  for (const GradedSheetRow& row : layout->rows) DrawRow(page, row, layout->figure_mm);
  // Between the last pair and the ruler.
  const double below = layout->rows.back().y_mm + kPairHalfHeight * layout->figure_mm + 8;
  page.Text({kMarginMm, below, width, layout->ruler_y_mm - below - 6}, 2.8,
            QString::fromStdString(OtherSignsRule(options.words) + ' ' +
                                   OnlyWithProfessionalRule(options.words)));
  DrawRuler(page, *layout);
  return page.Finish();
}

}  // namespace nearpoint
