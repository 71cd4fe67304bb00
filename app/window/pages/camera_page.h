// Which camera, whether it sees the person well, and where the target is.
#pragma once

#include "app/live/live.h"
#include "app/window/page.h"

class QComboBox;
class QLabel;

namespace nearpoint {

class LivePicture;

class CameraPage : public Page {
  Q_OBJECT

 public:
  explicit CameraPage(AppContext& context, QWidget* parent = nullptr);
  ~CameraPage() override;
  [[nodiscard]] PageId WayOut() const override;

 private:
  void MakeCameraChoice();
  void MakeTargetChoice();
  void Start();
  void OnFrame(const LiveFrame& frame);
  void OnFailed(const Error& error);
  void Say(QLabel* line, bool good, const QString& text);

  QComboBox* cameras_ = nullptr;
  LivePicture* picture_ = nullptr;
  QLabel* trouble_ = nullptr;
  QLabel* eyes_ = nullptr;
  QLabel* light_ = nullptr;
  QLabel* distance_ = nullptr;
};

}  // namespace nearpoint
