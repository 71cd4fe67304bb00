#include "app/event/fold_text.h"

#include <array>

namespace nearpoint {
namespace {

constexpr char32_t kReplacement = 0xFFFD;
constexpr char32_t kNoBreak = 0xA0;
constexpr char32_t kNarrowNoBreak = 0x202F;

// U+00C0 to U+017F, one letter each; '?' where several or none are meant (Unicode 15, computed from
// its canonical decompositions with Python's unicodedata; letters without one by hand).
constexpr std::string_view kPlain =
    "aaaaaa?ceeeeiiiidnooooo?ouuuuy??aaaaaa?ceeeeiiiidnooooo?ouuuuy?y"
    "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiii??jjkkklllllll"
    "lllnnnnnnnnnoooooo??rrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
static_assert(kPlain.size() == 0x180 - 0xC0);

// Windows-1252, 0x80 to 0x9F (Unicode Consortium, CP1252.TXT; from memory).
constexpr std::array<char32_t, 32> kUpper{
    0x20AC,       kReplacement, 0x201A, 0x0192, 0x201E, 0x2026,       0x2020, 0x2021,
    0x02C6,       0x2030,       0x0160, 0x2039, 0x0152, kReplacement, 0x017D, kReplacement,
    kReplacement, 0x2018,       0x2019, 0x201C, 0x201D, 0x2022,       0x2013, 0x2014,
    0x02DC,       0x2122,       0x0161, 0x203A, 0x0153, kReplacement, 0x017E, 0x0178};

bool Continues(std::string_view text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80;
}

}  // namespace

char32_t NextCodePoint(std::string_view text, std::size_t& at) {
  const auto first = static_cast<unsigned char>(text[at++]);
  if (first < 0x80) return first;
  int more = 0;
  char32_t code = 0;
  char32_t least = 0;
  if ((first & 0xE0) == 0xC0) {
    more = 1, code = first & 0x1F, least = 0x80;
  } else if ((first & 0xF0) == 0xE0) {
    more = 2, code = first & 0x0F, least = 0x800;
  } else if ((first & 0xF8) == 0xF0) {
    more = 3, code = first & 0x07, least = 0x10000;
  } else {
    return kReplacement;
  }
  std::size_t next = at;
  for (int i = 0; i < more; ++i) {
    if (!Continues(text, next)) return kReplacement;
    code = (code << 6) | (static_cast<unsigned char>(text[next++]) & 0x3F);
  }
  if (code < least || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return kReplacement;
  at = next;
  return code;
}

void AppendUtf8(std::string& text, char32_t code) {
  const auto add = [&text](char32_t byte) { text += static_cast<char>(byte); };
  if (code < 0x80) {
    add(code);
  } else if (code < 0x800) {
    add(0xC0 | (code >> 6)), add(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    add(0xE0 | (code >> 12)), add(0x80 | ((code >> 6) & 0x3F)), add(0x80 | (code & 0x3F));
  } else {
    add(0xF0 | (code >> 18)), add(0x80 | ((code >> 12) & 0x3F)), add(0x80 | ((code >> 6) & 0x3F)),
        add(0x80 | (code & 0x3F));
  }
}

std::size_t CountCodePoints(std::string_view text) {
  std::size_t count = 0;
  ForEachCodePoint(text, [&count](char32_t) { ++count; });
  return count;
}

bool IsUtf8(std::string_view bytes) {
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t before = at;
    // U+FFFD that stands in the file itself takes three bytes.
    if (NextCodePoint(bytes, at) == kReplacement && at - before == 1) return false;
  }
  return true;
}

std::string Utf8FromWindows1252(std::string_view bytes) {
  std::string text;
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    AppendUtf8(text, byte >= 0x80 && byte < 0xA0 ? kUpper[byte - 0x80] : byte);
  }
  return text;
}

std::optional<std::string> Utf8FromUtf16(std::string_view bytes, bool big_endian) {
  if (bytes.size() % 2 != 0) return std::nullopt;
  const auto unit = [&](std::size_t i) {
    const auto a = static_cast<unsigned char>(bytes[i]);
    const auto b = static_cast<unsigned char>(bytes[i + 1]);
    return static_cast<char32_t>(big_endian ? a << 8 | b : b << 8 | a);
  };
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); i += 2) {
    char32_t code = unit(i);
    if (code >= 0xDC00 && code < 0xE000) return std::nullopt;
    if (code >= 0xD800 && code < 0xDC00) {
      if (i + 3 >= bytes.size()) return std::nullopt;
      const char32_t low = unit(i + 2);
      if (low < 0xDC00 || low >= 0xE000) return std::nullopt;
      code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
      i += 2;
    }
    AppendUtf8(text, code);
  }
  return text;
}

std::string FoldForSearch(std::string_view text) {
  constexpr char32_t kFirst = 0xC0;
  std::string folded;
  ForEachCodePoint(text, [&folded](char32_t code) {
    if (code >= 'A' && code <= 'Z') {
      folded += static_cast<char>(code - 'A' + 'a');
    } else if (code == 0xDF) {
      folded += "ss";
    } else if (code == 0xC6 || code == 0xE6) {
      folded += "ae";
    } else if (code == kNoBreak || code == kNarrowNoBreak) {
      folded += ' ';
    } else if (code >= kFirst && code < kFirst + kPlain.size() && kPlain[code - kFirst] != '?') {
      folded += kPlain[code - kFirst];
    } else {
      AppendUtf8(folded, code);
    }
  });
  return folded;
}

std::string Simplified(std::string_view text) {
  std::string simple;
  bool blank = false;
  ForEachCodePoint(text, [&](char32_t code) {
    if (code == ' ' || code == '\t' || code == kNoBreak || code == kNarrowNoBreak) {
      blank = !simple.empty();
      return;
    }
    if (blank) simple += ' ';
    blank = false;
    AppendUtf8(simple, code);
  });
  return simple;
}

}  // namespace nearpoint
