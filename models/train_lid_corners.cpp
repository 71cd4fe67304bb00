// Makes lid_corners.dat: learns the steps of vision/eyes/lid_corner.h from the simulated patient
// alone, then says how far they end from the corners of other simulated patients. The same seed
// gives the same training set.
#include <CLI/CLI.hpp>
#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <map>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <thread>

#include "vision/eyes/lid_corner.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/options_check.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/random.h"
#include "vision/simulate/studio.h"

namespace {

using namespace nearpoint;            // NOLINT: the whole program is about these
using namespace nearpoint::simulate;  // NOLINT

constexpr int kPoses = 3;  // pictures of one patient
// A window about the eyes of a camera of 1280 pixels and 65 degrees: the rest need not be drawn.
constexpr int kWidth = 480;
constexpr int kHeight = 200;
constexpr double kFocalPx = 1005;

struct Eye {
  std::array<Eigen::Vector2d, kLidCornerKinds> corner_px;  // outer, inner
  double iris_radius_px = 0;
};
struct Picture {
  cv::Mat bgr;
  std::array<Eye, 2> eyes;
  int patient = 0;
};

PatientOptions DrawPatient(Random& random) {
  PatientOptions p;
  Appearance& a = p.appearance;
  a.skin_tone = random.Uniform();
  a.iris_tone = random.Uniform();
  a.texture_seed = random.Next() % 1000000;
  a.head_scale = random.Uniform(0.85, 1.1);
  const double pd = 62 * a.head_scale + 2.5 * random.Normal();
  a.distance_pd = Length::Millimeters(
      std::clamp(pd, std::max(51.0, 48 * a.head_scale), std::min(74.0, 72 * a.head_scale)));
  a.iris = Length::Millimeters(std::clamp(11.7 + 0.5 * random.Normal(), 10.4, 13.0));
  a.glasses = random.Uniform() < 0.25;
  p.light.level = std::exp(random.Uniform(std::log(0.1), 0));
  p.light.side = random.Uniform(-0.9, 0.9);
  p.light.noise_sd = random.Uniform(0.5, 2.5);
  const double focal = kFocalPx * random.Uniform(0.75, 1.25);
  p.optics.camera =
      PinholeCamera(kWidth, kHeight, Angle::Radians(2 * std::atan(kWidth / 2 / focal)));
  p.optics.aperture = Length::Millimeters(std::max(0.0, random.Uniform(-0.6, 1.2)));
  p.optics.focus = Length::Millimeters(random.Uniform(350, 700));
  p.target_mm = {random.Uniform(-8, 8), random.Uniform(-5, 25), 0};
  p.seed = random.Next();
  return p;
}

// What cameras and drivers add: tone curve, white balance, softness, noise, compression.
void Spoil(Random& random, cv::Mat& bgr) {
  cv::Mat table(1, 256, CV_8UC3);
  const double gamma = std::exp(random.Uniform(-0.25, 0.25));
  std::array<double, 3> gain{};
  for (double& g : gain) g = std::exp(random.Uniform(-0.12, 0.12));
  for (int i = 0; i < 256; ++i) {
    for (int k = 0; k < 3; ++k) {
      table.at<cv::Vec3b>(0, i)[k] = cv::saturate_cast<std::uint8_t>(
          255 * std::pow(std::min(1.0, gain[static_cast<std::size_t>(k)] * i / 255.0), gamma));
    }
  }
  cv::LUT(bgr, table, bgr);
  const double sigma = random.Uniform(0, 1.0);
  if (sigma > 0.3) cv::GaussianBlur(bgr, bgr, {}, sigma);
  if (random.Uniform() < 0.3) {
    cv::Mat soft;
    cv::GaussianBlur(bgr, soft, {}, 1.5);
    const double strength = random.Uniform(0, 1.0);
    cv::addWeighted(bgr, 1 + strength, soft, -strength, 0, bgr);
  }
  if (random.Uniform() < 0.5) {
    std::vector<std::uint8_t> bytes;
    cv::imencode(".jpg", bgr, bytes,
                 {cv::IMWRITE_JPEG_QUALITY, static_cast<int>(random.Uniform(60, 95))});
    bgr = cv::imdecode(bytes, cv::IMREAD_COLOR);
  }
}

// The same eyes wider or narrower open and slanted: lids of other shapes than the simulated.
Picture Warped(Random& random, const Picture& from) {
  const double stretch = std::exp(random.Uniform(-0.25, 0.25));
  const double slant = random.Uniform(-0.15, 0.15);
  Picture out = from;
  const double middle = (kHeight - 1) / 2.0;
  // Both eyes slant outward alike, about the middle of the face.
  const double face = (from.eyes[0].corner_px[1].x() + from.eyes[1].corner_px[1].x()) / 2;
  cv::Mat map_x(from.bgr.size(), CV_32F);
  cv::Mat map_y(from.bgr.size(), CV_32F);
  for (int y = 0; y < from.bgr.rows; ++y) {
    for (int x = 0; x < from.bgr.cols; ++x) {
      map_x.at<float>(y, x) = static_cast<float>(x);
      map_y.at<float>(y, x) =
          static_cast<float>(middle + (y - middle - slant * std::abs(x - face)) / stretch);
    }
  }
  cv::remap(from.bgr, out.bgr, map_x, map_y, cv::INTER_CUBIC, cv::BORDER_REPLICATE);
  for (Eye& eye : out.eyes) {
    for (auto& corner : eye.corner_px) {
      corner.y() = middle + stretch * (corner.y() - middle) + slant * std::abs(corner.x() - face);
    }
  }
  return out;
}

std::vector<Picture> Photograph(std::uint64_t seed, int number, bool warp) {
  Random random(seed, static_cast<std::uint64_t>(number));
  const PatientOptions p = DrawPatient(random);
  if (auto ok = CheckOptions(p); !ok) {
    std::cerr << ok.error().message << "\n";
    return {};
  }
  Studio studio(p);
  const HeadShape shape(p.appearance);
  std::vector<Picture> out;
  for (int i = 0; i < kPoses; ++i) {
    const double distance = random.Uniform(300, 640);
    const auto turn = [&](double most) { return Angle::Degrees(random.Uniform(-most, most)); };
    PatientState state =
        Performance::Posed(p, Length::Millimeters(distance), turn(15), turn(8), turn(8));
    const Eigen::Vector3d up(0, p.target_mm.y() > 0 ? -5 : 0, 0);
    state.eye_mid_mm += up;
    for (auto& centre : state.centre_mm) centre += up;
    state.lids_closed = random.Uniform() < 0.3 ? random.Uniform(0, 0.35) : 0;
    Picture picture;
    picture.bgr = i == 0 ? studio.TakeStill(i, state) : studio.Take(i, state, state, state, 0.1);
    const FrameTruth truth = studio.Truth(i, {}, state);
    for (const int eye : {kLeft, kRight}) {
      Eye& e = picture.eyes[static_cast<std::size_t>(eye)];
      e.iris_radius_px = (eye == kLeft ? truth.left_eye : truth.right_eye).limbus_major_px / 2;
      int k = 0;
      for (Eigen::Vector3d corner : {shape.OuterCorner(), shape.InnerCorner()}) {
        corner.x() *= SideSign(eye);
        e.corner_px[static_cast<std::size_t>(k++)] =
            Project(p.optics.camera, state.camera_from_head * corner + state.eye_mid_mm);
      }
    }
    picture.patient = number;
    Picture other = Warped(random, picture);
    Spoil(random, picture.bgr);
    Spoil(random, other.bgr);
    out.push_back(std::move(picture));
    if (warp) out.push_back(std::move(other));
  }
  return out;
}

std::vector<Picture> PhotographAll(std::uint64_t seed, int patients, bool warp) {
  std::vector<std::vector<Picture>> each(static_cast<std::size_t>(patients));
  const auto work = [&](std::size_t first) {
    for (std::size_t n = first; n < each.size(); n += 2) {
      each[n] = Photograph(seed, static_cast<int>(n), warp);
    }
  };
  std::thread other(work, 1);
  work(0);
  other.join();
  std::vector<Picture> out;
  for (auto& pictures : each) std::move(pictures.begin(), pictures.end(), std::back_inserter(out));
  return out;
}

// One start, and how far it is to the corner.
struct Start {
  const Picture* picture;
  LidCornerFrame frame;
  Eigen::Vector2d at_px;
  Eigen::Vector2d corner_px;

  [[nodiscard]] Eigen::Vector2d ToGo() const {
    const Eigen::Vector2d d = (corner_px - at_px) / frame.px_per_mm;
    return {d.dot(frame.outward), d.dot(frame.down)};
  }
};

std::vector<Start> MakeStarts(const std::vector<Picture>& pictures, int kind, int each,
                              Random& random) {
  std::vector<Start> out;
  for (const Picture& picture : pictures) {
    for (const Eye& eye : picture.eyes) {
      const Eigen::Vector2d corner = eye.corner_px[static_cast<std::size_t>(kind)];
      const Eigen::Vector2d other = eye.corner_px[static_cast<std::size_t>(1 - kind)];
      const double px_per_mm = eye.iris_radius_px / 5.85;
      for (int i = 0; i < each; ++i) {
        const auto aside = [&](double sd) {
          return Eigen::Vector2d(px_per_mm * sd * random.Normal(),
                                 px_per_mm * sd * random.Normal());
        };
        Start start;
        start.picture = &picture;
        // Landmarks lie inward of the outer corners.
        const Eigen::Vector2d inward =
            (other - corner).normalized() * px_per_mm * (kind == 0 ? 0.8 : 0);
        start.at_px = corner + inward + aside(1.0);
        start.corner_px = corner;
        start.frame = FrameOfCorner(start.at_px, other + aside(1.0),
                                    eye.iris_radius_px * std::exp(0.02 * random.Normal()));
        out.push_back(start);
      }
    }
  }
  return out;
}

LidCornerStep Learn(const std::vector<Start>& starts, double ridge) {
  Eigen::MatrixXd normal =
      Eigen::MatrixXd::Zero(LidCornerGrid::kFeatures, LidCornerGrid::kFeatures);
  Eigen::MatrixXd right = Eigen::MatrixXd::Zero(LidCornerGrid::kFeatures, 2);
  constexpr int kBlock = 256;
  Eigen::MatrixXf block(LidCornerGrid::kFeatures, kBlock);
  Eigen::MatrixXf wanted(2, kBlock);
  int filled = 0;
  const auto flush = [&] {
    const auto b = block.leftCols(filled);
    normal += (b * b.transpose()).cast<double>();
    right += (b * wanted.leftCols(filled).transpose()).cast<double>();
    filled = 0;
  };
  for (const Start& start : starts) {
    const auto features = LookAtCorner(start.picture->bgr, start.at_px, start.frame);
    if (!features) continue;
    block.col(filled) = *features;
    wanted.col(filled) = start.ToGo().cast<float>();
    if (++filled == kBlock) flush();
  }
  flush();
  normal.diagonal().head(LidCornerGrid::kFeatures - 1).array() += ridge;
  return normal.ldlt().solve(right).transpose().cast<float>();
}

void Advance(const LidCornerStep& step, std::vector<Start>& starts) {
  for (Start& start : starts) {
    const auto features = LookAtCorner(start.picture->bgr, start.at_px, start.frame);
    if (!features) continue;
    const Eigen::Vector2d mm = (step * *features).cast<double>();
    start.at_px +=
        start.frame.px_per_mm * (mm.x() * start.frame.outward + mm.y() * start.frame.down);
  }
}

// Starts of both kinds come eye by eye in the same order.
void ScaleByWidth(std::array<std::vector<Start>, kLidCornerKinds>& starts) {
  for (std::size_t i = 0; i < starts[0].size(); ++i) {
    Start& outer = starts[0][i];
    Start& inner = starts[1][i];
    outer.frame = FrameByWidth(outer.at_px, inner.at_px);
    inner.frame = FrameByWidth(inner.at_px, outer.at_px);
  }
}

// Errors of one kind of corner, in millimetres of an eye with a usual iris.
struct Errors {
  Eigen::Array2d sum = Eigen::Array2d::Zero();
  Eigen::Array2d squares = Eigen::Array2d::Zero();
  double stated = 0;
  int found = 0;
  int missed = 0;
  std::map<int, std::pair<double, int>> outward_of_patient;

  void Print(const char* name) const {
    double between = 0;
    for (const auto& [patient, of] : outward_of_patient) {
      between += std::pow(of.first / of.second, 2);
    }
    const double n = std::max(1, found);
    std::printf(
        "%s corner: %d found, %d refused; mean error %+.2f %+.2f mm, root mean square %.2f %.2f, "
        "stated %.2f; outward alike in six looks at one patient %.2f\n",
        name, found, missed, sum(0) / n, sum(1) / n, std::sqrt(squares(0) / n),
        std::sqrt(squares(1) / n), std::sqrt(stated / n),
        std::sqrt(between /
                  static_cast<double>(std::max<std::size_t>(1, outward_of_patient.size()))));
  }
};

void Score(const LidCornerFinder& finder, const std::vector<Picture>& pictures) {
  std::array<std::vector<Start>, kLidCornerKinds> starts;
  for (std::size_t kind = 0; kind < kLidCornerKinds; ++kind) {
    Random random(77, kind);
    starts[kind] = MakeStarts(pictures, static_cast<int>(kind), 1, random);
  }
  std::array<Errors, kLidCornerKinds> errors;
  for (std::size_t i = 0; i < starts[0].size(); ++i) {
    const Picture& picture = *starts[0][i].picture;
    const double px_per_mm = starts[0][i].frame.px_per_mm;
    const auto corners =
        finder.FindBoth(picture.bgr, {starts[0][i].at_px, starts[1][i].at_px}, px_per_mm * 5.85);
    for (std::size_t kind = 0; kind < kLidCornerKinds; ++kind) {
      Errors& of = errors[kind];
      if (!corners[kind]) {
        ++of.missed;
        continue;
      }
      const Start& start = starts[kind][i];
      const Eigen::Vector2d off = (corners[kind]->position_px - start.corner_px) / px_per_mm;
      const Eigen::Array2d e(off.dot(start.frame.outward), off.dot(start.frame.down));
      of.sum += e;
      of.squares += e.square();
      of.stated += std::pow(corners[kind]->sd_px / px_per_mm, 2);
      ++of.found;
      auto& patient = of.outward_of_patient[picture.patient];
      patient.first += e(0);
      ++patient.second;
    }
  }
  errors[0].Print("outer");
  errors[1].Print("inner");
}

}  // namespace

int main(int argc, char** argv) {
  std::string file = "lid_corners.dat";
  int patients = 500;
  int held_out = 60;
  int each = 3;
  std::uint64_t seed = 1;
  double ridge = 300;
  bool score_only = false;
  CLI::App app("Learns the corners of the lids from the simulated patient.");
  app.add_option("out", file, "file to write");
  app.add_option("--patients", patients, "to learn from, three pictures each");
  app.add_option("--held-out", held_out, "patients to score on");
  app.add_option("--starts", each, "about each corner");
  app.add_option("--seed", seed, "of patients and poses");
  app.add_option("--ridge", ridge, "weight of small coefficients");
  app.add_flag("--score-only", score_only, "only score the file as it is");
  CLI11_PARSE(app, argc, argv);

  if (!score_only) {
    const std::vector<Picture> pictures = PhotographAll(seed, patients, true);
    std::printf("%zu pictures drawn\n", pictures.size());
    LidCornerModel model;
    std::array<std::vector<Start>, kLidCornerKinds> starts;
    for (std::size_t kind = 0; kind < kLidCornerKinds; ++kind) {
      Random random(seed + 1, kind);
      starts[kind] = MakeStarts(pictures, static_cast<int>(kind), each, random);
      for (LidCornerStep& step : model.steps[kind]) {
        step = Learn(starts[kind], ridge);
        Advance(step, starts[kind]);
      }
    }
    for (std::size_t i = 0; i < kLidWidthSteps; ++i) {
      ScaleByWidth(starts);
      for (std::size_t kind = 0; kind < kLidCornerKinds; ++kind) {
        LidCornerStep& step = model.width_steps[kind][i];
        step = Learn(starts[kind], ridge);
        Advance(step, starts[kind]);
      }
    }
    std::ofstream out(file, std::ios::binary);
    const std::string bytes = SerializeLidCorners(model);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!out.flush()) {
      std::cerr << file << ": cannot be written.\n";
      return 1;
    }
  }
  const auto finder = LidCornerFinder::Load(file);
  if (!finder) {
    std::cerr << finder.error().message << "\n";
    return 1;
  }
  Score(*finder, PhotographAll(seed + 700001, held_out, false));
  return 0;
}
