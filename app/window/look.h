// Colours, sizes and the style sheet, in one place. Every pair of text and ground that is used has
// a contrast of at least 4.5 (WCAG 2.1, 1.4.3); the signal colours stay apart without red-green
// vision, and none of them is ever the only sign. tests/app/window/look_test.cpp computes both.
#pragma once

#include <QColor>
#include <QFont>
#include <QString>

namespace nearpoint::look {

inline constexpr QColor kPaper{250, 248, 243};   // the ground of every page
inline constexpr QColor kCard{255, 255, 255};    // raised parts
inline constexpr QColor kInk{28, 37, 48};        // text
inline constexpr QColor kQuietInk{76, 87, 101};  // second text
inline constexpr QColor kLine{217, 212, 200};    // hairlines
inline constexpr QColor kDeep{18, 72, 102};      // the next step; what is measured
inline constexpr QColor kDeepHover{11, 55, 80};
inline constexpr QColor kSoft{221, 234, 241};  // a band, a chosen thing
inline constexpr QColor kWarm{168, 84, 12};    // "slower", practice, take care
inline constexpr QColor kWarmSoft{252, 236, 214};
inline constexpr QColor kStop{140, 29, 64};  // stop and see someone
inline constexpr QColor kStopSoft{248, 227, 234};

// Sizes in points at 100 %; the person's text size multiplies them.
[[nodiscard]] double Scale();  // 1 .. 2
void SetScale(double scale);
[[nodiscard]] bool IsLarge();  // what stood side by side now stands one below the other
[[nodiscard]] int Px(double at_100_percent);  // a length that grows with the text
// Of drawings that must fit into one window: grows less than the text, since what is large already
// needs it less.
[[nodiscard]] int Art(double at_100_percent);
[[nodiscard]] QFont Body();
[[nodiscard]] QFont Large();    // lead sentences, buttons
[[nodiscard]] QFont Heading();  // this and the next grow to 1.5 and 1.3: large from the start
[[nodiscard]] QFont Huge();     // one word to be read from afar

[[nodiscard]] QString StyleSheet();

}  // namespace nearpoint::look
