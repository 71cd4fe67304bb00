#include "vision/camera/image_folder_source.h"

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>
#include <string>
#include <utility>
#include <vector>

#include "vision/camera/quiet_libraries.h"

namespace nearpoint {
namespace {

struct Entry {
  std::string file;
  Time time;
};

std::string At(const std::filesystem::path& list, std::size_t line) {
  return list.string() + ", line " + std::to_string(line);
}

Result<Entry> ParseEntry(const std::string& text, const std::string& where) {
  const auto json = nlohmann::json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object()) {
    return Fail(
        ErrorCode::kBadValue,
        where + ": not a JSON object; expected {\"file\": \"000001.jpg\", \"t_ms\": 33.3}.");
  }
  const auto file = json.find("file");
  if (file == json.end() || !file->is_string() || file->get<std::string>().empty()) {
    return Fail(ErrorCode::kBadValue, where + ": \"file\" must be the name of an image.");
  }
  const auto time = json.find("t_ms");
  if (time == json.end() || !time->is_number()) {
    return Fail(ErrorCode::kBadValue,
                where + ": \"t_ms\" must be the capture time in milliseconds, a number.");
  }
  const double t_ms = time->get<double>();
  if (!std::isfinite(t_ms) || std::abs(t_ms) > 1e12) {
    return Fail(ErrorCode::kBadValue, where + ": \"t_ms\" is beyond any clock.");
  }
  return Entry{file->get<std::string>(), FromMilliseconds(t_ms)};
}

Result<std::vector<Entry>> ReadList(const std::filesystem::path& list) {
  std::ifstream in(list);
  if (!in) {
    return Fail(
        ErrorCode::kNotFound,
        list.string() + ": cannot be read; a folder of images needs this list of its frames.");
  }
  std::vector<Entry> entries;
  std::string text;
  for (std::size_t line = 1; std::getline(in, text); ++line) {
    if (text.find_first_not_of(" \t\r") == std::string::npos) continue;
    auto entry = ParseEntry(text, At(list, line));
    if (!entry) return tl::unexpected(entry.error());
    if (!entries.empty() && entry->time <= entries.back().time) {
      return Fail(ErrorCode::kBadValue,
                  At(list, line) + ": \"t_ms\" must be later than on the line before.");
    }
    entries.push_back(*std::move(entry));
  }
  if (entries.empty()) {
    return Fail(ErrorCode::kBadValue,
                list.string() + ": the list is empty; expected one line a frame.");
  }
  return entries;
}

class ImageFolderSource final : public FrameSource {
 public:
  ImageFolderSource(std::filesystem::path folder, std::vector<Entry> entries)
      : folder_(std::move(folder)), entries_(std::move(entries)) {
    info_.description = "images of " + folder_.string();
    info_.frame_count = static_cast<std::int64_t>(entries_.size());
  }

  // Reads up to the first image that can be decoded: it gives the size.
  Result<void> Start() {
    auto first = Read();
    if (!first) return tl::unexpected(first.error());
    if (!*first) {
      return Fail(ErrorCode::kNotFound,
                  folder_.string() + ": not one image of frames.jsonl can be read.");
    }
    ahead_ = *std::move(first);
    info_.width = ahead_->bgr().cols;
    info_.height = ahead_->bgr().rows;
    info_.description +=
        ", " + std::to_string(info_.width) + "x" + std::to_string(info_.height) + " pixels";
    return {};
  }

  const SourceInfo& info() const override { return info_; }

  Result<std::optional<Frame>> Next() override {
    if (ahead_) return std::exchange(ahead_, std::nullopt);
    if (error_) return tl::unexpected(*error_);
    auto frame = Read();
    if (!frame) {
      error_ = frame.error();
      return frame;
    }
    return frame;
  }

 private:
  Result<std::optional<Frame>> Read() {
    std::int64_t skipped = 0;
    while (next_ < entries_.size()) {
      const std::size_t index = next_++;
      const std::filesystem::path file = folder_ / entries_[index].file;
      cv::Mat bgr;
      try {
        bgr = cv::imread(file.string(), cv::IMREAD_COLOR);
      } catch (const cv::Exception&) {
        bgr.release();  // a size that OpenCV refuses to allocate: as unreadable as a damaged file
      }
      if (bgr.empty()) {
        ++skipped;
        ++info_.unreadable;
        continue;
      }
      if (info_.width != 0 && (bgr.cols != info_.width || bgr.rows != info_.height)) {
        return Fail(ErrorCode::kBadValue,
                    file.string() + ": the image is " + std::to_string(bgr.cols) + "x" +
                        std::to_string(bgr.rows) + " pixels, the first one " +
                        std::to_string(info_.width) + "x" + std::to_string(info_.height) +
                        "; all images of a folder must have one size.");
      }
      return std::optional<Frame>(std::in_place, static_cast<std::int64_t>(index),
                                  entries_[index].time, std::move(bgr), skipped);
    }
    return std::optional<Frame>();
  }

  std::filesystem::path folder_;
  std::vector<Entry> entries_;
  std::size_t next_ = 0;
  std::optional<Frame> ahead_;
  std::optional<Error> error_;
  SourceInfo info_;
};

}  // namespace

Result<std::unique_ptr<FrameSource>> OpenImageFolder(const std::filesystem::path& folder) {
  KeepLibrariesQuiet();
  auto entries = ReadList(folder / "frames.jsonl");
  if (!entries) return tl::unexpected(entries.error());
  auto source = std::make_unique<ImageFolderSource>(folder, *std::move(entries));
  if (auto started = source->Start(); !started) return tl::unexpected(started.error());
  return source;
}

}  // namespace nearpoint
