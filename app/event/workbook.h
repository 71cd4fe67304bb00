// The first sheet of a workbook as a table: Office Open XML (ECMA-376, SpreadsheetML; from memory)
// or OpenDocument (open_document.h).
#pragma once

#include <string>
#include <string_view>

#include "app/event/csv_table.h"

namespace nearpoint {

// Whether these bytes are such a workbook, by their beginning.
[[nodiscard]] bool LooksLikeWorkbook(std::string_view bytes);

// Texts as they stand, numbers as they were typed, days (by their cell's format) as 2017-03-14,
// what a formula gave and not the formula. A row's line is its number in the sheet. Errors:
// kBadValue (damaged, locked, no sheet, no rows, larger than any list of children: SheetRows).
// where: the file, for messages.
[[nodiscard]] Result<CsvTable> ReadWorkbook(std::string_view bytes, const std::string& where);

}  // namespace nearpoint
