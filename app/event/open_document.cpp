#include "app/event/open_document.h"

#include <algorithm>
#include <charconv>

#include "app/event/xml_elements.h"

namespace nearpoint {
namespace {

// How often something stands there: at least once.
std::int64_t Times(const std::string& text) {
  std::int64_t times = 1;
  std::from_chars(text.data(), text.data() + text.size(), times);
  constexpr std::int64_t kMostRows = 1 << 24;
  return std::clamp<std::int64_t>(times, 1, kMostRows);
}

class Sheet {
 public:
  explicit Sheet(SheetRows& rows) : rows_(rows) {}

  bool Read(XmlElements& xml) {
    bool found = false;
    while (!rows_.full() && xml.Next()) {
      const std::string name = xml.Name();
      if (name == "table") found = true;
      if (!found) continue;
      if (name == "/table") break;
      // A note to a cell has paragraphs of its own.
      if (name == "annotation" && !xml.closed()) in_note_ = true;
      if (name == "/annotation") in_note_ = false;
      if (!in_note_) Take(xml, name);
    }
    return found;
  }

 private:
  void Take(const XmlElements& xml, const std::string& name) {
    if (name == "table-row") {
      row_times_ = Times(xml.Attribute("table:number-rows-repeated"));
      column_ = 0;
      if (xml.closed()) line_ += row_times_;
    } else if (name == "/table-row") {
      rows_.EndRow(static_cast<int>(line_), row_times_);
      line_ += row_times_;
    } else if (name == "table-cell" || name == "covered-table-cell") {
      BeginCell(xml);
      if (xml.closed()) EndCell();
    } else if (name == "/table-cell" || name == "/covered-table-cell") {
      EndCell();
    } else if (in_cell_) {
      TakeText(xml, name);
    }
  }

  void BeginCell(const XmlElements& xml) {
    in_cell_ = true;
    paragraphs_ = 0;
    text_.clear();
    cell_times_ = Times(xml.Attribute("table:number-columns-repeated"));
    const std::string type = xml.Attribute("office:value-type");
    value_.clear();
    if (type == "float" || type == "percentage" || type == "currency") {
      value_ = xml.Attribute("office:value");
    } else if (type == "date") {
      value_ = xml.Attribute("office:date-value");
      value_ = value_.substr(0, value_.find('T'));
    } else if (type == "boolean") {
      value_ = xml.Attribute("office:boolean-value");
    } else if (type == "string") {
      value_ = xml.Attribute("office:string-value");
    }
  }

  void TakeText(const XmlElements& xml, const std::string& name) {
    if (name == "p") {
      if (paragraphs_++ > 0) text_ += '\n';
      in_paragraph_ = !xml.closed();
      return;
    }
    if (!in_paragraph_) return;
    text_ += xml.Text();
    if (name == "s")
      text_.append(
          static_cast<std::size_t>(std::min<std::int64_t>(Times(xml.Attribute("text:c")), 100)),
          ' ');
    if (name == "tab") text_ += '\t';
    if (name == "line-break") text_ += '\n';
    if (name == "/p") in_paragraph_ = false;
  }

  void EndCell() {
    if (!in_cell_) return;
    in_cell_ = in_paragraph_ = false;
    const std::string& text = value_.empty() ? text_ : value_;
    // Empty ones reach to the edge of the sheet; only where they end matters.
    const auto last = static_cast<std::int64_t>(SheetRows::kMostColumns);
    for (std::int64_t i = 0; !text.empty() && i < std::min(cell_times_, last); ++i) {
      rows_.Put(static_cast<std::size_t>(column_ + i), text);
    }
    column_ += cell_times_;
  }

  SheetRows& rows_;
  std::int64_t line_ = 1, row_times_ = 1, column_ = 0, cell_times_ = 1;
  std::string text_, value_;
  int paragraphs_ = 0;
  bool in_note_ = false, in_cell_ = false, in_paragraph_ = false;
};

}  // namespace

bool ReadOpenDocumentSheet(std::string_view content, SheetRows& rows) {
  const std::size_t begin = content.find("<office:spreadsheet");
  if (begin == std::string_view::npos) return false;
  XmlElements xml(content.substr(begin));
  return Sheet(rows).Read(xml);
}

}  // namespace nearpoint
