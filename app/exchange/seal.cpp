#include "app/exchange/seal.h"

#include <sodium.h>

#include <algorithm>
#include <string_view>
#include <utility>

#include "app/exchange/compress.h"

namespace nearpoint {
namespace {

constexpr std::string_view kMagic = "NPSEALED";
constexpr std::uint16_t kVersion = 1;
constexpr std::string_view kSignedText = "nearpoint sealed file, version 1\n";
constexpr std::size_t kHeaderBytes = 8 + 2 + 32;

tl::unexpected<Error> Refuse(ErrorCode code, const char* sentence) { return Fail(code, sentence); }

Bytes Header(const Card& recipient) {
  ByteWriter writer;
  writer.Raw(ViewOf(kMagic));
  writer.U16(kVersion);
  writer.Raw(recipient.box_key);
  return writer.Take();
}

// What the signature covers.
Bytes Signed(ByteView header, ByteView rest) {
  ByteWriter writer;
  writer.Raw(ViewOf(kSignedText));
  writer.Raw(header);
  writer.Raw(rest);
  return writer.Take();
}

tl::unexpected<Error> Tampered() {
  return Refuse(ErrorCode::kBadValue,
                "The file is damaged or was changed on its way; ask for it to be sent again.");
}

// Everything behind the signature.
Result<OpenedSeal> ReadSigned(ByteView header, ByteView signature, ByteView rest) {
  ByteReader reader(rest);
  OpenedSeal opened;
  std::ranges::copy(reader.Raw(opened.sender.sign_key.size()), opened.sender.sign_key.begin());
  std::ranges::copy(reader.Raw(opened.sender.box_key.size()), opened.sender.box_key.begin());
  const std::uint64_t size = reader.U64();
  if (!reader.ok()) return Tampered();
  const Bytes covered = Signed(header, rest);
  if (crypto_sign_verify_detached(signature.data(), covered.data(), covered.size(),
                                  opened.sender.sign_key.data()) != 0) {
    return Tampered();
  }
  if (size > kMostPackageBytes) {
    return Refuse(ErrorCode::kBadValue,
                  "The file claims to hold more than a package may; it was not unpacked.");
  }
  const auto bytes = Decompress(reader.rest(), size);
  if (!bytes) return Tampered();
  auto package = UnpackBytes(*bytes);
  if (!package) {
    return Fail(ErrorCode::kBadValue,
                "The file's content cannot be used: " + package.error().message);
  }
  opened.package = *std::move(package);
  return opened;
}

}  // namespace

Result<Bytes> Seal(const Package& package, const Identity& sender, const Card& recipient) {
  if (auto checked = CheckPackage(package); !checked) return tl::unexpected(checked.error());
  const Bytes plain = PackBytes(package);
  ByteWriter rest;
  rest.Raw(sender.card().sign_key);
  rest.Raw(sender.card().box_key);
  rest.U64(plain.size());
  rest.Raw(Compress(plain));

  const Bytes header = Header(recipient);
  const Bytes covered = Signed(header, rest.bytes());
  Bytes inner(crypto_sign_BYTES);
  crypto_sign_detached(inner.data(), nullptr, covered.data(), covered.size(),
                       sender.sign_secret().data());
  inner.insert(inner.end(), rest.bytes().begin(), rest.bytes().end());

  Bytes file = header;
  file.resize(kHeaderBytes + inner.size() + crypto_box_SEALBYTES);
  if (crypto_box_seal(file.data() + kHeaderBytes, inner.data(), inner.size(),
                      recipient.box_key.data()) != 0) {
    return Refuse(ErrorCode::kBadValue, "The recipient's card holds no key that can be sealed to.");
  }
  return file;
}

Result<OpenedSeal> Unseal(ByteView file, const Identity& recipient) {
  if (file.size() > kMostSealedBytes) {
    return Refuse(ErrorCode::kBadValue, "The file is larger than a sealed file may be.");
  }
  ByteReader reader(file);
  const ByteView magic = reader.Raw(kMagic.size());
  if (!std::ranges::equal(magic, ViewOf(kMagic))) {
    return Refuse(ErrorCode::kBadValue, "This is not a sealed file of nearpoint.");
  }
  const std::uint16_t version = reader.U16();
  if (reader.ok() && version > kVersion) {
    return Refuse(ErrorCode::kBadValue,
                  "The file comes from a newer version of nearpoint; this one reads version 1.");
  }
  const ByteView key = reader.Raw(recipient.card().box_key.size());
  if (!reader.ok() || version != kVersion) return Tampered();
  if (!std::ranges::equal(key, recipient.card().box_key)) {
    return Refuse(ErrorCode::kMismatch,
                  "The file is sealed for another recipient; only they can open it.");
  }
  const ByteView sealed = reader.rest();
  if (sealed.size() < crypto_box_SEALBYTES + crypto_sign_BYTES) return Tampered();
  Bytes inner(sealed.size() - crypto_box_SEALBYTES);
  if (crypto_box_seal_open(inner.data(), sealed.data(), sealed.size(),
                           recipient.card().box_key.data(), recipient.box_secret().data()) != 0) {
    return Tampered();
  }
  const ByteView view = inner;
  return ReadSigned(file.first(kHeaderBytes), view.first(crypto_sign_BYTES),
                    view.subspan(crypto_sign_BYTES));
}

}  // namespace nearpoint
