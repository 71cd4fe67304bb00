// The list of a school's children, as offices keep it: any order of columns, any of the usual
// encodings and separators, and mistakes. Everything wrong is reported with its row; nothing is
// imported while something is.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "app/event/csv_table.h"
#include "app/event/record.h"
#include "vision/core/result.h"

namespace nearpoint {

enum class RosterField { kNumber, kName, kFamilyName, kGroup, kAge, kBorn, kConsent };
inline constexpr std::size_t kRosterFields = 7;
[[nodiscard]] std::string_view ToText(RosterField field);

// Which column each field is read from (from 0); absent: the roster does not have it.
using RosterColumns = std::array<std::optional<std::size_t>, kRosterFields>;

// By the words of the first row, in English and German. A field that two columns claim goes to the
// first of them; a column that none of the words fits, to none.
[[nodiscard]] RosterColumns GuessColumns(const std::vector<std::string>& header);

enum class FaultKind {
  // Of the whole file
  kNoIdentity,     // neither a number nor a name column
  kNoChildren,     // nothing below the header
  kColumnTwice,    // one column for two fields
  kColumnMissing,  // beyond the last column
  kColumnUnknown,  // nobody said what it is: it may be what parents forbid
  kTooManyRows,
  // Of a row
  kTooFewCells,
  kTooManyCells,
  kOddQuotes,
  kLineBreak,
  kControlCharacter,
  kReplacementCharacter,
  kMojibake,  // an encoding read twice
  kNothing,   // neither number nor name
  kHeaderAgain,
  kSumRow,
  kErrorValue,  // #REF! and its like
  kNameMissing,
  kNamePlaceholder,
  kNameDigits,
  kNameTooLong,
  kNameFormula,
  kNameAddress,  // an e-mail or web address
  kNumberMissing,
  kNumberCharacters,
  kNumberTooLong,
  kNumberDecimal,
  kNumberScientific,
  kNumberNegative,
  kNumberTwice,
  kSameChildTwice,  // name, class and age alike
  kSameNameTwice,   // and nothing that tells them apart
  kGroupTooLong,
  kAgeUnreadable,
  kAgeNegative,
  kAgeTooYoung,
  kAgeTooOld,
  kAgeLooksLikeYear,
  kBornUnreadable,
  kBornAmbiguous,  // 03/04/2017
  kBornNoSuchDay,
  kBornShortYear,
  kBornInFuture,
  kBornTooOld,
  kBornTooYoung,
  kBornSerial,  // a day as a spreadsheet counts it
  kAgeAgainstBorn,
  kConsentUnreadable,
};

struct RosterFault {
  int line = 0;        // of the file, from 1; 0: the whole file
  std::string column;  // its name in the file; empty: the whole row
  FaultKind kind = FaultKind::kNothing;
  std::string sentence;  // what stands there and what was expected
};

struct RosterChild {
  int line = 0;
  ChildAdded child;
  std::optional<bool> consent;
};

// A column of the file that is read as nothing.
struct UnknownColumn {
  std::size_t column = 0;  // from 0
  std::string name;        // as the first row has it; may be empty
  std::string example;     // the first cell below that is not empty
};

struct Roster {
  RosterColumns columns;
  std::vector<UnknownColumn> unknown;  // each also a fault of the file
  std::vector<std::string> header;
  std::string encoding;
  std::vector<RosterChild> children;  // of the rows without a fault
  std::vector<RosterFault> faults;    // in the order of the lines
  int rows = 0;                       // below the header
  int rows_with_faults = 0;
};

struct RosterRules {
  int year = 0, month = 0, day = 0;  // of the event: ages are as of that day
  double youngest = 3;               // years
  double oldest = 21;
  std::size_t most_rows = 20000;
};

// columns: absent for GuessColumns. Numbers are given in order (1, 2...) where the roster has no
// such column. not_needed: columns that somebody looked at and leaves out. bytes: a table of text,
// or a workbook (.xlsx, .ods). Errors: those of ReadCsvTable and ReadWorkbook. where: the file, for
// messages.
[[nodiscard]] Result<Roster> ReadRoster(std::string_view bytes, const std::string& where,
                                        const RosterRules& rules,
                                        const std::optional<RosterColumns>& columns = std::nullopt,
                                        const std::set<std::size_t>& not_needed = {});

}  // namespace nearpoint
