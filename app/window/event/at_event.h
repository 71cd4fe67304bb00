// On top of the window at a school event: never the name of the person who uses this computer at
// home, since other people's children stand before it.
#pragma once

#include <QString>

namespace nearpoint {

[[nodiscard]] QString WhereAtEvent();

}  // namespace nearpoint
