#include "app/event/sheet_rows.h"

#include <algorithm>

#include "app/event/fold_text.h"

namespace nearpoint {

void SheetRows::Put(std::size_t column, const std::string& text) {
  if (text.empty()) return;
  if (column >= kMostColumns || text.size() > kMostBytes) {
    full_ = true;
    return;
  }
  if (row_.size() <= column) row_.resize(column + 1);
  row_[column] = text;
}

void SheetRows::EndRow(int line, std::int64_t times) {
  std::vector<std::string> row = std::exchange(row_, {});
  const bool empty =
      std::ranges::all_of(row, [](const std::string& cell) { return Simplified(cell).empty(); });
  if (empty) return;
  if (!rows_.empty()) row.resize(std::max(row.size(), rows_.front().cells.size()));
  std::size_t bytes = 0;
  for (const std::string& cell : row) bytes += cell.size();
  for (std::int64_t i = 0; i < times && !full_; ++i) {
    cells_ += row.size();
    bytes_ += bytes;
    full_ = cells_ > kMostCells || bytes_ > kMostBytes;
    if (!full_) rows_.push_back({.line = line + static_cast<int>(i), .cells = row});
  }
}

}  // namespace nearpoint
