#include "app/event_export/letters_pdf.h"

#include <QString>
#include <algorithm>

#include "app/print/true_page.h"

namespace nearpoint {
namespace {

constexpr double kMargin = 25;  // mm
constexpr double kBody = 3.9;   // height of the letters: 11 points
constexpr double kGap = 5;

void SetLetter(TruePage& page, const LetterWords& words) {
  const double width = page.width_mm() - 2 * kMargin;
  double y = kMargin;
  const auto set = [&](const std::string& text, double em, bool bold = false) {
    const QRectF taken = page.Text({kMargin, y, width, 200}, em, QString::fromStdString(text),
                                   Qt::AlignLeft | Qt::AlignTop, bold);
    y += taken.height() + kGap;
  };
  set(words.title, 5.2, true);
  set(words.to, kBody);
  y += kGap;
  set(words.what, kBody);
  set(words.result, kBody, true);
  // What to do now stands in a frame: it is found without reading all.
  constexpr double kInside = 4;
  const double top = y;
  y += kInside;
  const QRectF taken = page.Text({kMargin + kInside, y, width - 2 * kInside, 200}, 4.4,
                                 QString::fromStdString(words.advice));
  y += taken.height() + kInside;
  page.painter().setPen(QPen(Qt::black, 0.4));
  page.painter().drawRect(QRectF(kMargin, top, width, y - top));
  y += 1.6 * kGap;
  for (const std::string& caution : words.cautions) set("\u2013 " + caution, kBody);
  y += 2 * kGap;
  set(words.sign, kBody);
}

}  // namespace

Result<std::string> LettersPdf(std::span<const ChildState* const> children,
                               const EventOpened& event, const LetterOptions& options) {
  if (children.empty()) {
    return Fail(ErrorCode::kInsufficient, "No child has a result yet; there is nothing to write.");
  }
  TruePage page(options.paper, QString::fromStdString(event.name));
  bool first = true;
  for (const ChildState* child : children) {
    if (!first) page.NextPage();
    first = false;
    SetLetter(page, LetterFor(*child, event, options.language));
  }
  return page.Finish();
}

std::vector<const ChildState*> WhoGetsALetter(const EventState& state, bool only_action) {
  std::vector<const ChildState*> children;
  for (const ChildState& child : state.children) {
    const bool finding = child.counts || child.needs_looking_after();
    if (!finding || (only_action && child.finding == Finding::kWithin)) continue;
    children.push_back(&child);
  }
  std::ranges::stable_partition(children, &ChildState::needs_looking_after);
  return children;
}

}  // namespace nearpoint
