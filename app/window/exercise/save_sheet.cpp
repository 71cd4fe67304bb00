#include "app/window/exercise/save_sheet.h"

#include <QCoreApplication>
#include <QFileDialog>

#include "app/print/graded_sheet.h"
#include "app/records/atomic_file.h"
#include "app/window/safety_words.h"

namespace nearpoint {
namespace {

constexpr double kSheetMm = 400;  // where a printed sheet is held

struct SaveSheet {
  Q_DECLARE_TR_FUNCTIONS(SaveSheet)
};

}  // namespace

Result<void> SaveExerciseSheet(QWidget* over, const ExercisePlan& plan,
                               const UncertainLength& pupils) {
  const QString file =
      QFileDialog::getSaveFileName(over, SaveSheet::tr("Print the exercise"),
                                   SaveSheet::tr("exercise.pdf"), SaveSheet::tr("PDF (*.pdf)"));
  if (file.isEmpty()) return {};
  GradedSheetOptions options;
  options.pupils = pupils;
  options.sheet = {Length::Millimeters(kSheetMm), Length::Millimeters(0.05 * kSheetMm)};
  options.repetitions = plan.repetitions;
  options.hold_s = plan.hold_s;
  options.set_by = plan.set_by;
  options.words = words::WordsInUse();
  const auto pdf = GradedSheetPdf(options);
  if (!pdf) return tl::unexpected(pdf.error());
  return WriteFileAtomically(file.toStdString(), *pdf);
}

}  // namespace nearpoint
