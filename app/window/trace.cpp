#include "app/window/trace.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

namespace nearpoint {
namespace {

std::optional<double> Number(const nlohmann::json& line, const char* name) {
  const auto found = line.find(name);
  if (found == line.end() || !found->is_number()) return std::nullopt;
  return found->get<double>();
}

// The horizontal part of an eye's rotation.
std::optional<double> Inward(const nlohmann::json& line, const char* eye) {
  const auto found = line.find(eye);
  if (found == line.end() || !found->is_object()) return std::nullopt;
  const auto rotation = found->find("rotation_deg");
  if (rotation == found->end() || !rotation->is_array() || rotation->empty()) return std::nullopt;
  const auto& horizontal = rotation->front();
  return horizontal.is_number() ? std::optional(horizontal.get<double>()) : std::nullopt;
}

}  // namespace

TrialTrace ParseTrace(const std::string& track_jsonl) {
  TrialTrace trace;
  std::istringstream lines(track_jsonl);
  std::string text;
  while (std::getline(lines, text)) {
    const auto line = nlohmann::json::parse(text, nullptr, /*allow_exceptions=*/false);
    if (!line.is_object()) continue;
    const auto ms = Number(line, "t_ms");
    if (!ms) continue;
    if (trace.points.empty()) trace.first_ms = *ms;
    TracePoint point;
    point.seconds = (*ms - trace.first_ms) / 1000;
    point.distance_mm = Number(line, "distance_mm");
    point.vergence_deg = Number(line, "vergence_deg");
    point.demand_deg = Number(line, "demand_deg");
    point.left_deg = Inward(line, "left_eye");
    point.right_deg = Inward(line, "right_eye");
    trace.points.push_back(point);
  }
  if (!trace.points.empty()) {
    const auto seen = std::ranges::count_if(
        trace.points, [](const TracePoint& p) { return p.distance_mm.has_value(); });
    trace.seen_fraction = static_cast<double>(seen) / static_cast<double>(trace.points.size());
  }
  return trace;
}

}  // namespace nearpoint
