#include "app/window/pages/all_pages.h"

#include "app/window/pages/about_page.h"
#include "app/window/pages/cautions_page.h"
#include "app/window/pages/home_page.h"
#include "app/window/pages/settings_page.h"
#include "app/window/pages/welcome_page.h"

namespace nearpoint {
namespace {

template <typename AnyPage>
PageMaker Maker() {
  return [](AppContext& context, QWidget* parent) -> Page* { return new AnyPage(context, parent); };
}

}  // namespace

std::map<PageId, PageMaker> AllPages() {
  return {
      {PageId::kWelcome, Maker<WelcomePage>()},   {PageId::kAbout, Maker<AboutPage>()},
      {PageId::kCautions, Maker<CautionsPage>()}, {PageId::kHome, Maker<HomePage>()},
      {PageId::kSettings, Maker<SettingsPage>()},
  };
}

}  // namespace nearpoint
