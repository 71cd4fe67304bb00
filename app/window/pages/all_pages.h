// Every page of the window by its id.
#pragma once

#include <map>

#include "app/window/main_window.h"

namespace nearpoint {

[[nodiscard]] std::map<PageId, PageMaker> AllPages();

}  // namespace nearpoint
