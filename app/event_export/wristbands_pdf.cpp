#include "app/event_export/wristbands_pdf.h"

#include "app/event_qr/qr_code.h"
#include "app/event_qr/wristband.h"
#include "app/print/true_page.h"

namespace nearpoint {
namespace {

constexpr double kWide = 60, kHigh = 36, kCode = 28, kMargin = 12;  // mm

void DrawLabel(TruePage& page, const QPointF& at, const ChildState& child, const Uuid& event) {
  const cv::Mat code = DrawQrCode(WristbandText(event, child.child.number));
  const double module = kCode / code.cols;
  QPainter& painter = page.painter();
  painter.setPen(QPen(Qt::lightGray, 0.2));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(QRectF(at.x(), at.y(), kWide, kHigh));
  const double top = at.y() + (kHigh - kCode) / 2;
  for (int y = 0; y < code.rows; ++y) {
    for (int x = 0; x < code.cols; ++x) {
      if (code.at<uchar>(y, x) > 127) continue;
      painter.fillRect(QRectF(at.x() + 2 + x * module, top + y * module, module, module),
                       Qt::black);
    }
  }
  const double left = at.x() + kCode + 3;
  const double width = kWide - kCode - 5;
  page.Text({left, at.y() + 6, width, 10}, 7, QString::fromStdString(child.child.number),
            Qt::AlignLeft | Qt::AlignTop, true);
  const std::string first = child.child.name.substr(0, child.child.name.find(' '));
  page.Text(
      {left, at.y() + 18, width, 14}, 3.6,
      QString::fromStdString(first + (child.child.group.empty() ? "" : "\n") + child.child.group));
}

}  // namespace

Result<std::string> WristbandsPdf(const EventState& state, PaperSize paper) {
  TruePage page(paper, QString::fromStdString(state.event.name));
  const int columns = static_cast<int>((page.width_mm() - 2 * kMargin) / kWide);
  const int rows = static_cast<int>((page.height_mm() - 2 * kMargin) / kHigh);
  int count = 0;
  for (const ChildState& child : state.children) {
    if (child.counts || (child.consent && !child.consent->given)) continue;
    const int place = count % (columns * rows);
    if (count > 0 && place == 0) page.NextPage();
    const int row = place / columns;
    const QPointF at(kMargin + place % columns * kWide, kMargin + row * kHigh);
    DrawLabel(page, at, child, state.uuid);
    ++count;
  }
  if (count == 0) {
    return Fail(ErrorCode::kInsufficient, "No child is left who would need a wristband.");
  }
  return page.Finish();
}

}  // namespace nearpoint
