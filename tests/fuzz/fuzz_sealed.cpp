// What comes from outside as bytes: sealed files, packages, compressed frames, cards.
#include <algorithm>

#include "app/exchange/compress.h"
#include "app/exchange/seal.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  static const Identity recipient = Identity::FromSeeds({}, {});
  const ByteView bytes = ViewOf(input);
  (void)Unseal(bytes, recipient);
  if (const auto package = UnpackBytes(bytes)) {
    // One content, one spelling.
    Require(std::ranges::equal(PackBytes(*package), bytes));
    (void)DescribePackage(*package);
  }
  if (!bytes.empty()) {
    const std::uint64_t size = std::uint64_t{bytes[0]} << 12;
    const auto plain = Decompress(bytes.subspan(1), size);
    Require(!plain || plain->size() == size);
  }
  if (const auto card = ParseCard(input))
    Require(input.find(ToText(*card)) != std::string_view::npos);
}
