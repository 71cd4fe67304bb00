// The patients as a list model, and how one of them is drawn: name and newest value, below them why
// to look.
#pragma once

#include <QAbstractListModel>
#include <QStyledItemDelegate>
#include <vector>

#include "app/clinic_store/clinic_store.h"

namespace nearpoint {

class PatientList : public QAbstractListModel {
  Q_OBJECT

 public:
  using QAbstractListModel::QAbstractListModel;
  // Those whose name or number holds the words, in the order given.
  void Show(const std::vector<PatientRow>& rows, const QString& words);
  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  // DisplayRole: the name; ToolTipRole and AccessibleTextRole: everything in one sentence.
  [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
  [[nodiscard]] const PatientRow& At(int row) const {
    return rows_.at(static_cast<std::size_t>(row));
  }

 private:
  std::vector<PatientRow> rows_;
};

class PatientDelegate : public QStyledItemDelegate {
  Q_OBJECT

 public:
  using QStyledItemDelegate::QStyledItemDelegate;
  void paint(QPainter* painter, const QStyleOptionViewItem& option,
             const QModelIndex& index) const override;
  [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option,
                               const QModelIndex& index) const override;
};

}  // namespace nearpoint
