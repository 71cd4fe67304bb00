#include "app/event/workbook.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cstdio>
#include <optional>
#include <vector>

#include "app/event/fold_text.h"
#include "app/event/open_document.h"
#include "app/event/sheet_rows.h"
#include "app/event/xml_elements.h"
#include "app/event/zip_archive.h"

namespace nearpoint {
namespace {

tl::unexpected<Error> NoSheet(const std::string& where) {
  return Fail(ErrorCode::kBadValue,
              where +
                  ": no sheet is in this file; expected a workbook (.xlsx, .ods) or a list "
                  "saved as CSV.");
}

int ToInt(std::string_view text) {
  int value = -1;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

std::vector<std::string> SharedTexts(std::string_view xml) {
  std::vector<std::string> texts;
  XmlElements elements(xml);
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
  XmlElements elements(xml);
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
    if (column > SheetRows::kMostColumns) return std::nullopt;
  }
  if (column == 0) return std::nullopt;
  return column - 1;
}

class Sheet {
 public:
  Sheet(const std::vector<std::string>& texts, const std::vector<bool>& days, SheetRows& rows)
      : texts_(texts), days_(days), rows_(rows) {}

  void Read(std::string_view xml) {
    XmlElements elements(xml);
    while (!rows_.full() && elements.Next()) {
      const std::string name = elements.Name();
      if (name == "row") {
        const int number = ToInt(elements.Attribute("r"));
        line_ = number > 0 ? number : line_ + 1;
        next_ = 0;
      } else if (name == "c") {
        type_ = elements.Attribute("t");
        style_ = ToInt(elements.Attribute("s"));
        column_ = ColumnOf(elements.Attribute("r")).value_or(next_);
        value_.clear();
        if (elements.closed()) EndCell();
      } else if (name == "/v" || (name == "/t" && type_ == "inlineStr")) {
        value_ += elements.Text();
      } else if (name == "/c") {
        EndCell();
      } else if (name == "/row") {
        rows_.EndRow(line_);
      }
    }
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
    rows_.Put(column_, value_);
    next_ = column_ + 1;
  }

  const std::vector<std::string>& texts_;
  const std::vector<bool>& days_;
  SheetRows& rows_;
  std::string type_, value_;
  int style_ = -1, line_ = 0;
  std::size_t column_ = 0, next_ = 0;
};

// The first sheet that is shown, as a path inside the file: workbook.xml names it by an id, and
// what the id means stands in the relations.
std::string FirstSheet(std::string_view workbook, std::string_view relations) {
  std::string id;
  for (XmlElements elements(workbook); id.empty() && elements.Next();) {
    const std::string state = elements.Attribute("state");
    if (elements.Name() == "sheet" && (state.empty() || state == "visible")) {
      id = elements.Attribute("r:id");
    }
  }
  for (XmlElements elements(relations); !id.empty() && elements.Next();) {
    if (elements.Name() != "Relationship" || elements.Attribute("Id") != id) continue;
    const std::string target = elements.Attribute("Target");
    return target.starts_with('/') ? target.substr(1) : "xl/" + target;
  }
  return "xl/worksheets/sheet1.xml";
}

Result<void> ReadOfficeOpen(std::string_view bytes, const std::string& where, SheetRows& rows) {
  constexpr const char* kBook = "xl/workbook.xml";
  constexpr const char* kRelations = "xl/_rels/workbook.xml.rels";
  auto files = ReadZip(bytes, where, [](std::string_view name) {
    return name == "xl/sharedStrings.xml" || name == "xl/styles.xml" || name == kBook ||
           name == kRelations;
  });
  if (!files) return tl::unexpected(files.error());
  const std::string first = FirstSheet((*files)[kBook], (*files)[kRelations]);
  const auto sheets =
      ReadZip(bytes, where, [&first](std::string_view name) { return name == first; });
  if (!sheets) return tl::unexpected(sheets.error());
  if (sheets->empty()) return NoSheet(where);
  const auto texts = SharedTexts((*files)["xl/sharedStrings.xml"]);
  const auto days = DayStyles((*files)["xl/styles.xml"]);
  Sheet(texts, days, rows).Read(sheets->begin()->second);
  return {};
}

// False: it is none.
Result<bool> ReadOpenDocument(std::string_view bytes, const std::string& where, SheetRows& rows) {
  auto files = ReadZip(bytes, where, [](std::string_view name) {
    return name == "content.xml" || name == "META-INF/manifest.xml";
  });
  if (!files) return tl::unexpected(files.error());
  if (!files->contains("content.xml")) return false;
  if ((*files)["META-INF/manifest.xml"].find("encryption-data") != std::string::npos) {
    return Fail(ErrorCode::kBadValue,
                where + ": the file is locked with a password; save it without one.");
  }
  if (!ReadOpenDocumentSheet((*files)["content.xml"], rows)) return NoSheet(where);
  return true;
}

}  // namespace

bool LooksLikeWorkbook(std::string_view bytes) { return bytes.starts_with("PK\x03\x04"); }

Result<CsvTable> ReadWorkbook(std::string_view bytes, const std::string& where) {
  SheetRows rows;
  const auto open_document = ReadOpenDocument(bytes, where, rows);
  if (!open_document) return tl::unexpected(open_document.error());
  if (!*open_document) {
    if (auto read = ReadOfficeOpen(bytes, where, rows); !read) return tl::unexpected(read.error());
  }
  if (rows.full()) {
    return Fail(ErrorCode::kBadValue,
                where +
                    ": the sheet is too large for a list of children; remove what does not "
                    "belong to it.");
  }
  CsvTable table;
  table.encoding = "workbook";
  table.rows = rows.Take();
  if (table.rows.empty()) return Fail(ErrorCode::kBadValue, where + ": the sheet has no rows.");
  return table;
}

}  // namespace nearpoint
