// The small drawings on the calibration sheet: what to do, without words.
#pragma once

#include <QPainter>
#include <QRectF>

namespace nearpoint {

enum class SheetPicture { kPrint, kRuler, kCompare, kCutAndFold, kShow, kStrip };

// Inside the box, in the painter's unit (millimetres).
void DrawSheetPicture(SheetPicture picture, const QRectF& box, QPainter& painter);

}  // namespace nearpoint
