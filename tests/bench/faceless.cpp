// nearpoint_bench_faceless [--cut CLIP]... FOLDER...: how often the tracker gives a distance where
// nobody is. Every picture of the folders (and the folders in them) is shown whole, in parts,
// flipped and tilted, and in a pan; then rooms of the simulated patient without the patient; then
// clips with each frame's face filled with what surrounds it. Pictures with people in them must not
// be in the folders; kWithPeople leaves out those of one collection that has some. Extra: nothing
// in the project needs such a folder.
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <map>
#include <opencv2/core/utils/logger.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <regex>
#include <string>
#include <vector>

#include "app/run/setup_tracker.h"
#include "models/landmark_model.h"
#include "tests/bench/faceless_views.h"
#include "tests/bench/false_answers.h"
#include "tests/bench/guessed_profile.h"
#include "vision/camera/open_source.h"
#include "vision/face/face_finder.h"
#include "vision/simulate/renderer.h"

namespace {

using namespace nearpoint;  // NOLINT
namespace fs = std::filesystem;
using bench::FalseAnswers;

const cv::Size kCamera{640, 480};
constexpr int kSmallest = 48;  // pixels; what is smaller is an icon or a palette
constexpr int kLargest = 1600;
constexpr Time kFrame = std::chrono::microseconds(33333);
constexpr Time kAfresh = std::chrono::seconds(10);  // beyond what the tracker remembers
constexpr int kRooms = 100;
constexpr int kRoomFrames = 5;

// Of python3-skimage's data; lfw_subset.npy (faces) is no picture file.
const std::map<std::string, std::string> kWithPeople{
    {"astronaut.png", "portrait of a woman"},
    {"camera.png", "a man behind a camera"},
    {"no_time_for_that_tiny.gif", "a person, from a film"},
};

bool IsPicture(const fs::path& file) {
  static const std::regex kEnding("\\.(png|jpe?g|webp|tiff?|bmp)", std::regex::icase);
  return std::regex_match(file.extension().string(), kEnding);
}

// One wallpaper often stands in a folder in many sizes, which its names tell: the largest one
// counts.
struct SizedName {
  std::string without_size;
  long area = 0;
};
std::optional<SizedName> SizeInName(const fs::path& file) {
  static const std::regex kSize("(\\d{3,5})x(\\d{3,5})");
  std::smatch match;
  const std::string name = file.string();
  if (!std::regex_search(name, match, kSize)) return std::nullopt;
  return SizedName{match.prefix().str() + match.suffix().str(),
                   std::stol(match[1]) * std::stol(match[2])};
}

std::vector<fs::path> PicturesIn(const std::vector<std::string>& folders) {
  std::vector<fs::path> pictures;
  std::map<std::string, std::pair<long, fs::path>> largest;
  for (const std::string& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
      const fs::path& file = entry.path();
      const bool preview = file.stem() == "screenshot";  // of the wallpaper beside it
      if (!entry.is_regular_file() || entry.is_symlink() || !IsPicture(file) || preview) continue;
      if (const auto sized = SizeInName(file)) {
        auto& best = largest[sized->without_size];
        best = std::max(best, {sized->area, file});
      } else {
        pictures.push_back(file);
      }
    }
  }
  for (const auto& [name, picture] : largest) pictures.push_back(picture.second);
  std::sort(pictures.begin(), pictures.end());
  pictures.erase(std::unique(pictures.begin(), pictures.end()), pictures.end());
  return pictures;
}

// 8-bit BGR, what is transparent on grey; empty when it cannot be read.
cv::Mat ReadPicture(const fs::path& file) {
  cv::Mat picture;
  try {
    picture = cv::imread(file.string(), cv::IMREAD_UNCHANGED);
    if (picture.empty()) return picture;
    if (picture.depth() != CV_8U) {
      picture = cv::imread(file.string(), cv::IMREAD_COLOR);
    } else if (picture.channels() == 4) {
      cv::Mat bgr, alpha, out(picture.size(), CV_8UC3, cv::Scalar::all(128));
      cv::cvtColor(picture, bgr, cv::COLOR_BGRA2BGR);
      cv::extractChannel(picture, alpha, 3);
      bgr.copyTo(out, alpha > 127);
      picture = out;
    } else if (picture.channels() == 1) {
      cv::cvtColor(picture, picture, cv::COLOR_GRAY2BGR);
    } else if (picture.channels() != 3) {
      picture = cv::imread(file.string(), cv::IMREAD_COLOR);
    }
  } catch (const cv::Exception&) {
    return {};
  }
  const int side = std::max(picture.cols, picture.rows);
  if (side > kLargest) {
    cv::resize(picture, picture, {}, double(kLargest) / side, double(kLargest) / side,
               cv::INTER_AREA);
  }
  return picture;
}

// One tracker for all: after a gap in time it knows nothing of what it saw before.
class Watcher {
 public:
  static Result<Watcher> Create(cv::Size size) {
    auto tracker = MakeTracker(bench::GuessedProfile(size.width, size.height));
    if (!tracker) return tl::unexpected(tracker.error());
    return Watcher(*std::move(tracker));
  }

  void StartSequence(FalseAnswers* count) {
    now_ += kAfresh;
    count->StartSequence();
  }

  Result<void> See(const std::string& place, cv::Mat bgr, FalseAnswers* count) {
    now_ += kFrame;
    const auto sample = tracker_.Process(Frame(index_++, now_, std::move(bgr)));
    if (!sample) return tl::unexpected(sample.error());
    count->Add(place, sample->distance.has_value());
    if (sample->distance) distances_[place].push_back(sample->distance->value.mm());
    return {};
  }

  // Millimetres of every answer at this place.
  [[nodiscard]] const std::vector<double>& DistancesAt(const std::string& place) {
    return distances_[place];
  }

 private:
  explicit Watcher(SetupTracker tracker) : tracker_(std::move(tracker)) {}
  SetupTracker tracker_;
  Time now_{};
  std::int64_t index_ = 0;
  std::map<std::string, std::vector<double>> distances_;
};

void Print(const char* title, const FalseAnswers& count, Watcher* watcher) {
  std::printf(
      "%s: %lld frames, a distance in %lld (%.1f in 10,000); %lld times in two frames in a "
      "row or more\n",
      title, static_cast<long long>(count.frames()), static_cast<long long>(count.answers()),
      1e4 * double(count.answers()) / double(std::max<std::int64_t>(1, count.frames())),
      static_cast<long long>(count.lasting()));
  for (const auto& [place, answers] : count.places()) {
    std::vector<double> mm = watcher->DistancesAt(place);
    const auto [nearest, farthest] = std::minmax_element(mm.begin(), mm.end());
    std::printf("  %s: %d, %.0f to %.0f mm\n", place.c_str(), answers, *nearest, *farthest);
  }
  std::fflush(stdout);
}

Result<void> WatchPictures(const std::vector<std::string>& folders, Watcher* watcher) {
  FalseAnswers count;
  int read = 0, unreadable = 0, small = 0;
  std::string left_out;
  for (const fs::path& file : PicturesIn(folders)) {
    if (const auto person = kWithPeople.find(file.filename().string());
        person != kWithPeople.end()) {
      left_out += (left_out.empty() ? "" : "; ") + person->first + ": " + person->second;
      continue;
    }
    const cv::Mat picture = ReadPicture(file);
    unreadable += picture.empty();
    small += !picture.empty() && std::min(picture.cols, picture.rows) < kSmallest;
    if (picture.empty() || std::min(picture.cols, picture.rows) < kSmallest) continue;
    for (const auto& sequence : bench::ViewsOf(picture, kCamera, std::uint64_t(read))) {
      watcher->StartSequence(&count);
      for (const cv::Mat& frame : sequence) {
        if (auto seen = watcher->See(file.string(), frame.clone(), &count); !seen) return seen;
      }
    }
    ++read;
  }
  std::printf("%d pictures; %d cannot be read, %d are smaller than %d pixels; left out: %s\n", read,
              unreadable, small, kSmallest, left_out.empty() ? "none" : left_out.c_str());
  Print("pictures", count, watcher);
  return {};
}

Result<void> WatchRooms(Watcher* watcher) {
  FalseAnswers count;
  cv::RNG random(1);
  for (int room = 0; room < kRooms; ++room) {
    const cv::Mat painted = simulate::PaintRoom(kCamera, std::uint64_t(room + 1));
    cv::Mat lit;
    painted.convertTo(lit, -1, random.uniform(0.3, 1.2));
    watcher->StartSequence(&count);
    for (int i = 0; i < kRoomFrames; ++i) {
      if (auto seen = watcher->See("room " + std::to_string(room + 1),
                                   bench::WithNoise(lit, random), &count);
          !seen) {
        return seen;
      }
    }
  }
  Print("simulated rooms", count, watcher);
  return {};
}

// Covers the face of every frame: the box that the face detector finds, and those of the frames
// before, grown by half. Frames before the first face are left out.
class FaceCover {
 public:
  explicit FaceCover(const FaceFinder& finder) : finder_(finder) {}

  bool Cover(cv::Mat* bgr) {
    cv::Mat grey;
    cv::cvtColor(*bgr, grey, cv::COLOR_BGR2GRAY);
    cv::resize(grey, grey, {}, kEnlarge, kEnlarge, cv::INTER_LINEAR);
    if (const auto box = finder_.Detect(grey, 1)) {
      const double half = 0.5 * kGrow * box->side_px / kEnlarge;
      const cv::Point2d middle(box->centre_px.x() / kEnlarge, box->centre_px.y() / kEnlarge);
      last_ = cv::Rect(cv::Point(int(middle.x - half), int(middle.y - half)),
                       cv::Point(int(middle.x + half), int(middle.y + half)));
    }
    if (!last_) return false;
    bench::CutOut(*last_, bgr);
    return true;
  }

 private:
  static constexpr double kEnlarge = 1.5;
  static constexpr double kGrow = 1.5;
  const FaceFinder& finder_;
  std::optional<cv::Rect> last_;
};

Result<void> WatchClip(const std::string& file, const FaceFinder& finder) {
  auto source = OpenSource(file);
  if (!source) return tl::unexpected(source.error());
  auto watcher = Watcher::Create({(*source)->info().width, (*source)->info().height});
  if (!watcher) return tl::unexpected(watcher.error());
  FalseAnswers count;
  FaceCover cover(finder);
  cv::RNG random(1);
  watcher->StartSequence(&count);
  while (true) {
    const auto frame = (*source)->Next();
    if (!frame) std::printf("%s breaks off: %s\n", file.c_str(), frame.error().message.c_str());
    if (!frame || !*frame) break;
    cv::Mat bgr = (*frame)->bgr().clone();
    if (!cover.Cover(&bgr)) continue;
    if (auto seen = watcher->See("frames without the face", bench::WithNoise(bgr, random), &count);
        !seen) {
      return seen;
    }
  }
  Print(file.c_str(), count, &*watcher);
  return {};
}

Result<void> Run(const std::vector<std::string>& folders, const std::vector<std::string>& clips) {
  auto watcher = Watcher::Create(kCamera);
  if (!watcher) return tl::unexpected(watcher.error());
  if (auto done = WatchRooms(&*watcher); !done) return done;
  if (!clips.empty()) {
    const auto model = FindLandmarkModel();
    if (!model) return tl::unexpected(model.error());
    const auto finder = FaceFinder::Load(*model);
    if (!finder) return tl::unexpected(finder.error());
    for (const std::string& clip : clips) {
      if (auto done = WatchClip(clip, *finder); !done) return done;
    }
  }
  if (folders.empty()) return {};
  return WatchPictures(folders, &*watcher);
}

}  // namespace

int main(int argc, char** argv) {
  cv::utils::logging::setLogLevel(cv::utils::logging::LOG_LEVEL_SILENT);
  std::vector<std::string> folders, clips;
  for (int i = 1; i < argc; ++i) {
    const bool clip = std::string(argv[i]) == "--cut" && i + 1 < argc;
    if (clip) {
      clips.emplace_back(argv[++i]);
    } else {
      folders.emplace_back(argv[i]);
    }
  }
  for (const std::string& folder : folders) {
    if (fs::is_directory(folder)) continue;
    std::fprintf(stderr,
                 "%s: no such folder.\nusage: nearpoint_bench_faceless [--cut CLIP]... FOLDER...\n",
                 folder.c_str());
    return 2;
  }
  const auto done = Run(folders, clips);
  if (!done) {
    std::fprintf(stderr, "%s\n", done.error().message.c_str());
    return 1;
  }
  return 0;
}
