// Sizes of paper, without Qt.
#pragma once

namespace nearpoint {

enum class PaperSize { kA4, kLetter };  // 210 x 297 mm; 8.5 x 11 inches

}  // namespace nearpoint
