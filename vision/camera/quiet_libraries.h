// FFmpeg and OpenCV print what they think of a damaged file or a busy camera; the one sentence of
// the Error is what a person gets.
#pragma once

namespace nearpoint {

// Before the first video of the process. A person who looks for a fault sets OPENCV_FFMPEG_LOGLEVEL
// and OPENCV_LOG_LEVEL, which are left as they are.
void KeepLibrariesQuiet();

}  // namespace nearpoint
