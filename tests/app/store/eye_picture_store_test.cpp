#include "app/store/eye_picture_store.h"

#include <gmock/gmock.h>

#include <QTimeZone>

#include "tests/app/window/stored_session.h"
#include "tests/support/eye_jpeg.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

class EyePictureStoreTest : public testing::Test {
 protected:
  RowId Somebody(const char* name) {
    Person person;
    person.name = name;
    return store_.AddPerson(person)->id;
  }
  [[nodiscard]] std::string WholeFile() const { return folder_.Read("a.db"); }

  TempFolder folder_;
  Store store_ = Store::Open(QString::fromStdString(folder_ / "a.db"), [] {
                   return QDateTime(QDate(2026, 3, 14), QTime(9, 26), QTimeZone::utc());
                 }).value();
  EyePictureStore pictures_{store_};
};

TEST_F(EyePictureStoreTest, NobodyAgreedUntilTheySaySo) {
  const RowId mira = Somebody("Mira");
  const RowId deniz = Somebody("Deniz");
  EXPECT_FALSE(pictures_.MayBeKept(mira));
  EXPECT_FALSE(pictures_.MayBeKept(0));
  EXPECT_THAT(pictures_.SetMayBeKept(mira, true), IsOk());
  EXPECT_TRUE(pictures_.MayBeKept(mira));
  EXPECT_FALSE(pictures_.MayBeKept(deniz));
  EXPECT_FALSE(pictures_.SetMayBeKept(0, true));
  EXPECT_THAT(pictures_.SetMayBeKept(mira, false), IsOk());
  EXPECT_FALSE(pictures_.MayBeKept(mira));
}

TEST_F(EyePictureStoreTest, GivesPicturesBackAndDeletesThemForGood) {
  const RowId mira = Somebody("Mira");
  const RowId deniz = Somebody("Deniz");
  const RowId hers = AddSession(store_, mira, {ComputedTrial(1, 92, 121)});
  const RowId other = AddSession(store_, deniz, {ComputedTrial(1, 92, 121)});
  const std::string jpeg = EyeJpeg(7);
  EXPECT_THAT(pictures_.Add(hers, {1, EyeMoment::kRecovery, EyeJpeg(3)}), IsOk());
  EXPECT_THAT(pictures_.Add(hers, {1, EyeMoment::kBreak, jpeg}), IsOk());
  EXPECT_THAT(pictures_.Add(other, {1, EyeMoment::kBreak, EyeJpeg(9)}), IsOk());
  const auto got = pictures_.Of(hers);
  ASSERT_THAT(*got, SizeIs(2));
  EXPECT_EQ(got->front().moment, EyeMoment::kBreak);
  EXPECT_EQ(got->front().jpeg, jpeg);
  EXPECT_EQ(pictures_.CountOf(mira), 2);

  EXPECT_THAT(pictures_.DeleteAll(mira), IsOk());
  EXPECT_EQ(pictures_.CountOf(mira), 0);
  EXPECT_EQ(pictures_.CountOf(deniz), 1);
  EXPECT_THAT(WholeFile(), Not(HasSubstr(jpeg.substr(jpeg.size() / 2, 64))));
  EXPECT_THAT(store_.Trials(hers).value(), SizeIs(1));
}

TEST_F(EyePictureStoreTest, TakesNothingElse) {
  const RowId session = AddSession(store_, Somebody("Mira"), {ComputedTrial(1, 92, 121)});
  EXPECT_FALSE(pictures_.Add(session, {1, EyeMoment::kBreak, "\xff\xd8 and no more"}));
  EXPECT_FALSE(pictures_.Add(session, {2, EyeMoment::kBreak, EyeJpeg(1)}));  // no such trial
  EXPECT_THAT(pictures_.Of(session).value(), IsEmpty());
}

TEST(EyePicture, IsASmallGreyStripOrNothing) {
  EXPECT_TRUE(IsEyePicture(EyeJpeg(1)));
  EXPECT_TRUE(IsEyePicture(EyeJpeg(1, 320, 160)));
  EXPECT_FALSE(IsEyePicture(EyeJpeg(1, 640, 480)));  // a face would have room in it
  EXPECT_FALSE(IsEyePicture(EyeJpeg(1, 320, 80, /*grey=*/false)));
  EXPECT_FALSE(IsEyePicture(""));
  EXPECT_FALSE(IsEyePicture("GIF89a"));
  const std::string whole = EyeJpeg(1);
  // Cut off before its size is said.
  constexpr std::size_t kHeader = 89;
  for (std::size_t size = 0; size < kHeader; ++size) {
    EXPECT_FALSE(IsEyePicture(whole.substr(0, size))) << size;
  }
  EXPECT_FALSE(IsEyePicture(whole + std::string(60000, 'x')));
}

}  // namespace
}  // namespace nearpoint
