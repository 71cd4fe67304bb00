// nearpoint_bench_real FOLDER [TABLE]: tracks clips and portraits of real people whose frames were
// labelled by eye (eye_labels.h; absent: the table of this folder) and prints what is found, what
// is refused and why. No true distance is known: the profile is the population's face before a
// camera whose focal length is guessed, one width of the picture. Extra: nothing in the project
// needs such a folder.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <map>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgcodecs.hpp>
#include <span>
#include <string>
#include <vector>

#include "app/run/setup_tracker.h"
#include "tests/bench/eye_labels.h"
#include "tests/bench/guessed_profile.h"
#include "vision/camera/open_source.h"

namespace {

using namespace nearpoint;  // NOLINT
using bench::EyeLabel;
using bench::Lids;

constexpr int kStillFrames = 10;  // how often a portrait is shown

// What one frame came to.
struct Answer {
  DistanceSample sample;
  double ms = 0;

  [[nodiscard]] bool BothIrises() const {
    return sample.distance && sample.left_eye && sample.right_eye;
  }
};

// Pupil distance by iris diameter, in the picture: people have 4.8 to 5.6.
double RatioOf(const DistanceSample& sample) {
  const double apart = (sample.left_eye->iris_px - sample.right_eye->iris_px).norm();
  return 2 * apart / (sample.left_eye->iris_major_px + sample.right_eye->iris_major_px);
}

// share: 0..1. NaN for no values.
double Quantile(std::vector<double> values, double share) {
  if (values.empty()) return NAN;
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(std::lround(share * double(values.size() - 1)))];
}

// Rows and columns of the table of labels against answers.
std::string RowOf(const EyeLabel& label) {
  if (label.BothAre(Lids::kOpen)) return label.head_turned ? "open, turned" : "open, frontal";
  if (label.left_eye == label.right_eye) return std::string(bench::ToText(label.left_eye));
  return std::string(bench::ToText(label.left_eye)) + " / " +
         std::string(bench::ToText(label.right_eye));
}

std::string ColumnOf(const Answer& answer) {
  if (answer.BothIrises()) return "1 distance, both irises";
  if (answer.sample.distance) return "2 distance, one iris";
  return "3 " + std::string(ToText(*answer.sample.why));
}

class Confusion {
 public:
  void Add(const EyeLabel& label, const Answer& answer) {
    ++rows_[RowOf(label)][ColumnOf(answer)];
    columns_[ColumnOf(answer)] += 1;
  }

  void Print() const {
    std::printf("  label x answer, labelled frames:\n");
    for (const auto& [row, counts] : rows_) {
      int all = 0;
      for (const auto& [column, count] : counts) all += count;
      std::printf("    %-14s %4d:", row.c_str(), all);
      const char* separator = " ";
      for (const auto& [column, total] : columns_) {
        const auto found = counts.find(column);
        if (found == counts.end()) continue;
        std::printf("%s%s %d", separator, column.c_str() + 2, found->second);
        separator = "; ";
      }
      std::printf("\n");
    }
  }

 private:
  std::map<std::string, std::map<std::string, int>> rows_;
  std::map<std::string, int> columns_;
};

struct Totals {
  int open = 0, open_valid = 0, open_both = 0;  // open, frontal
  int closed = 0, closed_valid = 0, closed_said = 0;
  int half = 0, half_valid = 0;
  Confusion confusion;

  void Add(const EyeLabel& label, const Answer& answer) {
    confusion.Add(label, answer);
    const bool valid = answer.sample.distance.has_value();
    if (label.BothAre(Lids::kOpen) && !label.head_turned) {
      ++open;
      open_valid += valid;
      open_both += answer.BothIrises();
    } else if (label.BothAre(Lids::kClosed)) {
      ++closed;
      closed_valid += valid;
      closed_said += answer.sample.why == LostReason::kEyesClosed;
    } else if (label.BothAre(Lids::kHalf)) {
      ++half;
      half_valid += valid;
    }
  }

  void Print() const {
    const auto percent = [](int part, int of) { return of > 0 ? 100.0 * part / of : NAN; };
    std::printf("  open, frontal: %d labelled, valid %.1f %%, both irises %.1f %%\n", open,
                percent(open_valid, open), percent(open_both, open));
    std::printf(
        "  closed: %d labelled, a distance in %d, said to be closed %d; half closed: %d, a "
        "distance in %d\n",
        closed, closed_valid, closed_said, half, half_valid);
    confusion.Print();
  }
};

// Processor time of this thread, which main() lets do all the work: other programs do not count.
double ThreadMs() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return 1e3 * double(now.tv_sec) + 1e-6 * double(now.tv_nsec);
}

Result<Answer> Ask(SetupTracker& tracker, const Frame& frame) {
  const double before = ThreadMs();
  auto sample = tracker.Process(frame);
  const double took = ThreadMs() - before;
  if (!sample) return tl::unexpected(sample.error());
  return Answer{*std::move(sample), took};
}

void PrintAnswers(std::span<const Answer> answers) {
  int valid = 0, both = 0;
  std::vector<double> ratios, times;
  for (const Answer& answer : answers) {
    valid += answer.sample.distance.has_value();
    times.push_back(answer.ms);
    if (!answer.BothIrises()) continue;
    ++both;
    ratios.push_back(RatioOf(answer.sample));
  }
  const double n = std::max<double>(1, double(answers.size()));
  std::printf("  all %zu frames: valid %.1f %%, both irises %.1f %%\n", answers.size(),
              100 * valid / n, 100 * both / n);
  std::printf(
      "  pupil distance by iris: median %.2f, middle half %.2f to %.2f, 5 to 95 %% %.2f to %.2f\n",
      Quantile(ratios, 0.5), Quantile(ratios, 0.25), Quantile(ratios, 0.75), Quantile(ratios, 0.05),
      Quantile(ratios, 0.95));
  std::printf("  processor time a frame, one thread: median %.1f ms, 95 %% within %.1f ms\n",
              Quantile(times, 0.5), Quantile(times, 0.95));
}

Result<void> TrackClip(const std::filesystem::path& file, std::span<const EyeLabel> labels,
                       Totals* all) {
  auto source = OpenSource(file.string());
  if (!source) return tl::unexpected(source.error());
  const SourceInfo info = (*source)->info();
  auto tracker = MakeTracker(bench::GuessedProfile(info.width, info.height));
  if (!tracker) return tl::unexpected(tracker.error());
  std::printf("%s, %dx%d, focal length %.0f px by guess\n", file.filename().c_str(), info.width,
              info.height, bench::kGuessedFocalLength * info.width);
  Totals totals;
  std::vector<Answer> answers;
  auto next_label = labels.begin();
  std::string broken;
  while (true) {
    const auto frame = (*source)->Next();
    if (!frame) broken = frame.error().message;
    if (!frame || !*frame) break;
    const auto answer = Ask(*tracker, **frame);
    if (!answer) return tl::unexpected(answer.error());
    answers.push_back(*answer);
    while (next_label != labels.end() && next_label->frame < (*frame)->index()) ++next_label;
    if (next_label == labels.end() || next_label->frame != (*frame)->index()) continue;
    totals.Add(*next_label, *answer);
    all->Add(*next_label, *answer);
  }
  if (!broken.empty()) std::printf("  breaks off: %s\n", broken.c_str());
  totals.Print();
  PrintAnswers(answers);
  return {};
}

// A portrait is one picture: shown once to a tracker that knows nothing, then again and again.
Result<void> TrackPortrait(const std::filesystem::path& file, const cv::Mat& picture, int* found,
                           int* both) {
  auto tracker = MakeTracker(bench::GuessedProfile(picture.cols, picture.rows));
  if (!tracker) return tl::unexpected(tracker.error());
  std::vector<Answer> answers;
  for (int i = 0; i < kStillFrames; ++i) {
    const auto answer = Ask(*tracker, Frame(i, FromMilliseconds(i * 1000.0 / 30), picture.clone()));
    if (!answer) return tl::unexpected(answer.error());
    answers.push_back(*answer);
  }
  const Answer& first = answers.front();
  const auto valid = std::count_if(answers.begin(), answers.end(),
                                   [](const Answer& a) { return a.sample.distance.has_value(); });
  const auto two =
      std::count_if(answers.begin(), answers.end(), [](const Answer& a) { return a.BothIrises(); });
  *found += first.sample.distance.has_value();
  *both += first.BothIrises();
  std::printf("%s, %dx%d: at once %s; shown %d times: a distance in %d, both irises in %d",
              file.filename().c_str(), picture.cols, picture.rows, ColumnOf(first).c_str() + 2,
              kStillFrames, int(valid), int(two));
  if (first.BothIrises()) {
    std::printf("; %.0f mm, pupil distance by iris %.2f", first.sample.distance->value.mm(),
                RatioOf(first.sample));
  }
  std::printf("\n");
  return {};
}

Result<void> Run(const std::filesystem::path& folder, const std::string& table) {
  const auto labels = bench::ReadEyeLabels(table);
  if (!labels) return tl::unexpected(labels.error());
  std::printf(
      "face of the population; focal length guessed: %.1f widths of the picture, to %.0f %%\n",
      bench::kGuessedFocalLength, 100 * bench::kGuessedFocalRelSd);
  Totals all;
  int portraits = 0, found = 0, both = 0;
  const std::span<const EyeLabel> rows(*labels);
  for (std::size_t from = 0, to = 0; from < rows.size(); from = to) {
    for (to = from; to < rows.size() && rows[to].clip == rows[from].clip;) ++to;
    const auto file = folder / rows[from].clip;
    const cv::Mat picture = cv::imread(file.string(), cv::IMREAD_COLOR);
    if (!picture.empty()) {
      ++portraits;
      if (auto done = TrackPortrait(file, picture, &found, &both); !done) return done;
    } else if (auto done = TrackClip(file, rows.subspan(from, to - from), &all); !done) {
      return done;
    }
    std::fflush(stdout);
  }
  std::printf("all clips\n");
  all.Print();
  std::printf("portraits: %d of %d found at once, both irises in %d\n", found, portraits, both);
  return {};
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2 || argc > 3) {
    std::fprintf(stderr, "usage: nearpoint_bench_real FOLDER [TABLE]\n");
    return 2;
  }
  cv::setNumThreads(1);
  const auto done = Run(argv[1], argc > 2 ? argv[2] : NEARPOINT_EYE_LABELS);
  if (!done) {
    std::fprintf(stderr, "%s\n", done.error().message.c_str());
    return 1;
  }
  return 0;
}
