#include "app/event/csv_table.h"

#include <algorithm>
#include <array>
#include <optional>

#include "app/event/fold_text.h"

namespace nearpoint {
namespace {

constexpr std::array kSeparators{',', ';', '\t', '|'};

struct Decoded {
  std::string text;
  std::string encoding;
};

Result<Decoded> Decode(std::string_view bytes, const std::string& where) {
  if (bytes.empty()) return Fail(ErrorCode::kBadValue, where + ": the file is empty.");
  if (bytes.starts_with("PK\x03\x04") || bytes.starts_with("\xD0\xCF\x11\xE0")) {
    return Fail(ErrorCode::kBadValue,
                where +
                    ": this is a workbook and not a table of text; save the sheet with the "
                    "list as CSV and take that file.");
  }
  if (bytes.starts_with("%PDF")) {
    return Fail(ErrorCode::kBadValue, where + ": this is a PDF; expected a list saved as CSV.");
  }
  if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
  const bool little = bytes.starts_with("\xFF\xFE");
  if (little || bytes.starts_with("\xFE\xFF")) {
    auto text = Utf8FromUtf16(bytes.substr(2), !little);
    if (!text) {
      return Fail(ErrorCode::kBadValue,
                  where + ": it says to be UTF-16 and is not, or it is cut off.");
    }
    return Decoded{*std::move(text), "UTF-16"};
  }
  if (bytes.find('\0') != std::string_view::npos) {
    return Fail(ErrorCode::kBadValue,
                where + ": this is no text (it has zero bytes); expected a list saved as CSV.");
  }
  if (IsUtf8(bytes)) return Decoded{std::string(bytes), "UTF-8"};
  return Decoded{Utf8FromWindows1252(bytes), "Windows-1252"};
}

// Character by character, since a quoted cell may hold separators and line ends.
class Reader {
 public:
  Reader(std::string_view text, char separator) : text_(text), separator_(separator) {}

  // nullopt when a quote is never closed; OpenedAt() is its line.
  std::optional<std::vector<CsvRow>> Read() {
    row_.line = 1;
    for (at_ = 0; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (c == '\n') ++line_;
      if (quoted_) {
        TakeQuoted(c);
      } else {
        TakePlain(c);
      }
    }
    if (quoted_) return std::nullopt;
    EndRow();
    return std::move(rows_);
  }
  [[nodiscard]] int opened_at() const { return opened_at_; }

 private:
  void TakeQuoted(char c) {
    if (c != '"') {
      cell_ += c;
    } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
      cell_ += '"';
      ++at_;
    } else {
      quoted_ = false;
      closed_ = true;
    }
  }
  void TakePlain(char c) {
    if (c == separator_) {
      EndCell();
    } else if (c == '\n' || c == '\r') {
      if (c == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n')
        ++at_, ++line_;
      else if (c == '\r')
        ++line_;
      EndRow();
    } else if (c == '"' && cell_.empty() && !closed_) {
      quoted_ = true;
      opened_at_ = line_;
    } else {
      if (c == '"' || (closed_ && c != ' ')) row_.odd_quotes = true;
      cell_ += c;
    }
  }
  void EndCell() {
    row_.cells.push_back(std::exchange(cell_, {}));
    closed_ = false;
  }
  void EndRow() {
    EndCell();
    const bool empty = std::ranges::all_of(
        row_.cells, [](const std::string& cell) { return Simplified(cell).empty(); });
    if (!empty) rows_.push_back(std::move(row_));
    row_ = {};
    row_.line = line_;
  }

  std::string_view text_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1;
  int opened_at_ = 0;
  bool quoted_ = false;
  bool closed_ = false;
  std::string cell_;
  CsvRow row_;
  std::vector<CsvRow> rows_;
};

// Rows as wide as the first, where that is wider than one cell.
std::size_t Agreement(const std::vector<CsvRow>& rows) {
  if (rows.empty() || rows.front().cells.size() < 2) return 0;
  return static_cast<std::size_t>(std::ranges::count_if(
      rows, [&](const CsvRow& row) { return row.cells.size() == rows.front().cells.size(); }));
}

}  // namespace

Result<CsvTable> ReadCsvTable(std::string_view bytes, const std::string& where) {
  auto decoded = Decode(bytes, where);
  if (!decoded) return tl::unexpected(decoded.error());
  CsvTable table;
  table.encoding = decoded->encoding;
  std::string_view text = decoded->text;
  // The first line of some spreadsheets names the separator.
  int skipped = 0;
  std::optional<char> named;
  if (text.starts_with("sep=") && text.size() > 4) {
    named = text[4];
    const std::size_t end = text.find('\n');
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    skipped = 1;
  }
  std::size_t best = 0;
  std::optional<int> unclosed;
  bool read = false;
  for (const char separator : kSeparators) {
    if (named && separator != *named) continue;
    Reader reader(text, separator);
    auto rows = reader.Read();
    if (!rows) {
      unclosed = reader.opened_at();
      continue;
    }
    const std::size_t agreement = Agreement(*rows);
    if (read && agreement <= best) continue;
    best = agreement;
    table.separator = separator;
    table.rows = *std::move(rows);
    read = true;
  }
  if (best == 0 && unclosed) {
    return Fail(ErrorCode::kBadValue, where + ", line " + std::to_string(*unclosed + skipped) +
                                          ": a quote opens here and is never closed.");
  }
  for (CsvRow& row : table.rows) row.line += skipped;
  if (table.rows.empty()) return Fail(ErrorCode::kBadValue, where + ": the file has no rows.");
  return table;
}

std::string CsvCell(std::string_view text) {
  std::string cell(text);
  if (!cell.empty() && std::string_view("=+-@\t\r").find(cell.front()) != std::string_view::npos) {
    cell.insert(cell.begin(), '\'');
  }
  if (cell.find_first_of(",;\"\n\r") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace nearpoint
