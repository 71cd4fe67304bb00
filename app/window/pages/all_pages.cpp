#include "app/window/pages/all_pages.h"

#include "app/window/clinic/findings_page.h"
#include "app/window/clinic/patient_page.h"
#include "app/window/clinic/patients_page.h"
#include "app/window/clinic/plan_page.h"
#include "app/window/clinic/receive_page.h"
#include "app/window/clinic/session_page.h"
#include "app/window/clinic/setup_page.h"
#include "app/window/event/event_after_page.h"
#include "app/window/event/event_context.h"
#include "app/window/event/event_page.h"
#include "app/window/event/event_roster_page.h"
#include "app/window/event/event_set_up_page.h"
#include "app/window/event/station_card_page.h"
#include "app/window/event/station_child_page.h"
#include "app/window/event/station_done_page.h"
#include "app/window/event/station_page.h"
#include "app/window/pages/about_page.h"
#include "app/window/pages/camera_page.h"
#include "app/window/pages/card_camera_page.h"
#include "app/window/pages/card_face_page.h"
#include "app/window/pages/card_page.h"
#include "app/window/pages/card_print_page.h"
#include "app/window/pages/card_screen_page.h"
#include "app/window/pages/card_target_page.h"
#include "app/window/pages/card_touch_page.h"
#include "app/window/pages/cautions_page.h"
#include "app/window/pages/comfort_page.h"
#include "app/window/pages/delete_person_page.h"
#include "app/window/pages/diary_page.h"
#include "app/window/pages/exercise_page.h"
#include "app/window/pages/home_page.h"
#include "app/window/pages/lag_page.h"
#include "app/window/pages/learn_page.h"
#include "app/window/pages/measure_page.h"
#include "app/window/pages/past_page.h"
#include "app/window/pages/practice_card_page.h"
#include "app/window/pages/result_page.h"
#include "app/window/pages/safety_page.h"
#include "app/window/pages/settings_page.h"
#include "app/window/pages/welcome_page.h"
#include "app/window/practice_card.h"
#include "app/window/send/plan_file_page.h"
#include "app/window/send/send_page.h"

namespace nearpoint {
namespace {

template <typename AnyPage>
PageMaker Maker() {
  return [](AppContext& context, QWidget* parent) -> Page* { return new AnyPage(context, parent); };
}

// The card's pages at a station work for the child there, and lead back to the station; in practice
// they work for the simulated person.
template <typename AnyPage>
PageMaker CardMaker() {
  return [](AppContext& context, QWidget* parent) -> Page* {
    if (StationCardPage::IsWanted(context)) {
      return new AnyPage(context.event->card->context(), parent);
    }
    return new AnyPage(context.practice ? PracticeCardOf(context).context() : context, parent);
  };
}
Page* MakeCardPage(AppContext& context, QWidget* parent) {
  if (StationCardPage::IsWanted(context)) return new StationCardPage(context, parent);
  if (context.practice) return new PracticeCardPage(context, parent);
  return new CardPage(context, parent);
}
// Whoever is at home has left the station.
Page* MakeHomePage(AppContext& context, QWidget* parent) {
  if (context.event) context.event->card.reset();
  if (!context.practice) context.practice_card.reset();
  return new HomePage(context, parent);
}
Page* MakeWelcomePage(AppContext& context, QWidget* parent) {
  if (context.event) context.event->card.reset();
  return new WelcomePage(context, parent);
}

}  // namespace

std::map<PageId, PageMaker> AllPages() {
  return {
      {PageId::kWelcome, MakeWelcomePage},
      {PageId::kAbout, Maker<AboutPage>()},
      {PageId::kCautions, Maker<CautionsPage>()},
      {PageId::kSafety, Maker<SafetyPage>()},
      {PageId::kCamera, Maker<CameraPage>()},
      {PageId::kCard, MakeCardPage},
      {PageId::kLag, Maker<LagPage>()},
      {PageId::kLearn, Maker<LearnPage>()},
      {PageId::kHome, MakeHomePage},
      {PageId::kMeasure, Maker<MeasurePage>()},
      {PageId::kComfort, Maker<ComfortPage>()},
      {PageId::kResult, Maker<ResultPage>()},
      {PageId::kPast, Maker<PastPage>()},
      {PageId::kSettings, Maker<SettingsPage>()},
      {PageId::kDeletePerson, Maker<DeletePersonPage>()},
      {PageId::kExercise, Maker<ExercisePage>()},
      {PageId::kDiary, Maker<DiaryPage>()},
      {PageId::kCardCamera, CardMaker<CardCameraPage>()},
      {PageId::kCardPrint, CardMaker<CardPrintPage>()},
      {PageId::kCardFace, CardMaker<CardFacePage>()},
      {PageId::kCardTouch, CardMaker<CardTouchPage>()},
      {PageId::kCardTarget, Maker<CardTargetPage>()},
      {PageId::kCardScreen, Maker<CardScreenPage>()},
      {PageId::kEvent, Maker<EventPage>()},
      {PageId::kEventSetUp, Maker<EventSetUpPage>()},
      {PageId::kEventRoster, Maker<EventRosterPage>()},
      {PageId::kStation, Maker<StationPage>()},
      {PageId::kStationChild, Maker<StationChildPage>()},
      {PageId::kStationDone, Maker<StationDonePage>()},
      {PageId::kEventAfter, Maker<EventAfterPage>()},
      {PageId::kSend, Maker<SendPage>()},
      {PageId::kPlanFile, Maker<PlanFilePage>()},
      {PageId::kClinic, Maker<PatientsPage>()},
      {PageId::kClinicPatient, Maker<PatientPage>()},
      {PageId::kClinicSession, Maker<ClinicSessionPage>()},
      {PageId::kClinicReceive, Maker<ReceivePage>()},
      {PageId::kClinicPlan, Maker<PlanPage>()},
      {PageId::kClinicFindings, Maker<FindingsPage>()},
      {PageId::kClinicSetup, Maker<ClinicSetupPage>()},
  };
}

}  // namespace nearpoint
