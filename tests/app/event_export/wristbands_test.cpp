// The printed sheet, looked at as a camera would: each code gives its child's number.
#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>

#include "app/event_export/wristbands_pdf.h"
#include "app/event_qr/qr_code.h"
#include "app/event_qr/wristband.h"
#include "tests/support/run_program.h"

namespace nearpoint {
namespace {

EventState Children(int count) {
  EventState state;
  state.uuid = "1a2b3c4d-0000-4000-8000-000000000000";
  state.event.name = "Hall";
  for (int i = 1; i <= count; ++i) {
    ChildState child;
    child.child.number = std::to_string(100 + i);
    child.child.name = "Zoë Müller";
    child.child.group = "3a";
    state.children.push_back(child);
  }
  return state;
}

TEST(WristbandsTest, EveryLabelIsReadFromThePaper) {
  const EventState state = Children(4);
  const auto pdf = WristbandsPdf(state);
  ASSERT_TRUE(pdf);
  const TempFolder folder;
  const std::string file = folder.Write("bands.pdf", *pdf);
  ASSERT_EQ(RunProgram("/usr/bin/pdftoppm",
                       {"-r", "150", "-gray", "-png", "-singlefile", file, folder / "page"})
                .status,
            0);
  const cv::Mat page = cv::imread(folder / "page.png", cv::IMREAD_GRAYSCALE);
  ASSERT_FALSE(page.empty());
  const double dots = 150 / 25.4;  // a millimetre
  for (int i = 0; i < 4; ++i) {
    const int row = i / 3;
    const cv::Rect label(static_cast<int>((12 + i % 3 * 60) * dots),
                         static_cast<int>((12 + row * 36) * dots), static_cast<int>(31 * dots),
                         static_cast<int>(36 * dots));
    const auto text = ReadQrCode(page(label));
    ASSERT_TRUE(text) << i;
    const auto band = ReadWristband(*text, state.uuid);
    ASSERT_TRUE(band);
    EXPECT_TRUE(band->of_this_event);
    EXPECT_EQ(band->number, state.children[static_cast<std::size_t>(i)].child.number);
  }
}

TEST(WristbandsTest, WhoWasMeasuredNeedsNone) {
  EventState state = Children(1);
  state.children[0].measurements.emplace_back();
  state.children[0].counts = 0;
  EXPECT_FALSE(WristbandsPdf(state));
}

TEST(WristbandsTest, NoLabelForAChildWhoseParentsSaidNo) {
  EventState state = Children(1);
  state.children[0].consent = ConsentTaken{true, "form"};
  EXPECT_TRUE(WristbandsPdf(state));
  state.children[0].consent = ConsentTaken{false, "form"};
  EXPECT_FALSE(WristbandsPdf(state));
}

}  // namespace
}  // namespace nearpoint
