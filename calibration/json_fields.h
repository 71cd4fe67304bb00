// Reading a JSON document field by field, so that every complaint names the file, the field and
// what was expected.
#pragma once

#include <initializer_list>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

// What a number must be. Both ends are allowed values. `meaning` completes "expected ...": "a
// length in millimetres".
struct NumberRule {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  std::string_view meaning = "a number";
};

// One JSON object. The first thing wrong is kept and everything after it is not looked at; the
// values returned then are zero or empty and must not be used. Known fields are those that were
// asked for.
class JsonFields {
 public:
  // object must outlive this. where: the file, or "file, line 3". path: "" or "camera." for
  // messages.
  JsonFields(const nlohmann::json& object, std::string where, std::string path = "");

  double Number(std::string_view name, const NumberRule& rule);
  // The field must be there; null is nullopt.
  std::optional<double> NumberOrNull(std::string_view name, const NumberRule& rule);
  int Integer(std::string_view name, int low, int high, std::string_view meaning);
  std::string Text(std::string_view name, std::string_view meaning);
  std::optional<std::string> TextOrNull(std::string_view name, std::string_view meaning);
  std::vector<double> Numbers(std::string_view name, std::size_t count, const NumberRule& rule);
  // The member object or array; null JSON after an error.
  const nlohmann::json& Object(std::string_view name);
  const nlohmann::json& Array(std::string_view name);
  // Says that a field may be there, although nobody asks for it here.
  void Allow(std::initializer_list<std::string_view> names);
  // A field that nobody asked for and that differs from a missing known one by one letter (added,
  // left out, changed, or two swapped) is a slip, not an extension.
  void RefuseMisspelt();

  // Complains about the field in the words of the caller.
  void Refuse(std::string_view name, const std::string& expected);
  // Takes over the first complaint of a member object.
  void Adopt(const JsonFields& member);

  [[nodiscard]] bool ok() const { return !error_.has_value(); }
  [[nodiscard]] const std::optional<Error>& error() const { return error_; }
  [[nodiscard]] const std::string& where() const { return where_; }

 private:
  const nlohmann::json* Find(std::string_view name, std::string_view meaning);
  std::optional<double> Checked(const nlohmann::json& value, const std::string& name,
                                const NumberRule& rule);

  const nlohmann::json* object_;
  std::string where_;
  std::string path_;
  std::vector<std::string> known_;
  std::optional<Error> error_;
};

// Parses one document. The error names `where`, the line, and what stood there.
[[nodiscard]] Result<nlohmann::json> ParseJson(std::string_view text, const std::string& where);

// The whole of a file as text. Errors: kNotFound, kUnreadable.
[[nodiscard]] Result<std::string> ReadTextFile(const std::string& file);

// "schema" must be "nearpoint/<kind>/1"; another kind, a missing field and another version are
// different complaints.
[[nodiscard]] Result<void> CheckSchema(const nlohmann::json& document, std::string_view kind,
                                       const std::string& where);

// True if one slip of the keyboard turns a into b: a letter added, left out or changed, or two
// neighbours swapped.
[[nodiscard]] bool OneSlipApart(std::string_view a, std::string_view b);

}  // namespace nearpoint
