// The camera by the card: live picture, which tilt comes next, and a verdict.
#pragma once

#include <optional>

#include "app/live/live.h"
#include "app/window/in_background.h"
#include "app/window/page.h"
#include "calibration/camera_check.h"
#include "calibration/camera_views.h"

class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;

namespace nearpoint {

class CardTiltDrawing;
class LivePicture;

class CardCameraPage : public Page {
  Q_OBJECT

 public:
  explicit CardCameraPage(AppContext& context, QWidget* parent = nullptr);
  ~CardCameraPage() override;
  [[nodiscard]] PageId WayOut() const override { return PageId::kCard; }

 private:
  void MakeChoice();
  void Start();
  void OnStarted();
  void OnLook(const CardLook& look);
  void OnFailed(const Error& error);
  void ShowGuide(const CardLook* look, ViewStep step);
  void Adjust();  // of the views that there are
  void OnAdjusted(const Result<CameraCalibration>& result);
  void Say(const QString& headline, const QString& line);

  QComboBox* cards_ = nullptr;
  LivePicture* picture_ = nullptr;
  CardTiltDrawing* drawing_ = nullptr;
  QLabel* headline_ = nullptr;
  QLabel* line_ = nullptr;
  QProgressBar* progress_ = nullptr;
  QPushButton* again_ = nullptr;
  QPushButton* enough_ = nullptr;  // the views so far will do
  CardKind kind_ = CardKind::kPattern;
  std::optional<CameraViews> views_;
  int width_ = 0, height_ = 0;
  InBackground background_;
};

}  // namespace nearpoint
