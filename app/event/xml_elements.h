// One element of an XML text after the other, as they stand: enough for the files that spreadsheets
// write. Nothing is declared, included or expanded but the five entities of XML and numbers.
#pragma once

#include <string>
#include <string_view>

namespace nearpoint {

class XmlElements {
 public:
  explicit XmlElements(std::string_view xml) : xml_(xml) {}

  // The next tag; Text() is what stood before it. Comments are passed over. False at the end.
  bool Next();
  // "c", "/c"; without a prefix ("x:c").
  [[nodiscard]] std::string Name() const;
  [[nodiscard]] bool closed() const { return tag_.ends_with('/'); }
  // name: with its prefix; empty where it is not there.
  [[nodiscard]] std::string Attribute(std::string_view name) const;
  [[nodiscard]] std::string Text() const;

 private:
  std::string_view xml_, tag_, text_;
  std::size_t at_ = 0;
};

}  // namespace nearpoint
