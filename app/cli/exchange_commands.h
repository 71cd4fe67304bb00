// nearpoint keys, seal and unseal: whose files are whose, and files that only their recipient
// reads.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

struct KeysArguments {
  std::optional<std::string> folder;  // of the keys; default: the user's own
  std::string name;                   // new: of oneself; add, remove, check: of the other
  std::string card;                   // add: as text; or of a file, "@FILE": the text, or a picture
                                      // with its QR code
  std::optional<std::string> qr;      // new, show: a picture of the card's QR code into this file
};
[[nodiscard]] Result<void> RunKeysNew(const KeysArguments& arguments);
[[nodiscard]] Result<void> RunKeysShow(const KeysArguments& arguments);
[[nodiscard]] Result<void> RunKeysAdd(const KeysArguments& arguments);
[[nodiscard]] Result<void> RunKeysRemove(const KeysArguments& arguments);
[[nodiscard]] Result<void> RunKeysList(const KeysArguments& arguments);

struct SealArguments {
  std::optional<std::string> folder;
  std::vector<std::string> files;  // SESSION.json, or a plan
  std::string to;                  // a known name, or a card
  std::string out;
  bool list_only = false;  // says what would be inside, and makes nothing
};
[[nodiscard]] Result<void> RunSeal(const SealArguments& arguments);

struct UnsealArguments {
  std::optional<std::string> folder;
  std::string file;
  std::optional<std::string> out;  // folder for what is inside; none: says what is inside
  bool accept_unknown = false;     // of a sender whose card is not known
};
[[nodiscard]] Result<void> RunUnseal(const UnsealArguments& arguments);

}  // namespace nearpoint
