// Who sends and who receives. Each party has two key pairs: one to sign (Ed25519) and one to
// receive (X25519). Its card, the two public keys as a short text, is what the other party needs;
// it may be read by anybody. Whether a card is really that party's is checked by voice: both read
// out the fingerprint.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

#include "vision/core/result.h"

namespace nearpoint {

struct Card {
  std::array<std::uint8_t, 32> sign_key{};
  std::array<std::uint8_t, 32> box_key{};
  friend bool operator==(const Card&, const Card&) = default;
};

// "nearpoint-card-1:" and 91 characters, letters, digits, - and _: fits a small QR code. The last
// six check the rest, so that a slip is told from another card.
[[nodiscard]] std::string ToText(const Card& card);
// Blanks and line breaks around it do not matter. kBadValue says what is wrong.
[[nodiscard]] Result<Card> ParseCard(std::string_view text);

// Six groups of five digits, "07312 55120 ...": 99 bits of the BLAKE2b hash of the card. Nobody can
// make a second card with the same one.
[[nodiscard]] std::string Fingerprint(const Card& card);

// The secret half. Wiped when it goes; not copied by accident.
class Identity {
 public:
  using Seed = std::array<std::uint8_t, 32>;
  [[nodiscard]] static Identity Draw();  // from the system's random numbers
  [[nodiscard]] static Identity FromSeeds(const Seed& sign, const Seed& box);
  Identity(Identity&& other) noexcept;
  Identity& operator=(Identity&& other) noexcept;
  ~Identity();

  [[nodiscard]] const Card& card() const { return card_; }
  [[nodiscard]] const Seed& sign_seed() const { return sign_seed_; }
  [[nodiscard]] const Seed& box_seed() const { return box_seed_; }
  [[nodiscard]] const std::array<std::uint8_t, 64>& sign_secret() const { return sign_secret_; }
  [[nodiscard]] const std::array<std::uint8_t, 32>& box_secret() const { return box_secret_; }

 private:
  Identity() = default;
  void Wipe();
  Card card_;
  Seed sign_seed_{}, box_seed_{};
  std::array<std::uint8_t, 64> sign_secret_{};
  std::array<std::uint8_t, 32> box_secret_{};
};

// Letters, digits, - and _ without padding (RFC 4648 section 5).
[[nodiscard]] std::string ToBase64(const std::uint8_t* bytes, std::size_t count);
// Exactly `count` bytes or false; only the one spelling that ToBase64 gives.
[[nodiscard]] bool FromBase64(std::string_view text, std::uint8_t* bytes, std::size_t count);

}  // namespace nearpoint
