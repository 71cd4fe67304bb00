// What a page has measured becomes the profile of the person, in the store and for the next
// measurement.
#pragma once

#include <QDateTime>
#include <QString>
#include <chrono>

#include "app/window/app_context.h"

namespace nearpoint {

// The camera as it names itself; empty: not known.
[[nodiscard]] std::string DeviceOf(const AppContext& context);

// Origin of a part that is measured now, with the camera of the context.
[[nodiscard]] Origin MeasuredNow(const AppContext& context, const std::string& method);

// profile becomes context.profile; stored when there is a person. Practice changes nothing for a
// person who is there. Errors: those of the store; the profile is used all the same until the
// window is closed.
Result<void> KeepCalibration(AppContext& context, const Profile& profile);

// Only a measured camera is surer of its focal length than an ordinary webcam.
[[nodiscard]] bool IsMeasured(const CameraIntrinsics& camera);

// The day of a moment of the store's, as origins have it.
[[nodiscard]] std::chrono::sys_days DayOf(const QDateTime& utc);

// "Measured on 14 March 2026"
[[nodiscard]] QString WhenMeasured(const Origin& origin);

}  // namespace nearpoint
