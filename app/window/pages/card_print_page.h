// How large the card was printed: the sheet's line by a ruler, or the sheet and a real card before
// the camera. A scaled print is refused with its percentage.
#pragma once

#include "app/live/live.h"
#include "app/window/page.h"
#include "calibration/print_check.h"
#include "calibration/print_views.h"

class QDoubleSpinBox;
class QFrame;
class QLabel;
class QProgressBar;
class QPushButton;

namespace nearpoint {

class LivePicture;

class CardPrintPage : public Page {
  Q_OBJECT

 public:
  explicit CardPrintPage(AppContext& context, QWidget* parent = nullptr);
  ~CardPrintPage() override;
  [[nodiscard]] PageId WayOut() const override { return PageId::kCard; }

 private:
  [[nodiscard]] QFrame* ByRuler();
  [[nodiscard]] QFrame* ByCamera();
  void TakeRuler();
  void Look();
  void OnLook(const CardLook& look);
  void OnFailed(const Error& error);
  // Kept where it is true to size, else refused; an earlier print then no longer counts.
  void Judge(const PrintScale& scale, PrintMeasure how);
  void Say(const QString& headline, const QString& line);

  QLabel* headline_ = nullptr;
  QLabel* line_ = nullptr;
  QDoubleSpinBox* ruler_ = nullptr;
  QPushButton* look_ = nullptr;
  LivePicture* picture_ = nullptr;
  QProgressBar* progress_ = nullptr;
  QLabel* seen_ = nullptr;  // what the camera lacks
  PrintViews views_;
  bool looking_ = false;
};

}  // namespace nearpoint
