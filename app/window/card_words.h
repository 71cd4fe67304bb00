// The calibration by the card in the words of the person.
#pragma once

#include <QString>

#include "app/live/card_look.h"
#include "calibration/camera_check.h"
#include "calibration/camera_views.h"
#include "calibration/face_plausible.h"

namespace nearpoint::words {

// What to do next with the card before the camera.
[[nodiscard]] QString NextView(const CameraGuidance& guide);
// What became of the last picture; empty where there is nothing to say.
[[nodiscard]] QString ViewNow(const CardLook& look, ViewStep step);
// Why the views cannot be used, and what to do.
[[nodiscard]] QString Refused(CameraFault fault, CardKind kind);

// Why a picture of the face with the card does not count; empty: it does.
[[nodiscard]] QString FaceNow(const FaceCardSeen& seen);
// Why a picture of the sheet with a real card does not tell the size of the print; empty: it does.
[[nodiscard]] QString PrintNow(const PrintSeen& seen);
// A print that is not as large as it should be, with its percentage and what to do.
[[nodiscard]] QString ScaledPrint(const PrintScale& print);
// The size of a print: "99.6 %".
[[nodiscard]] QString PrintPercent(const PrintScale& print);

// What is unusual about the lengths of a face.
[[nodiscard]] QString Doubt(const FaceDoubt& doubt);

}  // namespace nearpoint::words
