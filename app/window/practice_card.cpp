#include "app/window/practice_card.h"

#include "app/window/profile_defaults.h"

namespace nearpoint {

PracticeCard::PracticeCard(const AppContext& home) : context_(home.store, home.live, home.sound) {
  context_.practice = true;
  context_.open_card_source = home.open_card_source;
  context_.profile = DefaultProfile();
}

PracticeCard& PracticeCardOf(AppContext& context) {
  if (!context.practice_card) context.practice_card = std::make_shared<PracticeCard>(context);
  return *context.practice_card;
}

}  // namespace nearpoint
