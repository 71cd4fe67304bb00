#include "app/event_store/event_seal.h"

#include <sodium.h>

#include <cstdint>
#include <cstdlib>
#include <vector>

namespace nearpoint {
namespace {

using Bytes = std::vector<std::uint8_t>;
constexpr std::size_t kKey = crypto_aead_xchacha20poly1305_ietf_KEYBYTES;
constexpr std::size_t kNonce = crypto_aead_xchacha20poly1305_ietf_NPUBBYTES;
constexpr std::size_t kTag = crypto_aead_xchacha20poly1305_ietf_ABYTES;
constexpr int kVariant = sodium_base64_VARIANT_ORIGINAL;

// Safe to be called again, and by several threads. It fails where the system gives no random
// numbers; nothing may be sealed then.
void Ready() {
  if (sodium_init() < 0) std::abort();
}

const std::uint8_t* Raw(std::string_view text) {
  return reinterpret_cast<const std::uint8_t*>(text.data());
}

std::string Encoded(const Bytes& bytes) {
  std::string text(sodium_base64_encoded_len(bytes.size(), kVariant), '\0');
  sodium_bin2base64(text.data(), text.size(), bytes.data(), bytes.size(), kVariant);
  text.pop_back();  // the terminating zero
  return text;
}

std::optional<Bytes> Decoded(std::string_view text) {
  Bytes bytes(text.size() / 4 * 3 + 3);
  std::size_t length = 0;
  const char* end = nullptr;
  if (sodium_base642bin(bytes.data(), bytes.size(), text.data(), text.size(), nullptr, &length,
                        &end, kVariant) != 0 ||
      end != text.data() + text.size()) {
    return std::nullopt;
  }
  bytes.resize(length);
  return bytes;
}

std::optional<Bytes> DecodedKey(std::string_view text) {
  auto bytes = Decoded(text);
  if (!bytes || bytes->size() != kKey) return std::nullopt;
  return bytes;
}

}  // namespace

std::string NewEventKey() {
  Ready();
  Bytes key(kKey);
  randombytes_buf(key.data(), key.size());
  return Encoded(key);
}

StationKeys NewStationKeys() {
  Ready();
  Bytes open(crypto_box_PUBLICKEYBYTES), secret(crypto_box_SECRETKEYBYTES);
  crypto_box_keypair(open.data(), secret.data());
  return {Encoded(open), Encoded(secret)};
}

bool IsSealedText(std::string_view text) { return text.starts_with(kSealedMark); }

std::string SealText(std::string_view text, std::string_view about, std::string_view key) {
  Ready();
  const auto secret = DecodedKey(key);
  if (!secret) return {};
  Bytes bytes(kNonce + text.size() + kTag);
  randombytes_buf(bytes.data(), kNonce);
  crypto_aead_xchacha20poly1305_ietf_encrypt(bytes.data() + kNonce, nullptr, Raw(text), text.size(),
                                             Raw(about), about.size(), nullptr, bytes.data(),
                                             secret->data());
  return std::string(kSealedMark) + Encoded(bytes);
}

std::optional<std::string> OpenText(std::string_view sealed, std::string_view about,
                                    std::string_view key) {
  Ready();
  if (!IsSealedText(sealed)) return std::nullopt;
  const auto secret = DecodedKey(key);
  const auto bytes = Decoded(sealed.substr(kSealedMark.size()));
  if (!secret || !bytes || bytes->size() < kNonce + kTag) return std::nullopt;
  std::string text(bytes->size() - kNonce - kTag, '\0');
  if (crypto_aead_xchacha20poly1305_ietf_decrypt(
          reinterpret_cast<std::uint8_t*>(text.data()), nullptr, nullptr, bytes->data() + kNonce,
          bytes->size() - kNonce, Raw(about), about.size(), bytes->data(), secret->data()) != 0) {
    return std::nullopt;
  }
  return text;
}

std::optional<std::string> SealKeyFor(std::string_view key, std::string_view public_key) {
  Ready();
  const auto secret = DecodedKey(key);
  const auto to = Decoded(public_key);
  if (!secret || !to || to->size() != crypto_box_PUBLICKEYBYTES) return std::nullopt;
  Bytes sealed(secret->size() + crypto_box_SEALBYTES);
  if (crypto_box_seal(sealed.data(), secret->data(), secret->size(), to->data()) != 0) {
    return std::nullopt;
  }
  return Encoded(sealed);
}

std::optional<std::string> OpenKey(std::string_view sealed, const StationKeys& keys) {
  Ready();
  const auto bytes = Decoded(sealed);
  const auto open = Decoded(keys.public_key);
  const auto secret = Decoded(keys.secret_key);
  if (!bytes || bytes->size() != kKey + crypto_box_SEALBYTES || !open || !secret ||
      open->size() != crypto_box_PUBLICKEYBYTES || secret->size() != crypto_box_SECRETKEYBYTES) {
    return std::nullopt;
  }
  Bytes key(kKey);
  if (crypto_box_seal_open(key.data(), bytes->data(), bytes->size(), open->data(),
                           secret->data()) != 0) {
    return std::nullopt;
  }
  return Encoded(key);
}

}  // namespace nearpoint
