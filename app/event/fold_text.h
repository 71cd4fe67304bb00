// Text as people type it and as files bring it: encodings, and letters that mean the same.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace nearpoint {

// A capital as its small letter and Latin letters of Western and Central Europe (U+00C0 to U+017F)
// without their accents; sharp s as "ss"; no-break blanks as blanks; the rest as it is. UTF-8.
[[nodiscard]] std::string FoldForSearch(std::string_view text);

// Without blanks (no-break blanks too) at both ends, and with one where there were several.
[[nodiscard]] std::string Simplified(std::string_view text);

[[nodiscard]] bool IsUtf8(std::string_view bytes);
// What an unmarked file that is not UTF-8 nearly always is: Windows-1252. The five bytes it leaves
// open become U+FFFD.
[[nodiscard]] std::string Utf8FromWindows1252(std::string_view bytes);
// nullopt for an odd number of bytes or a lone surrogate. Without the byte order mark.
[[nodiscard]] std::optional<std::string> Utf8FromUtf16(std::string_view bytes, bool big_endian);

// Calls with every code point; bytes that are no UTF-8 count as U+FFFD each.
template <typename Take>
void ForEachCodePoint(std::string_view text, Take take);

[[nodiscard]] std::size_t CountCodePoints(std::string_view text);
void AppendUtf8(std::string& text, char32_t code);
// The code point that begins at `at`, which is moved behind it.
[[nodiscard]] char32_t NextCodePoint(std::string_view text, std::size_t& at);

template <typename Take>
void ForEachCodePoint(std::string_view text, Take take) {
  for (std::size_t at = 0; at < text.size();) take(NextCodePoint(text, at));
}

}  // namespace nearpoint
