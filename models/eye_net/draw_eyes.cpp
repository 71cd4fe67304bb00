// Draws the training pictures of the eye finder: draw_eyes HEADS BACKGROUNDS OUT SEED PEOPLE.
//
// A record for each scene, numbers little endian: the whole picture (160 x 96), the window around
// the left and around the right eye and around some other place of the face (112 x 84 each), all
// 8-bit BGR; then 24 float32 for each eye of each of the four pictures (EyeTruth in its order: iris
// x y, radius, inner x y, outer x y, upper, lower, aperture, limbus seen, covered), and the
// distance in millimetres. The same seed gives the same pictures.
//
// BACKGROUNDS: width, height, count (int32), then that many BGR pictures (pack_backgrounds.py).
#include <array>
#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <string>
#include <vector>

#include "models/eye_net/eye_picture.h"

namespace {

using namespace nearpoint;           // NOLINT: the whole program is about these
using namespace nearpoint::eye_net;  // NOLINT

constexpr int kScenesAPerson = 12;
constexpr int kFrameWidth = 160, kFrameHeight = 96;
constexpr int kCropWidth = 112, kCropHeight = 84;
constexpr float kCropRadius = 8;

std::vector<cv::Mat> LoadBackgrounds(const std::string& file) {
  std::vector<cv::Mat> out;
  std::ifstream in(file, std::ios::binary);
  std::array<std::int32_t, 3> n{};
  if (!in.read(reinterpret_cast<char*>(n.data()), sizeof(n)))
    return out;  // NOLINT: the layout is the file's
  for (int i = 0; i < n[2]; ++i) {
    cv::Mat picture(n[1], n[0], CV_8UC3);
    if (!in.read(reinterpret_cast<char*>(picture.data),  // NOLINT
                 static_cast<std::streamsize>(picture.total() * picture.elemSize())))
      break;
    out.push_back(picture);
  }
  return out;
}

void Write(std::ofstream& out, const EyePicture& picture) {
  out.write(reinterpret_cast<const char*>(picture.bgr.data),  // NOLINT
            static_cast<std::streamsize>(picture.bgr.total() * picture.bgr.elemSize()));
}

void Append(const EyePicture& picture, std::vector<float>* numbers) {
  for (const EyeTruth& t : picture.eyes) {
    for (const Eigen::Vector2f& p : {t.iris}) numbers->insert(numbers->end(), {p.x(), p.y()});
    numbers->push_back(t.radius);
    for (const Eigen::Vector2f& p : {t.inner, t.outer})
      numbers->insert(numbers->end(), {p.x(), p.y()});
    numbers->insert(numbers->end(), t.upper.begin(), t.upper.end());
    numbers->insert(numbers->end(), t.lower.begin(), t.lower.end());
    numbers->insert(numbers->end(), {t.aperture, t.limbus_seen, t.covered});
  }
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> args(argv, argv + argc);
  if (args.size() != 6) {
    std::cerr << "draw_eyes HEADS BACKGROUNDS OUT SEED PEOPLE\n";
    return 2;
  }
  cv::setNumThreads(1);
  const auto space = HeadSpace::Load(args[1]);
  const auto backgrounds = LoadBackgrounds(args[2]);
  if (!space || backgrounds.empty()) {
    std::cerr << (space ? "'" + args[2] + "' holds no pictures." : space.error().message) << "\n";
    return 1;
  }
  std::ofstream out(args[3], std::ios::binary);
  const std::uint64_t seed = std::stoull(args[4]);
  const int people = std::stoi(args[5]);
  for (int i = 0; i < people; ++i) {
    simulate::Random random(seed, static_cast<std::uint64_t>(i));
    const Person person = MakePerson(*space, random);
    const Looks looks = DrawLooks(random);
    for (int k = 0; k < kScenesAPerson; ++k) {
      const Scene scene = DrawScene(*space, person, looks, random);
      const cv::Mat& room = backgrounds[random.Next() % backgrounds.size()];
      std::vector<float> numbers;
      Window frame;
      frame.middle = {500, 300};
      frame.scale = kFrameWidth / 1000.0F;
      frame.width = kFrameWidth;
      frame.height = kFrameHeight;
      std::array<Window, 4> windows{frame,
                                    AroundEye(scene, 0, kCropRadius, kCropWidth, kCropHeight),
                                    AroundEye(scene, 1, kCropRadius, kCropWidth, kCropHeight),
                                    {}};
      // Anywhere on the head, a little more or less near than an eye would be looked for.
      const auto other =
          static_cast<Eigen::Index>(random.Next() % static_cast<std::uint64_t>(scene.head.cols()));
      windows[3] =
          AroundPoint(scene, scene.head.col(other),
                      kCropRadius * static_cast<float>(std::exp(random.Uniform(-0.7, 0.7))),
                      kCropWidth, kCropHeight);
      for (const Window& window : windows) {
        const EyePicture picture = DrawEyes(scene, window, room, random);
        Write(out, picture);
        Append(picture, &numbers);
      }
      numbers.push_back(scene.mid.z());
      out.write(reinterpret_cast<const char*>(numbers.data()),  // NOLINT
                static_cast<std::streamsize>(numbers.size() * sizeof(float)));
    }
  }
  return out.good() ? 0 : 1;
}
