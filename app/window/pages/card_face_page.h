// The scale of the face: the card on forehead or under the nose, the head turned from side to side.
#pragma once

#include "app/live/live.h"
#include "app/window/in_background.h"
#include "app/window/page.h"
#include "calibration/face_views.h"

class QLabel;
class QProgressBar;
class QPushButton;

namespace nearpoint {

class LivePicture;

class CardFacePage : public Page {
  Q_OBJECT

 public:
  explicit CardFacePage(AppContext& context, QWidget* parent = nullptr);
  ~CardFacePage() override;
  [[nodiscard]] PageId WayOut() const override { return PageId::kCard; }

 private:
  [[nodiscard]] static QString WhatToDo();
  // Nobody measured the print: said, and nothing begins until somebody goes on without.
  void RefusePrint();
  void Start();
  void OnLook(const CardLook& look);
  void OnFailed(const Error& error);
  void Fit();
  void OnFitted(const Result<FaceFit>& fit);
  void Keep(const FaceFit& fit);
  void Say(const QString& headline, const QString& line);

  LivePicture* picture_ = nullptr;
  QLabel* headline_ = nullptr;
  QLabel* line_ = nullptr;
  QProgressBar* pictures_ = nullptr;
  QProgressBar* turned_ = nullptr;
  QPushButton* again_ = nullptr;
  QPushButton* keep_ = nullptr;       // although it is unusual
  QPushButton* unchecked_ = nullptr;  // although nobody measured the print
  QPushButton* skip_ = nullptr;       // where the next step is another
  PageId next_page_ = PageId::kCard;
  FaceViews views_;
  bool collecting_ = false;
  std::optional<FaceFit> unusual_;
  CameraIntrinsics camera_;
  InBackground background_;
};

}  // namespace nearpoint
