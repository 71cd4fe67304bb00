#include "app/exchange/key_store.h"

#include <gmock/gmock.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

unsigned ModeOf(const std::string& path) {
  struct stat status {};
  return stat(path.c_str(), &status) == 0 ? status.st_mode & 0777 : 0;
}

class KeyStoreTest : public testing::Test {
 protected:
  TempFolder work_;
  KeyStore store_{work_ / "deep/keys"};
};

TEST_F(KeyStoreTest, KeysAreForTheirOwnerAlone) {
  const auto made = store_.Create("Kim's laptop");
  ASSERT_THAT(made, IsOk());
  EXPECT_EQ(ModeOf(store_.folder()), 0700u);
  EXPECT_EQ(ModeOf(store_.folder() + "/identity.json"), 0600u);
  const auto read = store_.Load();
  ASSERT_THAT(read, IsOk());
  EXPECT_EQ(read->name, "Kim's laptop");
  EXPECT_EQ(read->identity.card(), made->identity.card());
  EXPECT_EQ(read->identity.box_secret(), made->identity.box_secret());
}

TEST_F(KeyStoreTest, KeysAreNotReplacedAndNotSharedUnawares) {
  EXPECT_THAT(store_.Load(), FailsWith(ErrorCode::kNotFound, HasSubstr("nearpoint keys new")));
  ASSERT_THAT(store_.Create("a"), IsOk());
  EXPECT_THAT(store_.Create("b"), FailsWith(ErrorCode::kBadValue, HasSubstr("keys already")));
  chmod((store_.folder() + "/identity.json").c_str(), 0644);
  EXPECT_THAT(store_.Load(), FailsWith(ErrorCode::kBadValue, HasSubstr("chmod 600")));
}

TEST_F(KeyStoreTest, ADamagedFileIsNamedAndItsSecretIsNotShown) {
  ASSERT_THAT(store_.Create("a"), IsOk());
  const std::string file = store_.folder() + "/identity.json";
  std::stringstream content;
  content << std::ifstream(file).rdbuf();
  std::string text = content.str();
  const std::size_t at = text.find("box_secret") + 14;
  const std::string secret = text.substr(at, 20);
  text[at + 30] = '!';
  std::ofstream(file) << text;
  const auto read = store_.Load();
  EXPECT_THAT(read, FailsWith(ErrorCode::kNotFound,
                              AllOf(HasSubstr("identity.json"), HasSubstr("box_secret"),
                                    Not(HasSubstr(secret)))));
}

TEST_F(KeyStoreTest, RemembersOthers) {
  const Card a = Identity::Draw().card();
  const Card b = Identity::Draw().card();
  EXPECT_TRUE(store_.Contacts()->empty());
  EXPECT_THAT(store_.AddContact("Dr. Ade", a), IsOk());
  EXPECT_THAT(store_.AddContact("Dr. Ade", a), IsOk());
  EXPECT_THAT(store_.AddContact("school", b), IsOk());
  EXPECT_EQ(ModeOf(store_.folder() + "/contacts.json"), 0600u);
  EXPECT_EQ(store_.Contacts()->size(), 2u);
  EXPECT_EQ(*store_.FindContact("school"), b);
  EXPECT_EQ(*store_.NameOf(a), "Dr. Ade");
  EXPECT_FALSE(store_.NameOf(Identity::Draw().card())->has_value());
  // Another key under a known name is what an attacker would send.
  EXPECT_THAT(store_.AddContact("Dr. Ade", b),
              FailsWith(ErrorCode::kBadValue, HasSubstr("another card")));
  EXPECT_THAT(store_.AddContact("same card", b),
              FailsWith(ErrorCode::kBadValue, HasSubstr("school")));
  EXPECT_THAT(store_.FindContact("nobody"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("Dr. Ade, school")));
  EXPECT_THAT(store_.RemoveContact("school"), IsOk());
  EXPECT_THAT(store_.RemoveContact("school"), FailsWith(ErrorCode::kNotFound, HasSubstr("school")));
  EXPECT_THAT(store_.AddContact("", b), FailsWith(ErrorCode::kBadValue, HasSubstr("name")));
  EXPECT_THAT(store_.AddContact("a\nb", b), FailsWith(ErrorCode::kBadValue, HasSubstr("name")));
}

TEST_F(KeyStoreTest, ADamagedListIsNamed) {
  std::filesystem::create_directories(store_.folder());
  std::ofstream(store_.folder() + "/contacts.json")
      << R"({"schema": "nearpoint/contacts/1", "contacts": [{"name": "a", "card": "x"}]})";
  EXPECT_THAT(store_.Contacts(), FailsWith(ErrorCode::kBadValue, HasSubstr("contacts[0].card")));
}

TEST_F(KeyStoreTest, SaysWhereItCannotWrite) {
  const KeyStore store(work_.Write("file", "") + "/keys");
  EXPECT_THAT(store.Create("a"), FailsWith(ErrorCode::kNotWritable, HasSubstr("keys")));
}

}  // namespace
}  // namespace nearpoint
