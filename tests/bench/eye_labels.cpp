#include "tests/bench/eye_labels.h"

#include <array>
#include <charconv>
#include <fstream>
#include <optional>
#include <set>
#include <sstream>
#include <utility>

namespace nearpoint::bench {
namespace {

constexpr std::string_view kHeader = "clip,frame,left_eye,right_eye,head";
constexpr std::array kAllLids{Lids::kOpen, Lids::kHalf, Lids::kClosed, Lids::kHidden,
                              Lids::kOutside};

std::vector<std::string> Cells(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) cells.push_back(cell);
  return cells;
}

std::optional<Lids> LidsOf(std::string_view cell) {
  for (const Lids lids : kAllLids) {
    if (cell == ToText(lids)) return lids;
  }
  return std::nullopt;
}

std::optional<std::int64_t> FrameOf(const std::string& cell) {
  std::int64_t frame = -1;
  const auto [end, code] = std::from_chars(cell.data(), cell.data() + cell.size(), frame);
  if (code != std::errc() || end != cell.data() + cell.size() || frame < 0) return std::nullopt;
  return frame;
}

Result<EyeLabel> ParseRow(const std::string& line, const std::string& where) {
  const auto cells = Cells(line);
  if (cells.size() != 5 || cells[0].empty()) {
    return Fail(ErrorCode::kBadValue, where + ": expected " + std::string(kHeader) + ".");
  }
  const auto frame = FrameOf(cells[1]);
  if (!frame) {
    return Fail(ErrorCode::kBadValue, where + ": \"frame\" must be a number from 0.");
  }
  const auto left = LidsOf(cells[2]);
  const auto right = LidsOf(cells[3]);
  if (!left || !right) {
    return Fail(ErrorCode::kBadValue,
                where + ": an eye must be open, half, closed, hidden or outside.");
  }
  if (cells[4] != "frontal" && cells[4] != "turned") {
    return Fail(ErrorCode::kBadValue, where + ": \"head\" must be frontal or turned.");
  }
  return EyeLabel{cells[0], *frame, *left, *right, cells[4] == "turned"};
}

}  // namespace

std::string_view ToText(Lids lids) {
  switch (lids) {
    case Lids::kOpen:
      return "open";
    case Lids::kHalf:
      return "half";
    case Lids::kClosed:
      return "closed";
    case Lids::kHidden:
      return "hidden";
    case Lids::kOutside:
      return "outside";
  }
  return "";
}

Result<std::vector<EyeLabel>> ParseEyeLabels(std::string_view csv, const std::string& where) {
  std::istringstream in{std::string(csv)};
  std::string line;
  if (!std::getline(in, line) || line != kHeader) {
    return Fail(ErrorCode::kBadValue,
                where + ": the first line must be " + std::string(kHeader) + ".");
  }
  std::vector<EyeLabel> labels;
  std::set<std::string> clips;
  for (int number = 2; std::getline(in, line); ++number) {
    const std::string at = where + ", line " + std::to_string(number);
    auto label = ParseRow(line, at);
    if (!label) return tl::unexpected(label.error());
    const bool same_clip = !labels.empty() && labels.back().clip == label->clip;
    if (same_clip ? label->frame <= labels.back().frame : !clips.insert(label->clip).second) {
      return Fail(ErrorCode::kBadValue,
                  at + ": rows of one clip must stand together, and their frames must rise.");
    }
    labels.push_back(*std::move(label));
  }
  return labels;
}

Result<std::vector<EyeLabel>> ReadEyeLabels(const std::string& file) {
  std::ifstream in(file);
  if (!in) return Fail(ErrorCode::kNotFound, file + ": the table of labels cannot be read.");
  std::ostringstream text;
  text << in.rdbuf();
  if (in.bad()) return Fail(ErrorCode::kUnreadable, file + ": the table of labels breaks off.");
  return ParseEyeLabels(text.str(), file);
}

}  // namespace nearpoint::bench
