#include "app/print/true_page.h"

#include <QFont>
#include <QGuiApplication>
#include <QMarginsF>
#include <QPageLayout>
#include <QPageSize>

namespace nearpoint {
namespace {

// Fine enough that rounding to a dot (0.005 mm) never shows: Qt keeps pen widths and clip boxes in
// dots.
constexpr int kDotsPerInch = 4800;
constexpr double kMillimetersPerInch = 25.4;

}  // namespace

void EnsureGuiApplication() {
  if (QCoreApplication::instance() != nullptr) return;
  // Qt keeps references to these as long as the application lives.
  static int count = 3;
  static char program[] = "nearpoint", option[] = "-platform", value[] = "offscreen";
  static char* arguments[] = {program, option, value, nullptr};
  // Where no desktop session is, Qt complains about its absence; nobody here needs one.
  const QtMessageHandler before =
      qInstallMessageHandler([](QtMsgType, const QMessageLogContext&, const QString&) {});
  static QGuiApplication application(count, arguments);
  qInstallMessageHandler(before);
}

TruePage::TruePage(PaperSize paper, const QString& title) {
  EnsureGuiApplication();
  buffer_.open(QIODevice::WriteOnly);
  writer_ = std::make_unique<QPdfWriter>(&buffer_);
  writer_->setTitle(title);
  writer_->setCreator("nearpoint");
  writer_->setResolution(kDotsPerInch);
  const QPageSize size(paper == PaperSize::kA4 ? QPageSize::A4 : QPageSize::Letter);
  writer_->setPageLayout(
      QPageLayout(size, QPageLayout::Portrait, QMarginsF(), QPageLayout::Millimeter));
  width_mm_ = paper == PaperSize::kA4 ? 210 : 8.5 * kMillimetersPerInch;
  height_mm_ = paper == PaperSize::kA4 ? 297 : 11 * kMillimetersPerInch;
  painter_.begin(writer_.get());
  SetUp();
}

TruePage::~TruePage() {
  if (painter_.isActive()) painter_.end();
}

void TruePage::SetUp() {
  painter_.resetTransform();
  painter_.scale(kDotsPerInch / kMillimetersPerInch, kDotsPerInch / kMillimetersPerInch);
}

void TruePage::NextPage() {
  writer_->newPage();
  SetUp();
}

QRectF TruePage::Text(const QRectF& box_mm, double em_mm, const QString& text, int alignment,
                      bool bold) {
  constexpr int kEmUnits = 100;
  const double scale = em_mm / kEmUnits;
  QFont font("DejaVu Sans");  // on every Debian that has fontconfig; Qt takes another if it is not
  font.setPixelSize(kEmUnits);
  font.setBold(bold);
  painter_.save();
  painter_.setFont(font);
  painter_.setPen(Qt::black);
  painter_.translate(box_mm.topLeft());
  painter_.scale(scale, scale);
  const QRectF box(0, 0, box_mm.width() / scale, box_mm.height() / scale);
  QRectF taken;
  painter_.drawText(box, alignment | Qt::TextWordWrap | Qt::TextDontClip, text, &taken);
  painter_.restore();
  return {box_mm.x() + taken.x() * scale, box_mm.y() + taken.y() * scale, taken.width() * scale,
          taken.height() * scale};
}

Result<std::string> TruePage::Finish() {
  const bool ended = painter_.end();
  writer_.reset();
  buffer_.close();
  if (!ended || buffer_.data().isEmpty()) {
    return Fail(ErrorCode::kNotWritable, "The page could not be made into a PDF.");
  }
  return buffer_.data().toStdString();
}

}  // namespace nearpoint
