// Errors in the words of the window.
#include "app/window/words.h"

#include <gmock/gmock.h>

#include <set>

#include "app/window/language.h"

namespace nearpoint {
namespace {

constexpr ErrorCode kCodes[] = {
    ErrorCode::kNotFound,    ErrorCode::kUnreadable,  ErrorCode::kBadValue,    ErrorCode::kMismatch,
    ErrorCode::kNotWritable, ErrorCode::kUnavailable, ErrorCode::kInsufficient};

TEST(WordsTest, AnErrorIsNeverEnglishInAGermanWindow) {
  UseLanguage("en");
  std::set<QString> english;
  for (const ErrorCode code : kCodes) {
    const Error error{code, "nearpoint.db: this file cannot be written."};
    EXPECT_EQ(words::ForError(error), "nearpoint.db: this file cannot be written.");
    EXPECT_EQ(words::Detail(error), words::ForError(error));
    english.insert(words::SourceError(error));
  }
  UseLanguage("de");
  std::set<QString> said;
  for (const ErrorCode code : kCodes) {
    const Error error{code, "nearpoint.db: this file cannot be written."};
    const QString german = words::ForError(error);
    EXPECT_FALSE(german.isEmpty());
    EXPECT_FALSE(german.contains("file")) << german.toStdString();
    EXPECT_FALSE(german.contains(" the ")) << german.toStdString();
    EXPECT_TRUE(words::Detail(error).isEmpty());
    EXPECT_FALSE(english.contains(words::SourceError(error)));
    said.insert(german);
  }
  EXPECT_EQ(said.size(), std::size(kCodes));  // each says something of its own
  UseLanguage("en");
}

}  // namespace
}  // namespace nearpoint
