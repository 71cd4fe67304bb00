// A table as a file brings it: bytes of unknown encoding and an unknown separator, read into cells.
// RFC 4180 with the separators that spreadsheets use.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

struct CsvRow {
  int line = 0;                    // of the file, from 1; a cell may span lines
  std::vector<std::string> cells;  // UTF-8
  // A quote inside an unquoted cell, or text behind a closing quote: taken as it stands.
  bool odd_quotes = false;
};

struct CsvTable {
  std::string encoding;  // "UTF-8", "UTF-16", "Windows-1252", for the person
  char separator = ',';
  std::vector<CsvRow> rows;  // without empty lines
};

// The separator of comma, semicolon, tab and bar that gives most rows as many cells as the first,
// more than one. Errors: kBadValue (empty, no text, another format by its first bytes, a quote that
// is never closed: with the line). where: the file, for messages.
[[nodiscard]] Result<CsvTable> ReadCsvTable(std::string_view bytes, const std::string& where);

// A cell for a file of ours: quoted where needed, and never one that a spreadsheet would run as a
// formula (OWASP, "CSV Injection"; from memory): those get an apostrophe in front.
[[nodiscard]] std::string CsvCell(std::string_view text);

}  // namespace nearpoint
