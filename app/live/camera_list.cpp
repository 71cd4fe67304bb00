#include "app/live/camera_list.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <system_error>
#include <utility>

namespace nearpoint {

std::vector<CameraName> ListCameras(const std::string& folder) {
  constexpr std::string_view kPrefix = "video";
  std::vector<std::pair<int, CameraName>> found;
  std::error_code error;
  for (std::filesystem::directory_iterator at(folder, error), end; !error && at != end;
       at.increment(error)) {
    const std::string file = at->path().filename().string();
    const std::string number = file.substr(std::min(file.size(), kPrefix.size()));
    const bool digits = !number.empty() && number.size() < 6 &&
                        std::ranges::all_of(number, [](char c) { return c >= '0' && c <= '9'; });
    if (!file.starts_with(kPrefix) || !digits) continue;
    // One camera shows as several devices: the first gives pictures, the others describe them.
    int index = 0;
    std::ifstream(at->path() / "index") >> index;
    if (index != 0) continue;
    std::string name;
    std::getline(std::ifstream(at->path() / "name"), name);
    found.push_back({std::stoi(number), {number, name.empty() ? file : name}});
  }
  std::ranges::sort(found, {}, &std::pair<int, CameraName>::first);
  std::vector<CameraName> cameras;
  cameras.reserve(found.size());
  for (auto& [number, camera] : found) cameras.push_back(std::move(camera));
  return cameras;
}

}  // namespace nearpoint
