// The keyring of the system. Whether one is running, the test is told by keyring_test in
// CMakeLists.txt: on a bus of its own it never touches that of the person at the computer.
#include "app/keyring/keyring.h"

#include <gmock/gmock.h>

#include <QCoreApplication>
#include <QEventLoop>
#include <cstdlib>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

class KeyringTest : public testing::Test {
 protected:
  Result<std::optional<QByteArray>> Read(const QString& name) {
    std::optional<Result<std::optional<QByteArray>>> answer;
    QEventLoop loop;
    keyring_->Read(name, &loop, [&](auto found) {
      answer = std::move(found);
      loop.quit();
    });
    if (!answer) loop.exec();
    return *answer;
  }
  Result<void> Write(const QString& name, const QByteArray& secret) {
    std::optional<Result<void>> answer;
    QEventLoop loop;
    keyring_->Write(name, secret, &loop, [&](Result<void> done) {
      answer = std::move(done);
      loop.quit();
    });
    if (!answer) loop.exec();
    return *answer;
  }
  Result<void> Remove(const QString& name) {
    std::optional<Result<void>> answer;
    QEventLoop loop;
    keyring_->Remove(name, &loop, [&](Result<void> done) {
      answer = std::move(done);
      loop.quit();
    });
    if (!answer) loop.exec();
    return *answer;
  }
  static bool IsRunning() { return std::getenv("NEARPOINT_KEYRING_RUNS") != nullptr; }

  int argc_ = 0;
  QCoreApplication application_{argc_, nullptr};
  std::unique_ptr<Keyring> keyring_ = SystemKeyring();
};

TEST_F(KeyringTest, WithoutOneEveryCallSaysSo) {
  if (IsRunning()) GTEST_SKIP() << "a keyring is running here";
  EXPECT_THAT(Read("token"), FailsWith(ErrorCode::kUnavailable, HasSubstr("keyring")));
  EXPECT_THAT(Write("token", "secret"), FailsWith(ErrorCode::kUnavailable, HasSubstr("keyring")));
  EXPECT_THAT(Remove("token"), FailsWith(ErrorCode::kUnavailable, HasSubstr("keyring")));
}

TEST_F(KeyringTest, ASecretComesBackUntilItIsRemoved) {
  if (!IsRunning()) GTEST_SKIP() << "no keyring is running here";
  const QByteArray secret("a \0 token\xff", 10);
  EXPECT_EQ(Read("token").value(), std::nullopt);
  EXPECT_THAT(Write("token", secret), IsOk());
  EXPECT_EQ(Read("token").value(), secret);
  EXPECT_EQ(Read("another").value(), std::nullopt);
  EXPECT_THAT(Write("token", "newer"), IsOk());
  EXPECT_EQ(Read("token").value(), QByteArray("newer"));
  EXPECT_THAT(Remove("token"), IsOk());
  EXPECT_EQ(Read("token").value(), std::nullopt);
  EXPECT_THAT(Remove("token"), IsOk());
}

// Whoever asked may be gone before the answer.
TEST_F(KeyringTest, NobodyIsAnsweredAfterTheyLeft) {
  bool answered = false;
  {
    QObject who;
    keyring_->Read("token", &who, [&](const auto&) { answered = true; });
  }
  static_cast<void>(Read("token"));
  EXPECT_FALSE(answered);
}

}  // namespace
}  // namespace nearpoint
