#include "app/window/clinic/patient_list.h"

#include <QPainter>

#include "app/window/clinic/clinic_words.h"
#include "app/window/look.h"

namespace nearpoint {
namespace {

QString ReasonsText(const PatientRow& row) {
  QStringList parts;
  for (const Reason reason : row.reasons.List()) parts << words::ShortReason(reason);
  return parts.join(", ");
}

QString NewestText(const PatientRow& row) {
  if (!row.newest) return PatientList::tr("nothing measured yet");
  return words::WhenText(*row.newest) + ": " + words::BandText(row.newest->break_mm);
}

QString TitleText(const PatientRow& row) {
  return row.patient.number.isEmpty() ? row.patient.name
                                      : row.patient.name + "  ·  " + row.patient.number;
}

// What stands below the name: the reasons with their mark, or that there is none.
QString SecondLine(const PatientRow& row) {
  return row.reasons.empty() ? PatientList::tr("nothing asks for a look")
                             : QStringLiteral("▲ ") + ReasonsText(row);
}

}  // namespace

void PatientList::Show(const std::vector<PatientRow>& rows, const QString& words) {
  beginResetModel();
  rows_.clear();
  for (const PatientRow& row : rows) {
    if (words.isEmpty() || row.patient.name.contains(words, Qt::CaseInsensitive) ||
        row.patient.number.contains(words, Qt::CaseInsensitive)) {
      rows_.push_back(row);
    }
  }
  endResetModel();
}

int PatientList::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

QVariant PatientList::data(const QModelIndex& index, int role) const {
  if (!index.isValid() || index.row() >= rowCount()) return {};
  const PatientRow& row = At(index.row());
  if (role == Qt::DisplayRole) return row.patient.name;
  if (role == Qt::ToolTipRole || role == Qt::AccessibleTextRole) {
    return TitleText(row) + ". " + SecondLine(row) + ". " + NewestText(row) + ".";
  }
  return {};
}

void PatientDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                            const QModelIndex& index) const {
  const auto* list = qobject_cast<const PatientList*>(index.model());
  if (list == nullptr) return;
  const PatientRow& row = list->At(index.row());
  painter->save();
  painter->setRenderHint(QPainter::Antialiasing);
  const QRect inside = option.rect.adjusted(look::Px(2), look::Px(2), -look::Px(2), -look::Px(2));
  if (option.state.testFlag(QStyle::State_Selected)) {
    painter->setBrush(look::kSoft);
    painter->setPen(option.state.testFlag(QStyle::State_HasFocus) ? QPen(look::kDeep, 2)
                                                                  : QPen(Qt::NoPen));
    painter->drawRoundedRect(inside, look::Px(8), look::Px(8));
  }
  const QRect text = inside.adjusted(look::Px(14), look::Px(8), -look::Px(14), -look::Px(8));
  const QFontMetrics body(look::Body());
  const QFontMetrics large(look::Large());
  QRect line(text.left(), text.top(), text.width(), large.height());
  painter->setPen(look::kInk);
  painter->setFont(look::Large());
  painter->drawText(line, Qt::AlignLeft | Qt::AlignVCenter,
                    large.elidedText(TitleText(row), Qt::ElideRight, line.width()));
  line = QRect(text.left(), line.bottom() + look::Px(2), text.width(), body.height());
  painter->setFont(look::Body());
  painter->setPen(row.reasons.empty() ? look::kQuietInk : look::kWarm);
  painter->drawText(line, Qt::AlignLeft | Qt::AlignVCenter,
                    body.elidedText(SecondLine(row), Qt::ElideRight, line.width()));
  line.translate(0, body.height() + look::Px(2));
  painter->setPen(look::kQuietInk);
  painter->drawText(line, Qt::AlignLeft | Qt::AlignVCenter,
                    body.elidedText(NewestText(row), Qt::ElideRight, line.width()));
  painter->restore();
}

QSize PatientDelegate::sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const {
  const int height = QFontMetrics(look::Large()).height() +
                     2 * (QFontMetrics(look::Body()).height() + look::Px(2)) + look::Px(20);
  return {look::Px(300), height};
}

}  // namespace nearpoint
