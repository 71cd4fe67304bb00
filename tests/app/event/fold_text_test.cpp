#include "app/event/fold_text.h"

#include <gtest/gtest.h>

namespace nearpoint {
namespace {

TEST(FoldTextTest, LettersThatMeanTheSameBecomeTheSame) {
  EXPECT_EQ(FoldForSearch("ÄÖÜß éèç Ñ"), "aouss eec n");
  EXPECT_EQ(FoldForSearch("Łukasz Žižek Şahin Őri"), "lukasz zizek sahin ori");
  EXPECT_EQ(FoldForSearch("Æsa"), "aesa");
  EXPECT_EQ(FoldForSearch("Søren"), "soren");
  EXPECT_EQ(FoldForSearch("Ελένη 山"), "Ελένη 山");  // as it is
}

TEST(FoldTextTest, BlanksOfEveryKindAreBlanks) {
  EXPECT_EQ(Simplified("  Ann\t Lee\xC2\xA0 "), "Ann Lee");
  EXPECT_EQ(Simplified(" \xC2\xA0"), "");
}

TEST(FoldTextTest, TellsUtf8FromOtherBytes) {
  EXPECT_TRUE(IsUtf8("Müller €  \xEF\xBF\xBD"));
  EXPECT_FALSE(IsUtf8("M\xFCller"));
  EXPECT_FALSE(IsUtf8("\xC3"));
  EXPECT_FALSE(IsUtf8("\xC0\xAF"));          // longer than needed
  EXPECT_FALSE(IsUtf8("\xED\xA0\x80"));      // half of a pair
  EXPECT_FALSE(IsUtf8("\xF4\x90\x80\x80"));  // beyond Unicode
}

// Python: "Müller €".encode("cp1252"), "Zoë 😀".encode("utf-16-le").
TEST(FoldTextTest, ReadsOtherEncodings) {
  EXPECT_EQ(Utf8FromWindows1252("M\xFCller \x80"), "Müller €");
  EXPECT_EQ(Utf8FromUtf16(std::string_view("Z\0o\0\xEB\0 \0\x3D\xD8\x00\xDE", 12), false), "Zoë 😀");
  EXPECT_EQ(Utf8FromUtf16(std::string_view("\0Z", 2), true), "Z");
  EXPECT_FALSE(Utf8FromUtf16(std::string_view("\0Z\0", 3), true));
  EXPECT_FALSE(Utf8FromUtf16(std::string_view("\x3D\xD8", 2), false));
}

}  // namespace
}  // namespace nearpoint
