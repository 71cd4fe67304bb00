// What to do today.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class HomePage : public Page {
  Q_OBJECT

 public:
  explicit HomePage(AppContext& context, QWidget* parent = nullptr);

 private:
  void OfferToGoOn();
  // Whether something keeps this person from measuring and exercising.
  bool SayWhatStops();
  void SayWhatIsUnread();
  void Lead(const QString& name, const QString& title, const QString& line, PageId page);
};

}  // namespace nearpoint
