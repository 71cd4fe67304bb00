// The near point of one session: a picture, a sentence, what next, and the details on demand.
#pragma once

#include "app/window/page.h"
#include "app/window/session_result.h"

class QComboBox;
class QPushButton;

namespace nearpoint {

class TraceView;

class ResultPage : public Page {
  Q_OBJECT

 public:
  explicit ResultPage(AppContext& context, QWidget* parent = nullptr);

 private:
  void ShowResult();
  void ShowNothing(const QString& why);
  [[nodiscard]] QWidget* MakeDetails();
  [[nodiscard]] QWidget* MakeTable() const;
  void SaveAsFile();

  SessionResult result_;
  QWidget* details_ = nullptr;
};

}  // namespace nearpoint
