#include "app/exchange/keys.h"

#include <sodium.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <span>
#include <vector>

namespace nearpoint {
namespace {

constexpr std::string_view kPrefix = "nearpoint-card-1:";
constexpr std::size_t kKeyBytes = 64;
constexpr std::size_t kCheckBytes = 4;

// Without a random number generator there is nothing to go on with.
void NeedSodium() {
  if (sodium_init() < 0) {
    std::fputs("nearpoint: the system gives no random numbers, so no key is safe.\n", stderr);
    std::abort();
  }
}

std::array<std::uint8_t, kKeyBytes> Joined(const Card& card) {
  std::array<std::uint8_t, kKeyBytes> keys{};
  std::ranges::copy(card.sign_key, keys.begin());
  std::ranges::copy(card.box_key, keys.begin() + card.sign_key.size());
  return keys;
}

// One key for each use, so that a fingerprint is never a checksum of something else.
template <std::size_t kSize>
std::array<std::uint8_t, kSize> Hash(std::string_view use, std::span<const std::uint8_t> bytes) {
  std::array<std::uint8_t, kSize> hash{};
  crypto_generichash(hash.data(), hash.size(), bytes.data(), bytes.size(),
                     reinterpret_cast<const unsigned char*>(use.data()), use.size());
  return hash;
}

std::array<std::uint8_t, kCheckBytes> CheckOf(const Card& card) {
  const auto hash = Hash<crypto_generichash_BYTES_MIN>("nearpoint card checksum", Joined(card));
  std::array<std::uint8_t, kCheckBytes> check{};
  std::copy_n(hash.begin(), check.size(), check.begin());
  return check;
}

}  // namespace

std::string ToBase64(const std::uint8_t* bytes, std::size_t count) {
  constexpr int kVariant = sodium_base64_VARIANT_URLSAFE_NO_PADDING;
  std::string text(sodium_base64_encoded_len(count, kVariant), '\0');
  sodium_bin2base64(text.data(), text.size(), bytes, count, kVariant);
  text.pop_back();  // the terminating zero
  return text;
}

bool FromBase64(std::string_view text, std::uint8_t* bytes, std::size_t count) {
  std::size_t length = 0;
  const char* end = nullptr;
  const int failed = sodium_base642bin(bytes, count, text.data(), text.size(), nullptr, &length,
                                       &end, sodium_base64_VARIANT_URLSAFE_NO_PADDING);
  return failed == 0 && length == count && end == text.data() + text.size() &&
         ToBase64(bytes, count) == text;
}

std::string ToText(const Card& card) {
  std::array<std::uint8_t, kKeyBytes + kCheckBytes> bytes{};
  std::ranges::copy(Joined(card), bytes.begin());
  std::ranges::copy(CheckOf(card), bytes.begin() + kKeyBytes);
  return std::string(kPrefix) + ToBase64(bytes.data(), bytes.size());
}

Result<Card> ParseCard(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const auto first = text.find_first_not_of(kBlank);
  text = first == std::string_view::npos
             ? std::string_view()
             : text.substr(first, text.find_last_not_of(kBlank) - first + 1);
  if (!text.starts_with(kPrefix)) {
    return Fail(ErrorCode::kBadValue, "This is no card; expected a text that starts with \"" +
                                          std::string(kPrefix) + "\".");
  }
  text.remove_prefix(kPrefix.size());
  std::array<std::uint8_t, kKeyBytes + kCheckBytes> bytes{};
  Card card;
  const bool decoded = FromBase64(text, bytes.data(), bytes.size());
  std::copy_n(bytes.begin(), card.sign_key.size(), card.sign_key.begin());
  std::copy_n(bytes.begin() + card.sign_key.size(), card.box_key.size(), card.box_key.begin());
  const auto check = CheckOf(card);
  if (!decoded || !std::equal(check.begin(), check.end(), bytes.begin() + kKeyBytes)) {
    return Fail(ErrorCode::kBadValue,
                "The card has a slip in it or is cut off; expected all of its characters as they "
                "were given out.");
  }
  return card;
}

std::string Fingerprint(const Card& card) {
  // Sixteen bits more than a group has room for make each digit even to 1e-15.
  constexpr int kGroups = 6;
  constexpr std::size_t kBytesPerGroup = 8;
  const auto hash = Hash<kGroups * kBytesPerGroup>("nearpoint card fingerprint", Joined(card));
  std::string text;
  for (std::size_t group = 0; group < kGroups; ++group) {
    std::uint64_t number = 0;
    for (std::size_t i = 0; i < kBytesPerGroup; ++i) {
      number = number << 8 | hash[group * kBytesPerGroup + i];
    }
    char digits[8];
    std::snprintf(digits, sizeof digits, "%05u", static_cast<unsigned>(number % 100000));
    text += (group == 0 ? "" : " ") + std::string(digits);
  }
  return text;
}

Identity Identity::Draw() {
  NeedSodium();
  Seed sign{}, box{};
  randombytes_buf(sign.data(), sign.size());
  randombytes_buf(box.data(), box.size());
  Identity identity = FromSeeds(sign, box);
  sodium_memzero(sign.data(), sign.size());
  sodium_memzero(box.data(), box.size());
  return identity;
}

Identity Identity::FromSeeds(const Seed& sign, const Seed& box) {
  NeedSodium();
  Identity identity;
  identity.sign_seed_ = sign;
  identity.box_seed_ = box;
  crypto_sign_seed_keypair(identity.card_.sign_key.data(), identity.sign_secret_.data(),
                           sign.data());
  crypto_box_seed_keypair(identity.card_.box_key.data(), identity.box_secret_.data(), box.data());
  return identity;
}

Identity::Identity(Identity&& other) noexcept
    : card_(other.card_),
      sign_seed_(other.sign_seed_),
      box_seed_(other.box_seed_),
      sign_secret_(other.sign_secret_),
      box_secret_(other.box_secret_) {
  other.Wipe();
}

Identity& Identity::operator=(Identity&& other) noexcept {
  if (this == &other) return *this;
  card_ = other.card_;
  sign_seed_ = other.sign_seed_;
  box_seed_ = other.box_seed_;
  sign_secret_ = other.sign_secret_;
  box_secret_ = other.box_secret_;
  other.Wipe();
  return *this;
}

Identity::~Identity() { Wipe(); }

void Identity::Wipe() {
  sodium_memzero(sign_seed_.data(), sign_seed_.size());
  sodium_memzero(box_seed_.data(), box_seed_.size());
  sodium_memzero(sign_secret_.data(), sign_secret_.size());
  sodium_memzero(box_secret_.data(), box_secret_.size());
}

}  // namespace nearpoint
