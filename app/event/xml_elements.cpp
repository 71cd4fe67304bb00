#include "app/event/xml_elements.h"

#include <charconv>
#include <cstdint>

#include "app/event/fold_text.h"

namespace nearpoint {
namespace {

char32_t CodePoint(std::string_view digits) {
  const bool hex = digits.starts_with('x');
  if (hex) digits.remove_prefix(1);
  std::uint32_t code = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), code, hex ? 16 : 10);
  constexpr std::uint32_t kLast = 0x10FFFF;
  return code <= kLast ? code : 0xFFFD;
}

std::string Plain(std::string_view text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::size_t end = text[i] == '&' ? text.find(';', i) : std::string_view::npos;
    if (end == std::string_view::npos) {
      plain += text[i];
      continue;
    }
    const std::string_view name = text.substr(i + 1, end - i - 1);
    if (name == "amp") plain += '&';
    if (name == "lt") plain += '<';
    if (name == "gt") plain += '>';
    if (name == "quot") plain += '"';
    if (name == "apos") plain += '\'';
    if (name.starts_with('#')) AppendUtf8(plain, CodePoint(name.substr(1)));
    i = end;
  }
  return plain;
}

}  // namespace

bool XmlElements::Next() {
  std::size_t open = xml_.find('<', at_);
  while (open != std::string_view::npos && xml_.substr(open).starts_with("<!--")) {
    const std::size_t end = xml_.find("-->", open);
    open = end == std::string_view::npos ? end : xml_.find('<', end);
  }
  if (open == std::string_view::npos) return false;
  text_ = xml_.substr(at_, open - at_);
  const std::size_t close = xml_.find('>', open);
  if (close == std::string_view::npos) return false;
  tag_ = xml_.substr(open + 1, close - open - 1);
  at_ = close + 1;
  return true;
}

std::string XmlElements::Name() const {
  std::string name(tag_.substr(0, tag_.find_first_of(" \t\r\n/", 1)));
  const std::size_t colon = name.find(':');
  if (colon == std::string::npos) return name;
  return (name.starts_with('/') ? "/" : "") + name.substr(colon + 1);
}

std::string XmlElements::Attribute(std::string_view name) const {
  const std::string key = " " + std::string(name) + "=";
  const std::size_t at = tag_.find(key);
  if (at == std::string_view::npos || at + key.size() >= tag_.size()) return {};
  const char quote = tag_[at + key.size()];
  const std::size_t begin = at + key.size() + 1;
  const std::size_t end = tag_.find(quote, begin);
  return end == std::string_view::npos ? std::string() : Plain(tag_.substr(begin, end - begin));
}

std::string XmlElements::Text() const { return Plain(text_); }

}  // namespace nearpoint
