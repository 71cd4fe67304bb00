#include "app/records/moment.h"

#include <charconv>
#include <chrono>

namespace nearpoint {
namespace {

// Reads from the front of a text; the first thing that does not fit makes all that follows fail.
class Reader {
 public:
  explicit Reader(std::string_view text) : rest_(text) {}
  int Digits(std::size_t count, int low, int high) {
    int value = 0;
    const std::string_view digits = rest_.substr(0, count);
    const auto [end, code] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    ok_ = ok_ && digits.size() == count && code == std::errc() &&
          end == digits.data() + digits.size() && digits[0] != '-' && value >= low && value <= high;
    rest_.remove_prefix(digits.size());
    return value;
  }
  // Takes one of these characters, or '\0' when none is there.
  char Take(std::string_view any_of) {
    if (rest_.empty() || any_of.find(rest_[0]) == std::string_view::npos) return '\0';
    const char taken = rest_[0];
    rest_.remove_prefix(1);
    return taken;
  }
  void Need(char c) { ok_ = ok_ && Take(std::string_view(&c, 1)) == c; }
  [[nodiscard]] bool empty() const { return rest_.empty(); }
  [[nodiscard]] bool ok() const { return ok_; }

 private:
  std::string_view rest_;
  bool ok_ = true;
};

}  // namespace

Result<Moment> ParseMoment(std::string_view text) {
  Reader reader(text);
  const int year = reader.Digits(4, 1900, 2199);
  reader.Need('-');
  const int month = reader.Digits(2, 1, 12);
  reader.Need('-');
  const int day = reader.Digits(2, 1, 31);
  Moment moment;
  moment.text = text;
  if (reader.Take("T ") != '\0') {
    double hour = reader.Digits(2, 0, 23);
    reader.Need(':');
    hour += reader.Digits(2, 0, 59) / 60.0;
    if (reader.Take(":") != '\0') {
      hour += reader.Digits(2, 0, 59) / 3600.0;
      if (reader.Take(".") != '\0') {
        while (reader.Take("0123456789") != '\0') {
        }
      }
    }
    moment.hour = hour;
    if (const char sign = reader.Take("Z+-"); sign == '+' || sign == '-') {
      reader.Digits(2, 0, 14);
      reader.Need(':');
      reader.Digits(2, 0, 59);
    }
  }
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!reader.ok() || !reader.empty() || !date.ok()) {
    return Fail(ErrorCode::kBadValue,
                "a day or a moment like 2026-03-02 or 2026-03-02T07:45:00+01:00");
  }
  moment.day = std::chrono::sys_days(date).time_since_epoch().count();
  return moment;
}

}  // namespace nearpoint
