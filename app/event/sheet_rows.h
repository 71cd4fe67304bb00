// The rows of a sheet as they are read, within bounds: a small file can ask for any number of
// cells, by naming far columns, by repeating, or by pointing at one long text again and again.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "app/event/csv_table.h"

namespace nearpoint {

class SheetRows {
 public:
  // Columns beyond the first thousand are no roster's.
  static constexpr std::size_t kMostColumns = 1000;

  // Of the row that is being read, from 0. What lies beyond the bounds is dropped, and full() says
  // so from then on.
  void Put(std::size_t column, const std::string& text);
  // Ends the row: its number in the sheet, from 1, and how often it stands there. Rows without a
  // text are left out; empty cells at the end are there as far as the first row has them.
  void EndRow(int line, std::int64_t times = 1);

  [[nodiscard]] bool full() const { return full_; }
  [[nodiscard]] std::vector<CsvRow> Take() { return std::move(rows_); }

 private:
  // A school of 20,000 with 50 columns; and the texts in them.
  static constexpr std::size_t kMostCells = 1'000'000;
  static constexpr std::size_t kMostBytes = std::size_t{32} << 20;

  std::vector<std::string> row_;
  std::vector<CsvRow> rows_;
  std::size_t cells_ = 0, bytes_ = 0;
  bool full_ = false;
};

}  // namespace nearpoint
