#include "app/exchange/seal.h"

#include <gmock/gmock.h>
#include <sodium.h>
#include <zstd.h>

#include <cstdio>
#include <fstream>
#include <random>
#include <string>

#include "app/exchange/compress.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

const Identity& Home() {
  static const Identity identity = Identity::Draw();
  return identity;
}
const Identity& Clinic() {
  static const Identity identity = Identity::Draw();
  return identity;
}

Package Example() {
  Package package;
  package.made_at = "2026-03-02T08:00:00Z";
  package.from = "home";
  package.items = {{ItemKind::kNote, "note.txt", "he was tired"}};
  return package;
}

// The layout as seal.h has it, put together by hand so that a sender can be dishonest.
Bytes ByHand(std::uint64_t claimed_size, ByteView compressed,
             const Card& recipient = Clinic().card(), const Card& addressed = Clinic().card()) {
  ByteWriter header;
  header.Raw(ViewOf("NPSEALED"));
  header.U16(1);
  header.Raw(recipient.box_key);
  ByteWriter rest;
  rest.Raw(Home().card().sign_key);
  rest.Raw(Home().card().box_key);
  rest.U64(claimed_size);
  rest.Raw(compressed);
  ByteWriter covered;
  covered.Raw(ViewOf("nearpoint sealed file, version 1\n"));
  covered.Raw(ViewOf("NPSEALED"));
  covered.U16(1);
  covered.Raw(addressed.box_key);
  covered.Raw(rest.bytes());
  Bytes inner(crypto_sign_BYTES);
  crypto_sign_detached(inner.data(), nullptr, covered.bytes().data(), covered.bytes().size(),
                       Home().sign_secret().data());
  inner.insert(inner.end(), rest.bytes().begin(), rest.bytes().end());
  Bytes file = header.bytes();
  const std::size_t head = file.size();
  file.resize(head + inner.size() + crypto_box_SEALBYTES);
  crypto_box_seal(file.data() + head, inner.data(), inner.size(), recipient.box_key.data());
  return file;
}

// So many MB of zeros, in a frame that states its size, made without ever holding them.
Bytes ZerosCompressed(std::size_t megabytes) {
  const Bytes block(1u << 20);
  Bytes frame(1u << 20);
  ZSTD_CCtx* context = ZSTD_createCCtx();
  ZSTD_CCtx_setPledgedSrcSize(context, static_cast<std::uint64_t>(megabytes) << 20);
  ZSTD_outBuffer out{frame.data(), frame.size(), 0};
  for (std::size_t i = 0; i < megabytes; ++i) {
    ZSTD_inBuffer in{block.data(), block.size(), 0};
    const ZSTD_EndDirective more = i + 1 < megabytes ? ZSTD_e_continue : ZSTD_e_end;
    std::size_t left = 1;
    while (in.pos < in.size || (more == ZSTD_e_end && left != 0)) {
      left = ZSTD_compressStream2(context, &out, &in, more);
    }
  }
  ZSTD_freeCCtx(context);
  frame.resize(out.pos);
  return frame;
}

// Most memory this process has had, in MB.
double PeakMegabytes() {
  std::ifstream status("/proc/self/status");
  for (std::string line; std::getline(status, line);) {
    if (line.starts_with("VmHWM:")) return std::stod(line.substr(6)) / 1024;
  }
  return 0;
}

TEST(SealTest, OnlyTheRecipientReadsIt) {
  const auto file = Seal(Example(), Home(), Clinic().card());
  ASSERT_THAT(file, IsOk());
  const auto opened = Unseal(*file, Clinic());
  ASSERT_THAT(opened, IsOk());
  EXPECT_EQ(opened->sender, Home().card());
  EXPECT_EQ(opened->package.items[0].content, "he was tired");
  EXPECT_THAT(Unseal(*file, Home()),
              FailsWith(ErrorCode::kMismatch, HasSubstr("another recipient")));
  EXPECT_EQ(TextOf(*file).find("tired"), std::string::npos);
  // Neither the sender's keys nor their name are visible from outside.
  const std::string key(Home().card().sign_key.begin(), Home().card().sign_key.end());
  EXPECT_EQ(TextOf(*file).find(key), std::string::npos);
}

TEST(SealTest, EverySingleBitFlippedIsRefused) {
  Bytes file = *Seal(Example(), Home(), Clinic().card());
  ASSERT_LT(file.size(), 1000u);
  for (std::size_t bit = 0; bit < 8 * file.size(); ++bit) {
    file[bit / 8] ^= static_cast<std::uint8_t>(1 << bit % 8);
    EXPECT_FALSE(Unseal(file, Clinic())) << "bit " << bit;
    file[bit / 8] ^= static_cast<std::uint8_t>(1 << bit % 8);
  }
  EXPECT_THAT(Unseal(file, Clinic()), IsOk());
}

TEST(SealTest, TruncatedAtEachLengthIsRefused) {
  const Bytes file = *Seal(Example(), Home(), Clinic().card());
  for (std::size_t size = 0; size < file.size(); ++size) {
    EXPECT_FALSE(Unseal(ByteView(file).first(size), Clinic())) << size;
  }
  Bytes longer = file;
  longer.push_back(0);
  EXPECT_FALSE(Unseal(longer, Clinic()));
}

TEST(SealTest, EachRefusalHasItsOwnSentence) {
  Bytes file = *Seal(Example(), Home(), Clinic().card());
  EXPECT_THAT(Unseal({}, Clinic()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("not a sealed file")));
  EXPECT_THAT(Unseal(ViewOf("{\"schema\": 1}"), Clinic()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("not a sealed file")));
  Bytes newer = file;
  newer[8] = 2;
  EXPECT_THAT(Unseal(newer, Clinic()), FailsWith(ErrorCode::kBadValue, HasSubstr("newer version")));
  file.back() ^= 1;
  EXPECT_THAT(Unseal(file, Clinic()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("changed on its way")));
}

TEST(SealTest, TheSameFileByHandIsReadable) {
  const Bytes plain = PackBytes(Example());
  EXPECT_THAT(Unseal(ByHand(plain.size(), Compress(plain)), Clinic()), IsOk());
}

TEST(SealTest, ARecipientCannotPassItOnInTheSendersName) {
  // Signed for the clinic, sealed anew by the clinic to somebody else.
  const Identity third = Identity::Draw();
  const Bytes plain = PackBytes(Example());
  const Bytes file = ByHand(plain.size(), Compress(plain), third.card(), Clinic().card());
  EXPECT_THAT(Unseal(file, third),
              FailsWith(ErrorCode::kBadValue, HasSubstr("changed on its way")));
}

TEST(SealTest, ADishonestSenderCannotFillTheMemory) {
  const Bytes small = Compress(PackBytes(Example()));
  const Bytes zeros = ZerosCompressed(200);  // 200 MB in a few kilobytes
  ASSERT_LT(zeros.size(), 100000u);
  const double before = PeakMegabytes();
  // 10 GB claimed, by the file and by the frame as well as by the file alone.
  EXPECT_THAT(Unseal(ByHand(10ull << 30, small), Clinic()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("more than a package may")));
  EXPECT_FALSE(Unseal(ByHand(~0ull, small), Clinic()));
  EXPECT_FALSE(Unseal(ByHand(200ull << 20, zeros), Clinic()));
  // The bomb behind a modest claim.
  EXPECT_FALSE(Unseal(ByHand(1000, zeros), Clinic()));
  EXPECT_FALSE(Unseal(ByHand(kMostPackageBytes, zeros), Clinic()));
  EXPECT_FALSE(Unseal(ByHand(kMostPackageBytes, small), Clinic()));
  EXPECT_LT(PeakMegabytes() - before, 20);
}

TEST(SealTest, WhatIsNoPackageIsRefused) {
  std::mt19937 random(4);
  for (int i = 0; i < 300; ++i) {
    Bytes noise(random() % 200);
    for (auto& byte : noise) byte = static_cast<std::uint8_t>(random());
    EXPECT_FALSE(Unseal(ByHand(noise.size(), Compress(noise)), Clinic()));
    EXPECT_FALSE(Unseal(ByHand(noise.size(), noise), Clinic()));
    Bytes file = ByHand(noise.size(), noise);
    file.resize(42 + noise.size());
    std::copy(noise.begin(), noise.end(), file.begin() + 42);
    EXPECT_FALSE(Unseal(file, Clinic()));
  }
}

TEST(SealTest, AFolderThatIsTooLargeIsNotMade) {
  Package package = Example();
  package.items[0].content.resize(kMostPackageBytes + 1);
  EXPECT_FALSE(Seal(package, Home(), Clinic().card()));
}

}  // namespace
}  // namespace nearpoint
