// When, with what and for whom each part of a profile was made, and whether parts belong together.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

struct Origin {
  std::chrono::sys_days date{};  // UTC
  std::string device;            // the camera as it names itself; empty: not known
  std::string person;            // a name or number the user chose; empty: not said
  std::string software;          // version of the program
  std::string method;            // "pattern card, 14 views"

  friend bool operator==(const Origin&, const Origin&) = default;
};

// Absent: that part was not measured but assumed, or comes from an older file.
struct ProfileOrigins {
  std::optional<Origin> camera;  // belongs to the device
  std::optional<Origin> face;    // belongs to the person
  std::optional<Origin> target;  // belongs to the device
  std::optional<Origin> lag;     // belongs to the person
  std::optional<Origin> print;   // the printed card was held against a real one

  friend bool operator==(const ProfileOrigins&, const ProfileOrigins&) = default;
};

// "2026-03-01", a day that exists; nullopt for anything else.
[[nodiscard]] std::optional<std::chrono::sys_days> ParseDay(const std::string& text);
[[nodiscard]] std::string FormatDay(std::chrono::sys_days day);

// Who and what is in front of the program now; empty: not known, and then not compared.
struct Present {
  std::chrono::sys_days today{};
  std::string device;
  std::string person;
};

// kMismatch where the profile is of another person or another camera than those present, or mixes
// two persons or two cameras; the sentence names both. where: the file.
[[nodiscard]] Result<void> CheckBelongs(const ProfileOrigins& made, const Present& present,
                                        const std::string& where);

// What is old or was never measured, one sentence each. A camera is old after two years and a
// target place after half a year (things are moved), a lag after a year; a face after half a year,
// since a child's pupil distance grows by 1 % a year (Fledelius & Stubgaard 1986: 0.656 mm a year
// between 5 and 20 years; read). The other limits are our own judgement.
[[nodiscard]] std::vector<std::string> AgeCautions(const ProfileOrigins& made,
                                                   std::chrono::sys_days today);

}  // namespace nearpoint
