#include "app/window/keep_calibration.h"

#include <QCoreApplication>
#include <QDate>
#include <QLocale>

#include "app/live/open_camera.h"
#include "app/profile/profile_file.h"
#include "app/window/exercise/days.h"
#include "app/window/pending_writes.h"
#include "calibration/profile_json.h"

namespace nearpoint {

std::string DeviceOf(const AppContext& context) {
  return DeviceNameOf(context.camera.toStdString());
}

Origin MeasuredNow(const AppContext& context, const std::string& method) {
  Origin origin;
  origin.date = Today();
  origin.device = DeviceOf(context);
  origin.person = context.person ? std::to_string(context.person->id) : std::string();
  origin.software = NEARPOINT_VERSION;
  origin.method = method;
  return origin;
}

Result<void> KeepCalibration(AppContext& context, const Profile& profile) {
  if (context.practice && context.person) return {};
  context.profile = profile;
  context.calibrated = IsMeasured(profile.camera);
  context.unread_calibration.reset();
  if (!context.person) return {};
  // It counts from now on; what the store does not take now is tried again.
  return context.pending->Do(
      [&store = context.store, person = context.person->id, text = SerializeProfile(profile)] {
        return store.AddCalibration(person, text);
      });
}

bool IsMeasured(const CameraIntrinsics& camera) {
  return camera.focal_rel_sd < OrdinaryWebcam(1280, 720).focal_rel_sd;
}

std::chrono::sys_days DayOf(const QDateTime& utc) { return ToDay(utc.toUTC().date()); }

QString WhenMeasured(const Origin& origin) {
  const QDate date = ToQDate(origin.date);
  return QCoreApplication::translate("KeepCalibration", "Measured on %1.")
      .arg(QLocale().toString(date, QLocale::LongFormat));
}

}  // namespace nearpoint
