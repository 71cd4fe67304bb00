// The first sheet of an OpenDocument spreadsheet (OASIS OpenDocument 1.2, part 1; from memory).
#pragma once

#include <string_view>

#include "app/event/sheet_rows.h"

namespace nearpoint {

// content: content.xml of the file. Texts as they stand, numbers as they were typed, days as
// 2017-03-14, what a formula gave; notes to cells are left out. False: there is no sheet in it.
[[nodiscard]] bool ReadOpenDocumentSheet(std::string_view content, SheetRows& rows);

}  // namespace nearpoint
