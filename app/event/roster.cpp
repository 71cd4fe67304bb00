#include "app/event/roster.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "app/event/fold_text.h"
#include "app/event/roster_cells.h"
#include "app/event/workbook.h"

namespace nearpoint {
namespace {

struct HeaderWord {
  RosterField field;
  std::string_view word;  // folded
};
// The whole cell counts first, then its beginning, so that "class teacher" is no class where there
// is a "class".
constexpr std::array kHeaderWords{
    HeaderWord{RosterField::kNumber, "number"},
    HeaderWord{RosterField::kNumber, "no"},
    HeaderWord{RosterField::kNumber, "no."},
    HeaderWord{RosterField::kNumber, "nr"},
    HeaderWord{RosterField::kNumber, "nr."},
    HeaderWord{RosterField::kNumber, "nummer"},
    HeaderWord{RosterField::kNumber, "id"},
    HeaderWord{RosterField::kNumber, "pupil number"},
    HeaderWord{RosterField::kNumber, "wristband"},
    HeaderWord{RosterField::kFamilyName, "family name"},
    HeaderWord{RosterField::kFamilyName, "last name"},
    HeaderWord{RosterField::kFamilyName, "surname"},
    HeaderWord{RosterField::kFamilyName, "nachname"},
    HeaderWord{RosterField::kFamilyName, "familienname"},
    HeaderWord{RosterField::kName, "first name"},
    HeaderWord{RosterField::kName, "given name"},
    HeaderWord{RosterField::kName, "vorname"},
    HeaderWord{RosterField::kName, "name"},
    HeaderWord{RosterField::kName, "full name"},
    HeaderWord{RosterField::kName, "child"},
    HeaderWord{RosterField::kName, "pupil"},
    HeaderWord{RosterField::kName, "student"},
    HeaderWord{RosterField::kName, "schuler"},
    HeaderWord{RosterField::kName, "kind"},
    HeaderWord{RosterField::kGroup, "class"},
    HeaderWord{RosterField::kGroup, "group"},
    HeaderWord{RosterField::kGroup, "grade"},
    HeaderWord{RosterField::kGroup, "form"},
    HeaderWord{RosterField::kGroup, "room"},
    HeaderWord{RosterField::kGroup, "klasse"},
    HeaderWord{RosterField::kGroup, "gruppe"},
    HeaderWord{RosterField::kAge, "age"},
    HeaderWord{RosterField::kAge, "alter"},
    HeaderWord{RosterField::kBorn, "born"},
    HeaderWord{RosterField::kBorn, "birth"},
    HeaderWord{RosterField::kBorn, "birthday"},
    HeaderWord{RosterField::kBorn, "date of birth"},
    HeaderWord{RosterField::kBorn, "dob"},
    HeaderWord{RosterField::kBorn, "geboren"},
    HeaderWord{RosterField::kBorn, "geburtsdatum"},
    HeaderWord{RosterField::kConsent, "consent"},
    HeaderWord{RosterField::kConsent, "permission"},
    HeaderWord{RosterField::kConsent, "einwilligung"},
    HeaderWord{RosterField::kConsent, "erlaubnis"},
    HeaderWord{RosterField::kConsent, "agreed"},
    HeaderWord{RosterField::kConsent, "agreement"},
    HeaderWord{RosterField::kConsent, "ok eltern"},
    HeaderWord{RosterField::kConsent, "ok der eltern"},
    HeaderWord{RosterField::kConsent, "eltern ok"},
    HeaderWord{RosterField::kConsent, "ok parents"},
    HeaderWord{RosterField::kConsent, "parents ok"},
    // Beside a first name, "name" is the family's.
    HeaderWord{RosterField::kFamilyName, "name"},
};

// Anywhere in a header they make it the parents' answer, before another word's beginning may claim
// the column ("Kind darf teilnehmen").
constexpr std::array<std::string_view, 10> kConsentStems{
    "consent",   "permission",  "einwillig", "erlaubnis", "einverst",
    "zustimmun", "genehmigung", "darf ",     "may take",  "teilnahme erlaubt"};
// And these turn the answer round: that is left to a person.
constexpr std::array<std::string_view, 9> kTurned{
    "kein", "nicht", "ohne", "no ", "not ", "without", "widerspruch", "refus", "verweiger"};

template <std::size_t kCount>
bool Mentions(std::string_view text, const std::array<std::string_view, kCount>& words) {
  return std::ranges::any_of(
      words, [&](std::string_view word) { return text.find(word) != std::string_view::npos; });
}

std::size_t IndexOf(RosterField field) { return static_cast<std::size_t>(field); }

class Importer {
 public:
  Importer(const CsvTable& table, const RosterRules& rules, const RosterColumns& columns,
           const std::set<std::size_t>& not_needed)
      : table_(table), rules_(rules) {
    roster_.encoding = table.encoding;
    roster_.header = table.rows.front().cells;
    for (std::string& cell : roster_.header) cell = Simplified(cell);
    roster_.columns = columns;
    roster_.rows = static_cast<int>(table.rows.size()) - 1;
    FindUnknown(not_needed);
  }

  Roster Read() {
    if (!FileIsFine()) return std::move(roster_);
    SayUnknown();
    for (std::size_t i = 1; i < table_.rows.size(); ++i) ReadRow(table_.rows[i]);
    CompareChildren();
    DropFaulty();
    std::ranges::stable_sort(roster_.faults, {}, &RosterFault::line);
    return std::move(roster_);
  }

 private:
  [[nodiscard]] std::optional<std::size_t> Column(RosterField field) const {
    return roster_.columns[IndexOf(field)];
  }
  [[nodiscard]] std::string ColumnName(RosterField field) const {
    const auto column = Column(field);
    return column && *column < roster_.header.size() ? roster_.header[*column] : std::string();
  }

  void FindUnknown(const std::set<std::size_t>& not_needed) {
    std::set<std::size_t> used = not_needed;
    for (const auto& column : roster_.columns) {
      if (column) used.insert(*column);
    }
    for (std::size_t i = 0; i < roster_.header.size(); ++i) {
      if (used.contains(i)) continue;
      UnknownColumn unknown{i, roster_.header[i], ""};
      for (std::size_t row = 1; row < table_.rows.size() && unknown.example.empty(); ++row) {
        const auto& cells = table_.rows[row].cells;
        if (i < cells.size()) unknown.example = Shown(cells[i]);
      }
      if (!unknown.name.empty() || !unknown.example.empty()) roster_.unknown.push_back(unknown);
    }
  }

  // Passing over a column silently would lose a parent's "no" whose column has a name of its own.
  void SayUnknown() {
    for (const UnknownColumn& unknown : roster_.unknown) {
      File(FaultKind::kColumnUnknown,
           "Column " + std::to_string(unknown.column + 1) + " (\"" + Shown(unknown.name) +
               "\") was not understood; say what it is, or that it is not needed.");
    }
  }

  // As far as it fits a list.
  static std::string Shown(const std::string& cell) {
    constexpr std::size_t kShown = 40;
    std::string shown = Simplified(cell).substr(0, kShown);
    // Not in the middle of a letter.
    while (!IsUtf8(shown)) shown.pop_back();
    std::ranges::replace_if(
        shown, [](char c) { return c >= 0 && c < ' '; }, ' ');
    return shown;
  }

  void File(FaultKind kind, std::string sentence) {
    roster_.faults.push_back({0, "", kind, std::move(sentence)});
  }
  void Row(int line, FaultKind kind, std::string sentence) {
    roster_.faults.push_back({line, "", kind, std::move(sentence)});
  }
  void InCell(int line, RosterField field, const std::string& cell, const CellFault& fault) {
    roster_.faults.push_back({line, ColumnName(field), fault.kind,
                              "\"" + Shown(cell) + "\"; expected " + fault.expected + "."});
  }

  bool FileIsFine() {
    std::map<std::size_t, int> uses;
    for (const auto& column : roster_.columns) {
      if (!column) continue;
      ++uses[*column];
      if (*column >= roster_.header.size()) {
        File(FaultKind::kColumnMissing, "Column " + std::to_string(*column + 1) +
                                            " was chosen; the file has " +
                                            std::to_string(roster_.header.size()) + ".");
      }
    }
    if (std::ranges::any_of(uses, [](const auto& use) { return use.second > 1; })) {
      File(FaultKind::kColumnTwice, "One column was chosen for two fields.");
    }
    if (!Column(RosterField::kNumber) && !Column(RosterField::kName) &&
        !Column(RosterField::kFamilyName)) {
      File(FaultKind::kNoIdentity,
           "No column is the number or the name; the first row must name the columns, or choose "
           "them by hand.");
    }
    if (roster_.rows == 0) File(FaultKind::kNoChildren, "There is no child below the first row.");
    if (static_cast<std::size_t>(roster_.rows) > rules_.most_rows) {
      File(FaultKind::kTooManyRows, std::to_string(roster_.rows) + " rows; expected at most " +
                                        std::to_string(rules_.most_rows) + ".");
    }
    return roster_.faults.empty();
  }

  // The cell of a field, without blanks at its ends; "" where there is none. Wrong in itself: said,
  // and "".
  std::string Take(const CsvRow& row, RosterField field) {
    const auto column = Column(field);
    if (!column || *column >= row.cells.size()) return {};
    const std::string& cell = row.cells[*column];
    if (const auto fault = AnyCellFault(cell)) {
      InCell(row.line, field, cell, *fault);
      return {};
    }
    return Simplified(cell);
  }

  template <typename T>
  std::optional<T> Said(const CsvRow& row, RosterField field, const std::string& cell,
                        const Cell<T>& value) {
    if (value) return *value;
    InCell(row.line, field, cell, value.error());
    return std::nullopt;
  }

  bool ShapeIsFine(const CsvRow& row) {
    const std::size_t wide = roster_.header.size();
    const auto cells = std::to_string(row.cells.size());
    std::vector<std::string> simple;
    for (const std::string& cell : row.cells) simple.push_back(Simplified(cell));
    if (simple == roster_.header) {
      Row(row.line, FaultKind::kHeaderAgain, "The names of the columns stand here once more.");
      return false;
    }
    const std::string first = FoldForSearch(simple.front());
    if (first.starts_with("total") || first.starts_with("sum") || first.starts_with("summe") ||
        first.starts_with("gesamt")) {
      Row(row.line, FaultKind::kSumRow, "This looks like a sum and not like a child.");
      return false;
    }
    if (row.cells.size() < wide) {
      Row(row.line, FaultKind::kTooFewCells,
          cells + " cells; expected " + std::to_string(wide) + " as in the first row.");
      return false;
    }
    const bool more = row.cells.size() > wide &&
                      std::any_of(simple.begin() + static_cast<std::ptrdiff_t>(wide), simple.end(),
                                  [](const std::string& cell) { return !cell.empty(); });
    if (more) {
      Row(row.line, FaultKind::kTooManyCells,
          cells + " cells; expected " + std::to_string(wide) +
              " as in the first row (a separator inside a name needs quotes).");
      return false;
    }
    if (row.odd_quotes) {
      Row(row.line, FaultKind::kOddQuotes,
          "A quote stands where none belongs; expected it doubled, inside a quoted cell.");
      return false;
    }
    return true;
  }

  void ReadRow(const CsvRow& row) {
    if (!ShapeIsFine(row)) return;
    const std::size_t faults_before = roster_.faults.size();
    RosterChild child;
    child.line = row.line;
    ReadIdentity(row, child);
    if (const std::string cell = Take(row, RosterField::kGroup); !cell.empty()) {
      child.child.group = Said(row, RosterField::kGroup, cell, ReadGroup(cell)).value_or("");
    }
    ReadAges(row, child);
    if (const std::string cell = Take(row, RosterField::kConsent); !cell.empty()) {
      child.consent = Said(row, RosterField::kConsent, cell, ReadConsent(cell));
    }
    if (child.child.number.empty() && child.child.name.empty() &&
        roster_.faults.size() == faults_before) {
      Row(row.line, FaultKind::kNothing, "Neither a number nor a name; expected one of them.");
    }
    roster_.children.push_back(std::move(child));
  }

  void ReadIdentity(const CsvRow& row, RosterChild& child) {
    const std::size_t before = roster_.faults.size();
    if (const std::string cell = Take(row, RosterField::kNumber); !cell.empty()) {
      child.child.number = Said(row, RosterField::kNumber, cell, ReadNumber(cell)).value_or("");
    } else if (Column(RosterField::kNumber) && roster_.faults.size() == before) {
      numberless_.push_back(row.line);
    }
    std::string name;
    bool said = false;
    for (const RosterField field : {RosterField::kName, RosterField::kFamilyName}) {
      const std::size_t faults = roster_.faults.size();
      const std::string cell = Take(row, field);
      if (!cell.empty()) {
        const auto part = Said(row, field, cell, ReadName(cell));
        if (part) name += (name.empty() ? "" : " ") + *part;
      }
      said = said || roster_.faults.size() > faults;
    }
    const bool named = Column(RosterField::kName) || Column(RosterField::kFamilyName);
    if (named && name.empty() && !said && !child.child.number.empty()) {
      Row(row.line, FaultKind::kNameMissing,
          "Number " + child.child.number + " has no name; expected one, or a row less.");
    }
    child.child.name = name;
  }

  void ReadAges(const CsvRow& row, RosterChild& child) {
    std::optional<double> by_birth;
    if (const std::string cell = Take(row, RosterField::kBorn); !cell.empty()) {
      if (const auto birth = Said(row, RosterField::kBorn, cell, ReadBirth(cell, rules_))) {
        by_birth = AgeOn(*birth, rules_);
      }
    }
    if (const std::string cell = Take(row, RosterField::kAge); !cell.empty()) {
      child.child.age_years = Said(row, RosterField::kAge, cell, ReadAge(cell, rules_));
    }
    // A year apart is usual before the birthday; more is a slip in one of the two.
    constexpr double kApart = 1.1;
    if (by_birth && child.child.age_years &&
        std::abs(*by_birth - *child.child.age_years) > kApart) {
      Row(row.line, FaultKind::kAgeAgainstBorn,
          "The age does not go with the day of birth; expected about " +
              std::to_string(static_cast<int>(*by_birth)) + " years.");
    }
    if (by_birth) child.child.age_years = by_birth;
  }

  void CompareChildren() {
    std::map<std::string, int> numbers;                            // to the first line
    std::map<std::string, std::vector<const RosterChild*>> names;  // folded
    const bool numbered = Column(RosterField::kNumber).has_value();
    for (const int line : numberless_) {
      Row(line, FaultKind::kNumberMissing, "The number is missing; expected one for every child.");
    }
    int next = 0;
    for (RosterChild& child : roster_.children) {
      if (!numbered) child.child.number = std::to_string(++next);
      if (!child.child.number.empty()) {
        const auto [first, fresh] = numbers.emplace(FoldForSearch(child.child.number), child.line);
        if (!fresh) {
          Row(child.line, FaultKind::kNumberTwice,
              "Number " + child.child.number + " stands in line " + std::to_string(first->second) +
                  " already.");
        }
      }
      if (!child.child.name.empty()) names[FoldForSearch(child.child.name)].push_back(&child);
    }
    for (const auto& [name, same] : names) {
      for (std::size_t i = 1; i < same.size(); ++i) CompareNamesakes(*same.front(), *same[i]);
    }
  }

  void CompareNamesakes(const RosterChild& first, const RosterChild& second) {
    const ChildAdded& a = first.child;
    const ChildAdded& b = second.child;
    const std::string line = std::to_string(first.line);
    const bool group = FoldForSearch(a.group) == FoldForSearch(b.group);
    const bool age = a.age_years == b.age_years;
    if (group && age && (!a.group.empty() || a.age_years)) {
      Row(second.line, FaultKind::kSameChildTwice,
          b.name + " of the same class and age stands in line " + line + " already.");
    } else if (group && age) {
      Row(second.line, FaultKind::kSameNameTwice,
          b.name + " stands in line " + line +
              " already, and nothing tells the two apart; expected a class or an age.");
    }
  }

  void DropFaulty() {
    std::set<int> faulty;
    for (const RosterFault& fault : roster_.faults) {
      if (fault.line > 0) faulty.insert(fault.line);
    }
    roster_.rows_with_faults = static_cast<int>(faulty.size());
    std::erase_if(roster_.children,
                  [&](const RosterChild& child) { return faulty.contains(child.line); });
  }

  const CsvTable& table_;
  const RosterRules& rules_;
  Roster roster_;
  std::vector<int> numberless_;
};

}  // namespace

std::string_view ToText(RosterField field) {
  constexpr std::array<std::string_view, kRosterFields> kNames{
      "number", "name", "family name", "class", "age", "born", "consent"};
  return kNames[IndexOf(field)];
}

RosterColumns GuessColumns(const std::vector<std::string>& header) {
  RosterColumns columns;
  std::vector<bool> taken(header.size());
  const auto claim = [&](bool whole) {
    for (const HeaderWord& known : kHeaderWords) {
      for (std::size_t i = 0; i < header.size(); ++i) {
        const std::string cell = FoldForSearch(Simplified(header[i]));
        const bool fits =
            whole ? cell == known.word
                  : known.word.size() > 2 && cell.starts_with(known.word) &&
                        (known.field == RosterField::kConsent ? !Mentions(cell, kTurned)
                                                              : !Mentions(cell, kConsentStems));
        if (!fits || taken[i] || columns[IndexOf(known.field)]) continue;
        columns[IndexOf(known.field)] = i;
        taken[i] = true;
      }
    }
  };
  claim(true);
  auto& consent = columns[IndexOf(RosterField::kConsent)];
  for (std::size_t i = 0; i < header.size() && !consent; ++i) {
    const std::string cell = FoldForSearch(Simplified(header[i]));
    if (taken[i] || !Mentions(cell, kConsentStems) || Mentions(cell, kTurned)) continue;
    consent = i;
    taken[i] = true;
  }
  claim(false);
  return columns;
}

Result<Roster> ReadRoster(std::string_view bytes, const std::string& where,
                          const RosterRules& rules, const std::optional<RosterColumns>& columns,
                          const std::set<std::size_t>& not_needed) {
  const auto table =
      LooksLikeWorkbook(bytes) ? ReadWorkbook(bytes, where) : ReadCsvTable(bytes, where);
  if (!table) return tl::unexpected(table.error());
  return Importer(*table, rules, columns ? *columns : GuessColumns(table->rows.front().cells),
                  not_needed)
      .Read();
}

}  // namespace nearpoint
