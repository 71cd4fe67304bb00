// Rows of a roster with one fault each.
#pragma once

#include <string>
#include <vector>

#include "app/event/roster.h"

namespace nearpoint {

inline constexpr const char* kPlantedHeader =
    "Number,First name,Last name,Class,Age,Born,Consent\n";

// What stands in the row, and which fault must be found in it. The columns are
// those of kPlantedHeader.
struct Planted {
  FaultKind kind;
  std::string row;
};

inline std::vector<Planted> AllPlanted() {
  const std::string long_name(81, 'a');
  return {
      {FaultKind::kTooFewCells, "P1,Ann,Lee,3a,8"},
      {FaultKind::kTooManyCells, "P2,Ann,Lee,3a,8,,yes,more"},
      {FaultKind::kOddQuotes, "P3,Ann \"Annie\",Lee,3a,8,,yes"},
      {FaultKind::kLineBreak, "P4,\"Ann\nMary\",Lee,3a,8,,yes"},
      {FaultKind::kControlCharacter, "P5,An\x07n,Lee,3a,8,,yes"},
      {FaultKind::kReplacementCharacter, "P6,J\xEF\xBF\xBDrg,Lee,3a,8,,yes"},
      {FaultKind::kMojibake, "P7,J\xC3\x83\xC2\xBCrg,Lee,3a,8,,yes"},
      {FaultKind::kNothing, ",,,3a,8,,"},
      {FaultKind::kHeaderAgain, "Number,First name,Last name,Class,Age,Born,Consent"},
      {FaultKind::kSumRow, "Total,412,,,,,"},
      {FaultKind::kErrorValue, "P8,#REF!,Lee,3a,8,,yes"},
      {FaultKind::kNameMissing, "P9,,,3a,8,,yes"},
      {FaultKind::kNamePlaceholder, "P10,N.N.,,3a,8,,yes"},
      {FaultKind::kNameDigits, "P11,Ann2,Lee,3a,8,,yes"},
      {FaultKind::kNameTooLong, "P12," + long_name + ",Lee,3a,8,,yes"},
      {FaultKind::kNameFormula, "P13,=A2,Lee,3a,8,,yes"},
      {FaultKind::kNameAddress, "P14,ann@example.org,Lee,3a,8,,yes"},
      {FaultKind::kNumberMissing, ",Una,Numbered,3a,8,,yes"},
      {FaultKind::kNumberCharacters, "P 15,Ann,Lee,3a,8,,yes"},
      {FaultKind::kNumberTooLong, "P1234567890123456,Ann,Lee,3a,8,,yes"},
      {FaultKind::kNumberDecimal, "12.0,Ann,Lee,3a,8,,yes"},
      {FaultKind::kNumberScientific, "1.2E+05,Ann,Lee,3a,8,,yes"},
      {FaultKind::kNumberNegative, "-16,Ann,Lee,3a,8,,yes"},
      {FaultKind::kNumberTwice, "S1,Twice,Numbered,3a,8,,yes"},
      {FaultKind::kSameChildTwice, "P17,First,Sound,2c,8,,yes"},
      {FaultKind::kSameNameTwice, "P18,Nothing,Else,,,,yes"},
      {FaultKind::kGroupTooLong,
       "P19,Ann,Lee,the class of the tall teacher on the left side,8,,yes"},
      {FaultKind::kAgeUnreadable, "P20,Ann,Lee,3a,eight,,yes"},
      {FaultKind::kAgeNegative, "P21,Ann,Lee,3a,-8,,yes"},
      {FaultKind::kAgeTooYoung, "P22,Ann,Lee,3a,1,,yes"},
      {FaultKind::kAgeTooOld, "P23,Ann,Lee,3a,88,,yes"},
      {FaultKind::kAgeLooksLikeYear, "P24,Ann,Lee,3a,2017,,yes"},
      {FaultKind::kBornUnreadable, "P25,Ann,Lee,3a,,spring,yes"},
      {FaultKind::kBornAmbiguous, "P26,Ann,Lee,3a,,03/04/2017,yes"},
      {FaultKind::kBornNoSuchDay, "P27,Ann,Lee,3a,,30.02.2017,yes"},
      {FaultKind::kBornShortYear, "P28,Ann,Lee,3a,,14.3.17,yes"},
      {FaultKind::kBornInFuture, "P29,Ann,Lee,3a,,2027-01-01,yes"},
      {FaultKind::kBornTooOld, "P30,Ann,Lee,3a,,1970-01-01,yes"},
      {FaultKind::kBornTooYoung, "P31,Ann,Lee,3a,,2025-01-01,yes"},
      {FaultKind::kBornSerial, "P32,Ann,Lee,3a,,42808,yes"},
      {FaultKind::kAgeAgainstBorn, "P33,Ann,Lee,3a,12,2017-03-14,yes"},
      {FaultKind::kConsentUnreadable, "P34,Ann,Lee,3a,8,,perhaps"},
  };
}

}  // namespace nearpoint
