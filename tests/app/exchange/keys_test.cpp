#include "app/exchange/keys.h"

#include <gmock/gmock.h>

#include <set>
#include <utility>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

Identity::Seed SeedFrom(std::uint8_t first) {
  Identity::Seed seed{};
  for (std::size_t i = 0; i < seed.size(); ++i) seed[i] = static_cast<std::uint8_t>(first + i);
  return seed;
}

TEST(KeysTest, SignKeyOfAPublishedSeed) {
  // RFC 8032, section 7.1, test 1.
  constexpr std::uint8_t kSeed[32] = {0x9d, 0x61, 0xb1, 0x9d, 0xef, 0xfd, 0x5a, 0x60,
                                      0xba, 0x84, 0x4a, 0xf4, 0x92, 0xec, 0x2c, 0xc4,
                                      0x44, 0x49, 0xc5, 0x69, 0x7b, 0x32, 0x69, 0x19,
                                      0x70, 0x3b, 0xac, 0x03, 0x1c, 0xae, 0x7f, 0x60};
  Identity::Seed seed{};
  std::copy(std::begin(kSeed), std::end(kSeed), seed.begin());
  const Identity identity = Identity::FromSeeds(seed, SeedFrom(0));
  const auto& key = identity.card().sign_key;
  EXPECT_EQ(key[0], 0xd7);
  EXPECT_EQ(key[1], 0x5a);
  EXPECT_EQ(key[30], 0x51);
  EXPECT_EQ(key[31], 0x1a);
}

TEST(KeysTest, ACardGoesThroughItsText) {
  const Identity identity = Identity::FromSeeds(SeedFrom(1), SeedFrom(2));
  const std::string text = ToText(identity.card());
  EXPECT_EQ(text.size(), std::string("nearpoint-card-1:").size() + 91);
  const auto read = ParseCard("  " + text + "\n");
  ASSERT_THAT(read, IsOk());
  EXPECT_EQ(*read, identity.card());
}

TEST(KeysTest, EverySlipInACardIsSeen) {
  const std::string text = ToText(Identity::FromSeeds(SeedFrom(1), SeedFrom(2)).card());
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string slip = text;
    slip[i] = slip[i] == 'A' ? 'B' : 'A';
    EXPECT_FALSE(ParseCard(slip)) << i;
    EXPECT_FALSE(ParseCard(text.substr(0, i))) << i;
    if (i + 1 < text.size() && text[i] != text[i + 1]) {
      slip = text;
      std::swap(slip[i], slip[i + 1]);
      EXPECT_FALSE(ParseCard(slip)) << i;
    }
  }
  EXPECT_THAT(ParseCard("hello"), FailsWith(ErrorCode::kBadValue, HasSubstr("nearpoint-card-1:")));
  EXPECT_THAT(ParseCard(text + "A"), FailsWith(ErrorCode::kBadValue, HasSubstr("slip")));
  EXPECT_FALSE(ParseCard(""));
}

TEST(KeysTest, TheFingerprintIsShortAndFollowsEveryBit) {
  Card card = Identity::FromSeeds(SeedFrom(1), SeedFrom(2)).card();
  const std::string fingerprint = Fingerprint(card);
  EXPECT_THAT(fingerprint, testing::MatchesRegex("[0-9]+ [0-9]+ [0-9]+ [0-9]+ [0-9]+ [0-9]+"));
  EXPECT_EQ(fingerprint.size(), 6 * 5 + 5u);
  std::set<std::string> seen{fingerprint};
  for (auto* key : {&card.sign_key, &card.box_key}) {
    for (std::size_t bit = 0; bit < 256; ++bit) {
      (*key)[bit / 8] ^= static_cast<std::uint8_t>(1 << bit % 8);
      EXPECT_TRUE(seen.insert(Fingerprint(card)).second) << bit;
      (*key)[bit / 8] ^= static_cast<std::uint8_t>(1 << bit % 8);
    }
  }
}

TEST(KeysTest, DrawnKeysDifferAndMovedOnesAreWiped) {
  Identity a = Identity::Draw();
  const Identity b = Identity::Draw();
  EXPECT_NE(a.card(), b.card());
  const Identity::Seed seed = a.sign_seed();
  const Identity moved = std::move(a);
  EXPECT_EQ(moved.sign_seed(), seed);
  EXPECT_EQ(a.sign_seed(), Identity::Seed{});  // NOLINT: that it is gone is the point
}

TEST(KeysTest, Base64HasOneSpelling) {
  std::uint8_t bytes[2] = {0xff, 0x80};
  EXPECT_EQ(ToBase64(bytes, 2), "_4A");
  EXPECT_TRUE(FromBase64("_4A", bytes, 2));
  for (const char* other : {"_4B", "/4A", "_4A=", "_4", "_4AA", "", "_4A "}) {
    EXPECT_FALSE(FromBase64(other, bytes, 2)) << other;
  }
}

}  // namespace
}  // namespace nearpoint
