#include "app/window/begin.h"

#include <QCoreApplication>
#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "app/live/open_camera.h"
#include "app/live/practice_card.h"
#include "app/live/practice_patient.h"
#include "app/profile/profile_file.h"
#include "app/window/event/event_context.h"
#include "app/window/keep_calibration.h"
#include "app/window/practice_card.h"
#include "app/window/profile_defaults.h"
#include "calibration/profile_json.h"

namespace nearpoint {
namespace {

constexpr std::array kFirstRun{PageId::kWelcome, PageId::kAbout, PageId::kSafety, PageId::kCamera,
                               PageId::kCard,    PageId::kLag,   PageId::kLearn};
// What a practice needs of it: no camera, no calibration.
constexpr std::array kFirstPractice{PageId::kWelcome, PageId::kAbout, PageId::kCautions,
                                    PageId::kLearn};

std::span<const PageId> Order(const AppContext& context) {
  if (context.practice) return kFirstPractice;
  return kFirstRun;
}

// With the touch of the nose that was practised, where it was.
std::optional<Profile> PractisedTouch(const AppContext& context) {
  if (!context.practice_card) return std::nullopt;
  const Profile& practised = context.practice_card->context().profile;
  if (!practised.held_card || !practised.held_card->zero) return std::nullopt;
  return practised;
}

}  // namespace

PageId Begin(AppContext& context, bool practice) {
  context.practice = practice;
  context.camera = context.store.Setting("camera", "0");
  const auto people = context.store.People();
  const RowId last = context.store.Setting("person").toLongLong();
  if (people && !people->empty()) {
    const auto known =
        std::ranges::find_if(*people, [last](const Person& p) { return p.id == last; });
    Choose(context, known != people->end() ? *known : people->front());
    return PageId::kHome;
  }
  context.profile = DefaultProfile();
  context.first_run = true;
  return PageId::kWelcome;
}

void Choose(AppContext& context, const Person& person) {
  context.person = person;
  context.profile = DefaultProfile();
  context.calibrated = false;
  context.unread_calibration.reset();
  context.safety_wanted.reset();
  context.safety_now = {};
  // A setting that cannot be written now is asked for again the next time; nothing is lost.
  static_cast<void>(context.store.SetSetting("person", QString::number(person.id)));
  const auto calibration = context.store.LatestCalibration(person.id);
  if (!calibration) context.unread_calibration = calibration.error();
  if (!calibration || !*calibration) return;
  const auto profile = ParseProfile((*calibration)->profile_json, "calibration in the store");
  if (!profile) {
    context.unread_calibration = profile.error();
    return;
  }
  context.profile = *profile;
  context.calibrated = IsMeasured(profile->camera);
}

OpenLiveSource UsualSource(const AppContext& context) {
  const bool at_event = context.event && context.event->measuring;
  const QString target = context.store.Setting("target", "printed");
  if (!context.practice) {
    Profile profile =
        at_event ? context.event->MeasuredWith(context) : SetUpAsChosen(context.profile, target);
    const bool measured = profile.made.target.has_value();
    if (!measured && target == "screen") {
      // The letter at the top of the screen: below the lens by the edge of the lid and a little.
      // Nobody measured where exactly (a guess made wide).
      profile.target_mm = {0, 35, 0};
      profile.target_sd = Length::Millimeters(10);
    }
    // What was measured with another camera is not used in silence.
    const Present present{Today(), DeviceOf(context), ""};
    if (auto belongs = CheckBelongs(profile.made, present, "calibration"); !belongs) {
      return [error = belongs.error()]() -> Result<LiveSource> { return tl::unexpected(error); };
    }
    return OpenCamera(context.camera.toStdString(), profile, IsMeasured(profile.camera));
  }
  PracticeOptions options = at_event           ? context.event->Patient(context.event->child)
                            : target == "card" ? PracticeWithCard()
                                               : DefaultPractice();
  options.presses = context.patient_presses;
  if (!at_event && target == "card") options.practised = PractisedTouch(context);
  return OpenPractice(std::move(options));
}

Profile SetUpAsChosen(Profile profile, const QString& target) {
  if (target != "card") {
    profile.held_card.reset();
  } else if (!profile.held_card) {
    profile.held_card = HeldCardSetup{};
  }
  return profile;
}

OpenLiveSource CameraForCard(const AppContext& context, CardTask task) {
  if (context.practice) return OpenCardPractice(task, context.profile);
  return OpenCamera(context.camera.toStdString(), context.profile, context.calibrated);
}

PageId After(const AppContext& context, PageId page) {
  if (!context.first_run) return PageId::kHome;
  const auto order = Order(context);
  const auto at = std::ranges::find(order, page);
  if (at == order.end() || at + 1 == order.end()) return PageId::kHome;
  return *(at + 1);
}

PageId Before(const AppContext& context, PageId page) {
  if (!context.first_run) return PageId::kHome;
  const auto order = Order(context);
  const auto at = std::ranges::find(order, page);
  return at == order.end() || at == order.begin() ? page : *(at - 1);
}

QString StepText(const AppContext& context, PageId page) {
  if (!context.first_run) return {};
  const auto order = Order(context);
  const auto at = std::ranges::find(order, page);
  if (at == order.end()) return {};
  return QCoreApplication::translate("StepText", "Step %1 of %2")
      .arg(at - order.begin() + 1)
      .arg(order.size());
}

}  // namespace nearpoint
