#include "calibration/json_fields.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>

namespace nearpoint {
namespace {

const nlohmann::json kNothing;

// A number as a person would write it, for messages.
std::string Short(double value) {
  std::ostringstream out;
  out.precision(6);
  out << value;
  return out.str();
}

// What stands in a field, short enough for a sentence.
std::string Excerpt(const nlohmann::json& value) {
  std::string text = value.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  constexpr std::size_t kLongest = 40;
  if (text.size() > kLongest) text = text.substr(0, kLongest) + "...";
  return text;
}

std::string Expectation(const NumberRule& rule) {
  std::string text(rule.meaning);
  const bool low = std::isfinite(rule.low);
  const bool high = std::isfinite(rule.high);
  if (low && high) return text + " from " + Short(rule.low) + " to " + Short(rule.high);
  if (low) return text + " of at least " + Short(rule.low);
  if (high) return text + " of at most " + Short(rule.high);
  return text;
}

}  // namespace

JsonFields::JsonFields(const nlohmann::json& object, std::string where, std::string path)
    : object_(&object), where_(std::move(where)), path_(std::move(path)) {
  if (!object.is_object()) {
    const std::string name =
        path_.empty() ? "the document" : '"' + path_.substr(0, path_.size() - 1) + '"';
    error_ = Error{ErrorCode::kBadValue,
                   where_ + ": " + name + " is " + Excerpt(object) + "; expected a JSON object."};
  }
}

void JsonFields::Refuse(std::string_view name, const std::string& expected) {
  if (error_) return;
  const auto value = object_->is_object() ? object_->find(std::string(name)) : object_->end();
  const bool there = object_->is_object() && value != object_->end();
  error_ = Error{there ? ErrorCode::kBadValue : ErrorCode::kNotFound,
                 where_ + ": \"" + path_ + std::string(name) + "\" is " +
                     (there ? Excerpt(*value) : "missing") + "; expected " + expected + "."};
}

void JsonFields::Adopt(const JsonFields& member) {
  if (!error_) error_ = member.error_;
}

const nlohmann::json* JsonFields::Find(std::string_view name, std::string_view meaning) {
  known_.emplace_back(name);
  if (error_) return nullptr;
  const auto value = object_->find(std::string(name));
  if (value != object_->end()) return &*value;
  // A missing field that stands there with a slip in its name is the more helpful complaint.
  for (const auto& [key, ignored] : object_->items()) {
    const bool known = std::find(known_.begin(), known_.end(), key) != known_.end();
    if (!known && OneSlipApart(key, name)) {
      error_ = Error{ErrorCode::kBadValue, where_ + ": \"" + path_ + key +
                                               "\" is not a known field; \"" + path_ +
                                               std::string(name) + "\" was expected."};
      return nullptr;
    }
  }
  Refuse(name, std::string(meaning));
  return nullptr;
}

std::optional<double> JsonFields::Checked(const nlohmann::json& value, const std::string& name,
                                          const NumberRule& rule) {
  if (error_) return std::nullopt;
  const double number = value.is_number() ? value.get<double>() : std::nan("");
  if (!std::isfinite(number) || number < rule.low || number > rule.high) {
    error_ =
        Error{ErrorCode::kBadValue, where_ + ": \"" + path_ + name + "\" is " + Excerpt(value) +
                                        "; expected " + Expectation(rule) + "."};
    return std::nullopt;
  }
  return number;
}

double JsonFields::Number(std::string_view name, const NumberRule& rule) {
  const nlohmann::json* value = Find(name, Expectation(rule));
  return value == nullptr ? 0 : Checked(*value, std::string(name), rule).value_or(0);
}

std::optional<double> JsonFields::NumberOrNull(std::string_view name, const NumberRule& rule) {
  const nlohmann::json* value = Find(name, Expectation(rule) + ", or null where it is unknown");
  if (value == nullptr || value->is_null()) return std::nullopt;
  return Checked(*value, std::string(name), rule);
}

int JsonFields::Integer(std::string_view name, int low, int high, std::string_view meaning) {
  const NumberRule rule{static_cast<double>(low), static_cast<double>(high), meaning};
  const double value = Number(name, rule);
  if (ok() && value != std::floor(value)) Refuse(name, Expectation(rule));
  return ok() ? static_cast<int>(value) : 0;
}

std::string JsonFields::Text(std::string_view name, std::string_view meaning) {
  const nlohmann::json* value = Find(name, meaning);
  if (value == nullptr) return {};
  if (!value->is_string()) {
    Refuse(name, std::string(meaning));
    return {};
  }
  return value->get<std::string>();
}

std::optional<std::string> JsonFields::TextOrNull(std::string_view name, std::string_view meaning) {
  const nlohmann::json* value = Find(name, std::string(meaning) + ", or null");
  if (value == nullptr || value->is_null()) return std::nullopt;
  if (!value->is_string()) {
    Refuse(name, std::string(meaning) + ", or null");
    return std::nullopt;
  }
  return value->get<std::string>();
}

std::vector<double> JsonFields::Numbers(std::string_view name, std::size_t count,
                                        const NumberRule& rule) {
  const std::string meaning = "a list of " + std::to_string(count) + " numbers";
  const nlohmann::json* value = Find(name, meaning);
  std::vector<double> numbers;
  if (value == nullptr) return numbers;
  if (!value->is_array() || value->size() != count) {
    Refuse(name, meaning);
    return numbers;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const std::string element = std::string(name) + "[" + std::to_string(i) + "]";
    numbers.push_back(Checked((*value)[i], element, rule).value_or(0));
  }
  return numbers;
}

const nlohmann::json& JsonFields::Object(std::string_view name) {
  const nlohmann::json* value = Find(name, "a JSON object");
  if (value != nullptr && !value->is_object()) Refuse(name, "a JSON object");
  return value != nullptr ? *value : kNothing;
}

const nlohmann::json& JsonFields::Array(std::string_view name) {
  const nlohmann::json* value = Find(name, "a list");
  if (value != nullptr && !value->is_array()) Refuse(name, "a list");
  return value != nullptr ? *value : kNothing;
}

void JsonFields::Allow(std::initializer_list<std::string_view> names) {
  known_.insert(known_.end(), names.begin(), names.end());
}

void JsonFields::RefuseMisspelt() {
  if (error_) return;
  for (const auto& [key, ignored] : object_->items()) {
    if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
    const auto meant = std::find_if(known_.begin(), known_.end(), [&key = key](const auto& name) {
      return OneSlipApart(key, name);
    });
    if (meant == known_.end()) continue;
    error_ = Error{ErrorCode::kBadValue,
                   where_ + ": \"" + path_ + key + "\" is not a known field; expected \"" + path_ +
                       *meant + "\", or a name that cannot be mistaken for it."};
    return;
  }
}

namespace {

// The field that a document which cannot be parsed breaks off in, "face.iris_mm"; empty before the
// first. Read a second time, because keeping account of it makes reading slow.
std::string FieldOfBreak(std::string_view text) {
  using Json = nlohmann::json;
  std::vector<std::string> path;
  try {
    const Json::parser_callback_t note = [&path](int depth, Json::parse_event_t event,
                                                 const Json& parsed) {
      if (event == Json::parse_event_t::key) {
        path.resize(static_cast<std::size_t>(std::max(depth, 1)) - 1);
        path.push_back(parsed.get<std::string>());
      }
      return true;
    };
    const Json ignored = Json::parse(text, note);
  } catch (const Json::exception&) {
    // That it fails is known.
  }
  std::string field;
  for (const std::string& name : path) field += (field.empty() ? "" : ".") + name;
  return field;
}

}  // namespace

Result<nlohmann::json> ParseJson(std::string_view text, const std::string& where) {
  try {
    return nlohmann::json::parse(text);
  } catch (const nlohmann::json::parse_error& error) {
    const std::size_t at = std::min(error.byte, text.size());
    const auto line =
        1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    const bool lines = std::count(text.begin(), text.end(), '\n') > 0;
    const std::string field = FieldOfBreak(text);
    return Fail(ErrorCode::kBadValue,
                where + (lines ? ", line " + std::to_string(line) : "") + ": this is not JSON" +
                    (field.empty() ? "" : " at \"" + field + "\" or after it") +
                    "; expected a JSON object with plain, finite numbers.");
  } catch (const nlohmann::json::out_of_range&) {
    return Fail(ErrorCode::kBadValue, where + ": the number \"" + FieldOfBreak(text) +
                                          "\" is too large; expected plain, finite numbers.");
  }
}

Result<std::string> ReadTextFile(const std::string& file) {
  std::error_code code;
  if (!std::filesystem::exists(file, code))
    return Fail(ErrorCode::kNotFound, file + ": no such file.");
  if (std::filesystem::is_directory(file, code)) {
    return Fail(ErrorCode::kUnreadable, file + ": this is a folder; expected a file.");
  }
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  if (in.good() && in.peek() == std::ifstream::traits_type::eof()) return std::string();
  if (!in.good() || !(text << in.rdbuf())) {
    return Fail(ErrorCode::kUnreadable, file + ": the file cannot be read.");
  }
  return text.str();
}

Result<void> CheckSchema(const nlohmann::json& document, std::string_view kind,
                         const std::string& where) {
  const std::string known = "nearpoint/" + std::string(kind) + "/1";
  JsonFields fields(document, where);
  const std::string schema = fields.Text("schema", '"' + known + '"');
  if (!fields.ok()) return tl::unexpected(*fields.error());
  if (schema == known) return {};
  const std::string family = "nearpoint/" + std::string(kind) + "/";
  if (schema.starts_with(family)) {
    return Fail(ErrorCode::kBadValue, where + ": \"schema\" is \"" + schema +
                                          "\"; this program reads version 1 (\"" + known +
                                          "\") and may be too old for the file.");
  }
  return Fail(ErrorCode::kBadValue,
              where + ": \"schema\" is \"" + schema + "\"; expected \"" + known + "\".");
}

bool OneSlipApart(std::string_view a, std::string_view b) {
  if (a == b) return false;
  if (a.size() > b.size()) std::swap(a, b);
  if (b.size() - a.size() > 1) return false;
  const auto [in_a, in_b] = std::mismatch(a.begin(), a.end(), b.begin());
  const std::string_view rest_a(a.substr(static_cast<std::size_t>(in_a - a.begin())));
  const std::string_view rest_b(b.substr(static_cast<std::size_t>(in_b - b.begin())));
  if (a.size() < b.size()) return rest_a == rest_b.substr(1);
  if (rest_a.substr(1) == rest_b.substr(1)) return true;
  return rest_a.size() >= 2 && rest_a[0] == rest_b[1] && rest_a[1] == rest_b[0] &&
         rest_a.substr(2) == rest_b.substr(2);
}

}  // namespace nearpoint
