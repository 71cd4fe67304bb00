#include "app/exchange/package.h"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::Contains;
using testing::HasSubstr;

std::string SessionText() {
  json trial = {{"break_mm", 80},         {"break_sd_mm", 1},
                {"recovery_mm", nullptr}, {"recovery_sd_mm", nullptr},
                {"censored", nullptr},    {"approach_speed_mm_s", nullptr},
                {"set_aside", nullptr}};
  return json{{"schema", "nearpoint/session/1"},
              {"started_at", "2026-03-02T07:45:00+01:00"},
              {"trials", {trial, trial}}}
      .dump();
}

Package Example() {
  Package package;
  package.id[3] = 7;
  package.made_at = "2026-03-02T08:00:00Z";
  package.from = "the kitchen laptop";
  package.items = {{ItemKind::kSession, "monday.json", SessionText()},
                   {ItemKind::kNote, "note.txt", "he was tired"}};
  return package;
}

TEST(PackageTest, GoesThroughItsBytes) {
  const Package package = Example();
  const auto read = UnpackBytes(PackBytes(package));
  ASSERT_THAT(read, IsOk());
  EXPECT_EQ(read->id, package.id);
  EXPECT_EQ(read->made_at, package.made_at);
  EXPECT_EQ(read->from, package.from);
  ASSERT_EQ(read->items.size(), 2u);
  EXPECT_EQ(read->items[0].kind, ItemKind::kSession);
  EXPECT_EQ(read->items[0].content, package.items[0].content);
  EXPECT_EQ(read->items[1].name, "note.txt");
}

TEST(PackageTest, EveryOtherLengthIsRefused) {
  const Bytes bytes = PackBytes(Example());
  for (std::size_t size = 0; size < bytes.size(); ++size) {
    EXPECT_FALSE(UnpackBytes(ByteView(bytes).first(size))) << size;
  }
  Bytes longer = bytes;
  longer.push_back(0);
  EXPECT_FALSE(UnpackBytes(longer));
}

TEST(PackageTest, RefusesClaimsAndKindsItDoesNotKnow) {
  const Bytes good = PackBytes(Example());
  const std::size_t count = 16 + 4 + 20 + 4 + 18;  // where the number of items stands
  ASSERT_EQ(good[count], 2);
  Bytes bad = good;
  bad[count + 3] = 0xFF;
  EXPECT_FALSE(UnpackBytes(bad));
  bad = good;
  bad[count + 4] = 99;
  EXPECT_FALSE(UnpackBytes(bad));
  bad[count + 4] = 0;
  EXPECT_FALSE(UnpackBytes(bad));
}

TEST(PackageTest, NamesStayInTheirFolder) {
  for (const char* name : {"", ".", "..", "../x.json", "/etc/passwd", "a/b", "a\\b", "C:x",
                           ".hidden", "a\nb", "a\x7f", "what?", "a*"}) {
    Package package = Example();
    package.items[0].name = name;
    EXPECT_FALSE(CheckPackage(package)) << name;
    EXPECT_FALSE(UnpackBytes(PackBytes(package))) << name;
  }
  Package twice = Example();
  twice.items[1].name = twice.items[0].name;
  EXPECT_THAT(CheckPackage(twice), FailsWith(ErrorCode::kBadValue, HasSubstr("twice")));
  EXPECT_THAT(CheckPackage(Package()), FailsWith(ErrorCode::kBadValue, HasSubstr("nothing")));
  Package large = Example();
  large.items[1].content.resize(kMostPackageBytes);
  EXPECT_THAT(CheckPackage(large), FailsWith(ErrorCode::kBadValue, HasSubstr("64 MB")));
}

TEST(PackageTest, SaysInPlainWordsWhatIsInside) {
  Package package = Example();
  auto words = DescribePackage(package);
  EXPECT_THAT(words, Contains(HasSubstr("2026-03-02T07:45:00+01:00, 2 trials")));
  EXPECT_THAT(words, Contains("No pictures."));
  EXPECT_THAT(words, Contains(HasSubstr("words, 12 characters")));
  package.items.push_back({ItemKind::kPicture, "eyes.png", "..."});
  words = DescribePackage(package);
  EXPECT_THAT(words, Contains("1 picture of the eyes."));
  EXPECT_THAT(words, testing::Not(Contains("No pictures.")));
  package.items[0].content = "{}";
  EXPECT_THAT(DescribePackage(package), Contains(HasSubstr("not readable")));
}

}  // namespace
}  // namespace nearpoint
