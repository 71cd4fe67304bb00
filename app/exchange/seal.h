// The sealed file: a package that only its recipient can read and only its sender can have made.
//
// Layout, version 1 (numbers little-endian):
//   8   "NPSEALED"
//   2   version, 1
//   32  the recipient's box key, so that a file for somebody else is told from a damaged one
//   ... crypto_box_seal (X25519, XSalsa20-Poly1305) to the recipient of:
//         64  Ed25519 signature by the sender of everything below, behind a fixed text, the first
//             42 bytes of the file and the sender's keys
//         32  the sender's sign key
//         32  the sender's box key
//         8   bytes of the package before compression
//         ... the package (package.h), compressed with Zstandard
// The signature covers the recipient, so that a recipient cannot pass a file on as if it had been
// sent to a third party. Who sent it is not visible from outside.
#pragma once

#include "app/exchange/bytes.h"
#include "app/exchange/keys.h"
#include "app/exchange/package.h"
#include "vision/core/result.h"

namespace nearpoint {

// A file larger than this is refused unread.
inline constexpr std::uint64_t kMostSealedBytes = kMostPackageBytes + (1u << 20);

struct OpenedSeal {
  Card sender;  // the signature is that card's; whose card it is, only the person can know
  Package package;
};

// Errors: those of CheckPackage.
[[nodiscard]] Result<Bytes> Seal(const Package& package, const Identity& sender,
                                 const Card& recipient);

// Errors, all without a file's name: kBadValue (not a sealed file, from a newer version, too large,
// damaged or tampered with), kMismatch (sealed for somebody else). Nothing of the content is looked
// at before both the seal and the signature hold; memory stays within a small multiple of
// kMostPackageBytes, whatever the file claims.
[[nodiscard]] Result<OpenedSeal> Unseal(ByteView file, const Identity& recipient);

}  // namespace nearpoint
