#include "app/window/pages/all_pages.h"

#include "app/window/pages/about_page.h"
#include "app/window/pages/camera_page.h"
#include "app/window/pages/card_camera_page.h"
#include "app/window/pages/card_face_page.h"
#include "app/window/pages/card_page.h"
#include "app/window/pages/card_target_page.h"
#include "app/window/pages/cautions_page.h"
#include "app/window/pages/comfort_page.h"
#include "app/window/pages/diary_page.h"
#include "app/window/pages/exercise_page.h"
#include "app/window/pages/home_page.h"
#include "app/window/pages/lag_page.h"
#include "app/window/pages/learn_page.h"
#include "app/window/pages/measure_page.h"
#include "app/window/pages/past_page.h"
#include "app/window/pages/result_page.h"
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
      {PageId::kCautions, Maker<CautionsPage>()}, {PageId::kCamera, Maker<CameraPage>()},
      {PageId::kCard, Maker<CardPage>()},         {PageId::kLag, Maker<LagPage>()},
      {PageId::kLearn, Maker<LearnPage>()},       {PageId::kHome, Maker<HomePage>()},
      {PageId::kMeasure, Maker<MeasurePage>()},   {PageId::kComfort, Maker<ComfortPage>()},
      {PageId::kResult, Maker<ResultPage>()},     {PageId::kPast, Maker<PastPage>()},
      {PageId::kSettings, Maker<SettingsPage>()}, {PageId::kExercise, Maker<ExercisePage>()},
      {PageId::kDiary, Maker<DiaryPage>()},       {PageId::kCardCamera, Maker<CardCameraPage>()},
      {PageId::kCardFace, Maker<CardFacePage>()}, {PageId::kCardTarget, Maker<CardTargetPage>()},
  };
}

}  // namespace nearpoint
