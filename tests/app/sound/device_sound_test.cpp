// On a machine without a sound device, as CI has, everything is quiet and nothing fails.
#include "app/sound/device_sound.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

TEST(DeviceSoundTest, WorksWithoutADevice) {
  DeviceSound sound{QLocale(QLocale::German)};
  sound.SetPace(PaceTone::kGood, 0.5);
  sound.PlayHeard(true);
  sound.Say("Hallo");
  sound.SetOn(false);
  EXPECT_FALSE(sound.on());
  sound.SetOn(true);
  EXPECT_TRUE(sound.on());
  if (!sound.has_device()) {
    EXPECT_FALSE(sound.has_voice());
  }
}

TEST(ToneStreamTest, AlwaysHasMoreToGive) {
  ToneStream stream;
  ASSERT_TRUE(stream.open(QIODevice::ReadOnly | QIODevice::Unbuffered));
  EXPECT_TRUE(stream.isSequential());
  for (const qint64 size : {2, 1000, 8192}) EXPECT_EQ(stream.read(size).size(), size);
  stream.PlayHeard(true);
  EXPECT_NE(stream.read(4000).count('\0'), 4000);
}

}  // namespace
}  // namespace nearpoint
