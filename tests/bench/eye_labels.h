// What the eyes do in frames of real people, as a person who looked at each frame saw it: a table
// of frame and label. The pictures stand elsewhere.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint::bench {

enum class Lids {
  kOpen,     // the pupil is free, or as good as free where it is too small to be told
  kHalf,     // the lids reach over the pupil; something of the iris is left
  kClosed,   // nothing of the iris is seen
  kHidden,   // covered, or turned away behind the nose
  kOutside,  // not in the picture
};
[[nodiscard]] std::string_view ToText(Lids lids);

struct EyeLabel {
  std::string clip;          // name of the file
  std::int64_t frame = 0;    // in the order in which frames are shown, from 0
  Lids left_eye, right_eye;  // the patient's
  bool head_turned = false;  // sideways by more than about 20 degrees

  [[nodiscard]] bool BothAre(Lids lids) const { return left_eye == lids && right_eye == lids; }
};

// CSV with the header clip,frame,left_eye,right_eye,head; eyes are "open", "half", "closed",
// "hidden" or "outside", the head "frontal" or "turned". Rows of one clip stand together, frames
// rising. where: the file, for messages. Errors: kBadValue, naming the line.
[[nodiscard]] Result<std::vector<EyeLabel>> ParseEyeLabels(std::string_view csv,
                                                           const std::string& where);

// Adds kNotFound and kUnreadable for the file itself.
[[nodiscard]] Result<std::vector<EyeLabel>> ReadEyeLabels(const std::string& file);

}  // namespace nearpoint::bench
