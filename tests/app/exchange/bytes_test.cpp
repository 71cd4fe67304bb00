#include "app/exchange/bytes.h"

#include <gtest/gtest.h>

#include "app/exchange/compress.h"

namespace nearpoint {
namespace {

TEST(BytesTest, WhatIsWrittenIsRead) {
  ByteWriter writer;
  writer.U16(0xABCD);
  writer.U32(0xDEADBEEF);
  writer.U64(0x0123456789ABCDEF);
  writer.Text("near");
  EXPECT_EQ(writer.bytes()[0], 0xCD);  // the low byte first
  ByteReader reader(writer.bytes());
  EXPECT_EQ(reader.U16(), 0xABCD);
  EXPECT_EQ(reader.U32(), 0xDEADBEEF);
  EXPECT_EQ(reader.U64(), 0x0123456789ABCDEFu);
  EXPECT_EQ(TextOf(reader.Counted()), "near");
  EXPECT_TRUE(reader.done());
}

TEST(BytesTest, ALengthIsNotBelieved) {
  ByteWriter writer;
  writer.U32(0xFFFFFFFF);
  writer.Raw(ViewOf("short"));
  ByteReader reader(writer.bytes());
  EXPECT_TRUE(reader.Counted().empty());
  EXPECT_FALSE(reader.ok());
  EXPECT_EQ(reader.U16(), 0);  // nothing comes after a failure
  EXPECT_FALSE(reader.done());
}

TEST(CompressTest, GivesBackExactlyWhatWasIn) {
  for (const std::size_t size : {0u, 1u, 1000u, 200000u}) {
    Bytes bytes(size);
    for (std::size_t i = 0; i < size; ++i) bytes[i] = static_cast<std::uint8_t>(i * i >> 3);
    const Bytes frame = Compress(bytes);
    EXPECT_EQ(Decompress(frame, size), bytes);
    EXPECT_FALSE(Decompress(frame, size + 1));
    if (size > 0) {
      EXPECT_FALSE(Decompress(frame, size - 1));
    }
    Bytes longer = frame;
    longer.push_back(0);
    EXPECT_FALSE(Decompress(longer, size));  // nothing may hide behind the frame
    Bytes two = frame;
    two.insert(two.end(), frame.begin(), frame.end());
    EXPECT_FALSE(Decompress(two, size));
  }
  EXPECT_FALSE(Decompress({}, 0));
}

}  // namespace
}  // namespace nearpoint
