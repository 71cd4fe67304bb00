// "Two" is not "blurred": shown as pictures, then tried.
#pragma once

#include <random>

#include "app/window/page.h"
#include "app/window/percept.h"

class QLabel;
class QPushButton;

namespace nearpoint {

class LearnPage : public Page {
  Q_OBJECT

 public:
  explicit LearnPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;

 private:
  void Ask();
  void Answer(bool two);
  void Finish();

  std::minstd_rand random_;
  PerceptPicture* question_;
  QLabel* says_;
  QPushButton* two_;
  QPushButton* not_two_;
  percept::Kind asked_ = percept::Kind::kOne;
  int right_in_a_row_ = 0;
  int asked_so_far_ = 0;
};

}  // namespace nearpoint
