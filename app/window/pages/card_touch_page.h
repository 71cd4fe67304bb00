// The zero of a card that is brought to the nose: without the card, the card held up, the card on
// the bridge of the nose and one key. Whoever has a card on the nose reads nothing, so each step is
// heard as well.
#pragma once

#include <optional>
#include <vector>

#include "app/live/live.h"
#include "app/window/page.h"
#include "calibration/face_touch.h"

class QLabel;
class QPushButton;

namespace nearpoint {

class LivePicture;

class CardTouchPage : public Page {
  Q_OBJECT

 public:
  explicit CardTouchPage(AppContext& context, QWidget* parent = nullptr);
  ~CardTouchPage() override;
  [[nodiscard]] PageId WayOut() const override { return PageId::kCard; }
  // While the card is on its way to the nose nobody aims at a button.
  [[nodiscard]] bool TakesEveryPress() const override {
    return stage_ == Stage::kBring || stage_ == Stage::kRest;
  }
  void TakePress() override;

  enum class Stage {
    kPrint,   // nobody measured the print: asked, and nothing begins
    kEyes,    // the eyes without the card
    kHoldUp,  // the card held up, away from the face
    kBring,   // on its way to the nose; a press says that it rests there
    kRest,    // and it stays there
    kOver,    // measured, or it did not work
  };
  // For tests and pictures.
  [[nodiscard]] Stage stage() const { return stage_; }

 private:
  // Nobody measured the print: said, and nothing begins until somebody goes on without.
  void RefusePrint();
  void Start();
  void Enter(Stage stage);
  void OnLook(const CardLook& look);
  void OnFailed(const Error& error);
  void Measure();
  void Refuse(const Error& error);
  void Say(const QString& headline, const QString& line, const QString& spoken);
  // Whether what is asked for has been seen for a second without a break.
  [[nodiscard]] bool SeenForASecond(bool seen, Time now);

  LivePicture* picture_ = nullptr;
  QLabel* headline_ = nullptr;
  QLabel* line_ = nullptr;
  QLabel* now_ = nullptr;  // why this picture does not count
  QPushButton* again_ = nullptr;
  QPushButton* unchecked_ = nullptr;  // although nobody measured the print
  QPushButton* skip_ = nullptr;       // where the next step is another
  PageId next_page_ = PageId::kCard;
  Stage stage_ = Stage::kPrint;
  std::optional<Time> seen_since_;
  Time last_{};
  Time pressed_{};
  std::vector<TouchSample> samples_;
  TouchOptions options_;
};

}  // namespace nearpoint
