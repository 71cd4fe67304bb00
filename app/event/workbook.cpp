#include "app/event/workbook.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cstdio>
#include <optional>
#include <vector>

#include "app/event/fold_text.h"
#include "app/event/zip_archive.h"

namespace nearpoint {
namespace {

// One element after the other, as they stand: enough for files that programs write.
class Elements {
 public:
  explicit Elements(std::string_view xml) : xml_(xml) {}

  // The next tag; text() is what stood before it. False at the end.
  bool Next() {
    const std::size_t open = xml_.find('<', at_);
    if (open == std::string_view::npos) return false;
    text_ = xml_.substr(at_, open - at_);
    const std::size_t close = xml_.find('>', open);
    if (close == std::string_view::npos) return false;
    tag_ = xml_.substr(open + 1, close - open - 1);
    at_ = close + 1;
    return true;
  }
  // "c", "/c"; without a prefix ("x:c").
  [[nodiscard]] std::string Name() const {
    std::string name(tag_.substr(0, tag_.find_first_of(" \t\r\n/", 1)));
    const std::size_t colon = name.find(':');
    if (colon == std::string::npos) return name;
    return (name.starts_with('/') ? "/" : "") + name.substr(colon + 1);
  }
  [[nodiscard]] bool closed() const { return tag_.ends_with('/'); }
  [[nodiscard]] std::string Attribute(std::string_view name) const {
    const std::string key = " " + std::string(name) + "=";
    const std::size_t at = tag_.find(key);
    if (at == std::string_view::npos || at + key.size() >= tag_.size()) return {};
    const char quote = tag_[at + key.size()];
    const std::size_t begin = at + key.size() + 1;
    const std::size_t end = tag_.find(quote, begin);
    return end == std::string_view::npos ? std::string() : Plain(tag_.substr(begin, end - begin));
  }
  [[nodiscard]] std::string Text() const { return Plain(text_); }

 private:
  static std::string Plain(std::string_view text) {
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i) {
      const std::size_t end = text[i] == '&' ? text.find(';', i) : std::string_view::npos;
      if (end == std::string_view::npos) {
        plain += text[i];
        continue;
      }
      const std::string_view name = text.substr(i + 1, end - i - 1);
      if (name == "amp") plain += '&';
      if (name == "lt") plain += '<';
      if (name == "gt") plain += '>';
      if (name == "quot") plain += '"';
      if (name == "apos") plain += '\'';
      if (name.starts_with('#')) AppendUtf8(plain, Code(name.substr(1)));
      i = end;
    }
    return plain;
  }
  static char32_t Code(std::string_view digits) {
    const bool hex = digits.starts_with('x');
    if (hex) digits.remove_prefix(1);
    std::uint32_t code = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), code, hex ? 16 : 10);
    constexpr std::uint32_t kLast = 0x10FFFF;
    return code <= kLast ? code : 0xFFFD;
  }

  std::string_view xml_, tag_, text_;
  std::size_t at_ = 0;
};

int ToInt(std::string_view text) {
  int value = -1;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

std::vector<std::string> SharedTexts(std::string_view xml) {
  std::vector<std::string> texts;
  Elements elements(xml);
  bool phonetic = false;  // how a word is said, beside it
  while (elements.Next()) {
    const std::string name = elements.Name();
    if (name == "si") texts.emplace_back();
    if (name == "rPh" || name == "/rPh") phonetic = name == "rPh";
    if (name == "/t" && !texts.empty() && !phonetic) texts.back() += elements.Text();
  }
  return texts;
}

// Whether cells of each style are days: the built-in formats 14 to 22 (but for times alone), and
// own ones with a year or a day in them.
std::vector<bool> DayStyles(std::string_view xml) {
  std::vector<int> own;
  std::vector<bool> days;
  Elements elements(xml);
  bool cells = false;
  while (elements.Next()) {
    const std::string name = elements.Name();
    if (name == "numFmt") {
      const std::string code = FoldForSearch(elements.Attribute("formatCode"));
      if (code.find("yy") != std::string::npos || code.find("dd") != std::string::npos ||
          code.find("jj") != std::string::npos || code.find("tt") != std::string::npos) {
        own.push_back(ToInt(elements.Attribute("numFmtId")));
      }
    }
    if (name == "cellXfs" || name == "/cellXfs") cells = name == "cellXfs";
    if (name == "xf" && cells) {
      const int format = ToInt(elements.Attribute("numFmtId"));
      const bool built_in = (format >= 14 && format <= 17) || format == 22;
      days.push_back(built_in || std::ranges::find(own, format) != own.end());
    }
  }
  return days;
}

// Days since 1899-12-30, as spreadsheets count from 1900-03-01 on.
std::string DayOf(const std::string& serial) {
  const int days = ToInt(serial.substr(0, serial.find('.')));
  if (days < 61) return serial;
  const std::chrono::year_month_day day(std::chrono::sys_days(std::chrono::year(1899) / 12 / 30) +
                                        std::chrono::days(days));
  char text[16];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(day.year()),
                static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
  return text;
}

// The column of "AB12", from 0; nullopt where there is none, or one too far to be a roster's.
std::optional<std::size_t> ColumnOf(std::string_view place) {
  std::size_t column = 0;
  for (const char c : place) {
    if (c < 'A' || c > 'Z') break;
    column = 26 * column + static_cast<std::size_t>(c - 'A' + 1);
    constexpr std::size_t kMost = 1000;
    if (column > kMost) return std::nullopt;
  }
  if (column == 0) return std::nullopt;
  return column - 1;
}

class Sheet {
 public:
  Sheet(const std::vector<std::string>& texts, const std::vector<bool>& days)
      : texts_(texts), days_(days) {}

  std::vector<CsvRow> Read(std::string_view xml) {
    Elements elements(xml);
    while (elements.Next()) {
      const std::string name = elements.Name();
      if (name == "row" && !elements.closed()) {
        row_ = {};
        const int number = ToInt(elements.Attribute("r"));
        row_.line = number > 0 ? number : static_cast<int>(rows_.size()) + 1;
      } else if (name == "c") {
        type_ = elements.Attribute("t");
        style_ = ToInt(elements.Attribute("s"));
        column_ = ColumnOf(elements.Attribute("r")).value_or(row_.cells.size());
        value_.clear();
        if (elements.closed()) EndCell();
      } else if (name == "/v" || (name == "/t" && type_ == "inlineStr")) {
        value_ += elements.Text();
      } else if (name == "/c") {
        EndCell();
      } else if (name == "/row") {
        EndRow();
      }
    }
    return std::move(rows_);
  }

 private:
  void EndCell() {
    if (type_ == "s") {
      const int index = ToInt(value_);
      value_ = index >= 0 && static_cast<std::size_t>(index) < texts_.size()
                   ? texts_[static_cast<std::size_t>(index)]
                   : std::string();
    } else if (type_ == "b") {
      value_ = value_ == "1" ? "true" : "false";
    } else if ((type_.empty() || type_ == "n") && style_ >= 0 &&
               static_cast<std::size_t>(style_) < days_.size() &&
               days_[static_cast<std::size_t>(style_)] && !value_.empty()) {
      value_ = DayOf(value_);
    }
    if (row_.cells.size() <= column_) row_.cells.resize(column_ + 1);
    row_.cells[column_] = value_;
  }
  void EndRow() {
    const bool empty = std::ranges::all_of(
        row_.cells, [](const std::string& cell) { return Simplified(cell).empty(); });
    if (!empty) {
      // Empty cells at the end are not written; a table has them all the same.
      if (!rows_.empty() && row_.cells.size() < rows_.front().cells.size()) {
        row_.cells.resize(rows_.front().cells.size());
      }
      rows_.push_back(row_);
    }
    row_ = {};
  }

  const std::vector<std::string>& texts_;
  const std::vector<bool>& days_;
  std::vector<CsvRow> rows_;
  CsvRow row_;
  std::string type_, value_;
  int style_ = -1;
  std::size_t column_ = 0;
};

}  // namespace

bool LooksLikeWorkbook(std::string_view bytes) { return bytes.starts_with("PK\x03\x04"); }

Result<CsvTable> ReadWorkbook(std::string_view bytes, const std::string& where) {
  const auto files = ReadZip(bytes, where, [](std::string_view name) {
    return name == "xl/sharedStrings.xml" || name == "xl/styles.xml" ||
           (name.starts_with("xl/worksheets/sheet") && name.ends_with(".xml"));
  });
  if (!files) return tl::unexpected(files.error());
  const auto text = [&](const std::string& name) -> std::string_view {
    const auto file = files->find(name);
    return file == files->end() ? std::string_view() : std::string_view(file->second);
  };
  const auto sheet = std::ranges::find_if(
      *files, [](const auto& file) { return file.first.starts_with("xl/worksheets/sheet"); });
  if (sheet == files->end()) {
    return Fail(ErrorCode::kBadValue,
                where +
                    ": no sheet is in this file; expected a workbook (.xlsx) or a list saved as "
                    "CSV.");
  }
  const auto texts = SharedTexts(text("xl/sharedStrings.xml"));
  const auto days = DayStyles(text("xl/styles.xml"));
  CsvTable table;
  table.encoding = "workbook";
  table.rows = Sheet(texts, days).Read(sheet->second);
  if (table.rows.empty()) return Fail(ErrorCode::kBadValue, where + ": the sheet has no rows.");
  return table;
}

}  // namespace nearpoint
