// What keeps the server of an event from knowing anybody: the text of every record goes there
// sealed under the event's key, which only stations hold. A station that joins gets the key from
// one that has it, over the server, sealed for its own public key. Deleting the event destroys the
// key at each station, so that what the server's files still hold cannot be opened by anybody.
//
// Texts: XChaCha20-Poly1305 (libsodium), bound to what stands beside them in the clear. Keys:
// sealed boxes (X25519). All values are base64, behind a word that tells sealed from plain text.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace nearpoint {

struct StationKeys {
  std::string public_key, secret_key;  // base64
};

[[nodiscard]] std::string NewEventKey();
[[nodiscard]] StationKeys NewStationKeys();

inline constexpr std::string_view kSealedMark = "sealed:1:";
[[nodiscard]] bool IsSealedText(std::string_view text);
// about: what must stand beside the text when it is opened. "" where `key` is no key.
[[nodiscard]] std::string SealText(std::string_view text, std::string_view about,
                                   std::string_view key);
// nullopt: another key, another `about`, or changed on its way.
[[nodiscard]] std::optional<std::string> OpenText(std::string_view sealed, std::string_view about,
                                                  std::string_view key);

// nullopt: no public key.
[[nodiscard]] std::optional<std::string> SealKeyFor(std::string_view key,
                                                    std::string_view public_key);
// nullopt: sealed for somebody else, or for keys that this station has destroyed.
[[nodiscard]] std::optional<std::string> OpenKey(std::string_view sealed, const StationKeys& keys);

}  // namespace nearpoint
