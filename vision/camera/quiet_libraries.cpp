#include "vision/camera/quiet_libraries.h"

extern "C" {
#include <libavutil/log.h>
}

#include <cstdlib>
#include <opencv2/core/utils/logger.hpp>

namespace nearpoint {

void KeepLibrariesQuiet() {
  setenv("OPENCV_FFMPEG_LOGLEVEL", "-8", /*overwrite=*/0);
  av_log_set_level(std::atoi(std::getenv("OPENCV_FFMPEG_LOGLEVEL")));
  if (std::getenv("OPENCV_LOG_LEVEL") == nullptr) {
    cv::utils::logging::setLogLevel(cv::utils::logging::LOG_LEVEL_SILENT);
  }
}

}  // namespace nearpoint
