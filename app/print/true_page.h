// Pages that print at true scale: a PDF whose coordinates are millimetres. The one place of the
// program where a length on paper is decided.
#pragma once

#include <QBuffer>
#include <QPainter>
#include <QPdfWriter>
#include <QRectF>
#include <QString>
#include <memory>
#include <string>

#include "app/print/paper.h"
#include "vision/core/result.h"

namespace nearpoint {

// Fonts need a QGuiApplication. Makes one without windows if the process has none yet (the command
// line has none), and otherwise does nothing. Call it on the main thread.
void EnsureGuiApplication();

class TruePage {
 public:
  // The first page is open. title: in the document's properties. Calls EnsureGuiApplication.
  TruePage(PaperSize paper, const QString& title);
  ~TruePage();
  TruePage(const TruePage&) = delete;
  TruePage& operator=(const TruePage&) = delete;

  // One unit is one millimetre on paper, origin at the top left corner of the sheet, y down.
  // Pen widths are millimetres too. Restore the transformation after changing it.
  [[nodiscard]] QPainter& painter() { return painter_; }
  [[nodiscard]] double width_mm() const { return width_mm_; }
  [[nodiscard]] double height_mm() const { return height_mm_; }
  void NextPage();

  // Lines of letters of the given height (em, millimetres) inside the box, wrapped at words.
  // QPainter's own fonts come in whole units only. Gives the box that the text takes, which may be
  // lower than `box` where it does not fit.
  QRectF Text(const QRectF& box_mm, double em_mm, const QString& text,
              int alignment = Qt::AlignLeft | Qt::AlignTop, bool bold = false);

  // Bytes of the PDF; nothing can be drawn afterwards. kNotWritable if Qt could not finish it.
  // WriteFileAtomically (app/records) takes them to a file.
  [[nodiscard]] Result<std::string> Finish();

 private:
  void SetUp();

  QBuffer buffer_;
  std::unique_ptr<QPdfWriter> writer_;
  QPainter painter_;
  double width_mm_ = 0;
  double height_mm_ = 0;
};

}  // namespace nearpoint
