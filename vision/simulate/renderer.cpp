#include "vision/simulate/renderer.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/core/hal/intrin.hpp>
#include <opencv2/imgproc.hpp>

#include "vision/simulate/card_picture.h"
#include "vision/simulate/light_scale.h"
#include "vision/simulate/pixel_store.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/skin.h"

namespace nearpoint::simulate {
namespace {

constexpr float kNearestMm = 4;

float Smooth(float low, float high, float x) {
  const float t = std::clamp((x - low) / (high - low), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

// A bell of height 1 that ends at -1 and 1.
float Bump(float x) {
  const float rest = std::max(0.0F, 1 - x * x);
  return rest * rest;
}

cv::Rect EyeBox(const CameraIntrinsics& camera, const HeadShape& shape, const PatientState& state,
                int eye, const LensView* through) {
  double x0 = 1e9;
  double x1 = -1e9;
  double y0 = 1e9;
  double y1 = -1e9;
  for (const double x : {shape.InnerCorner().x() - 2, shape.eye_x(), shape.OuterCorner().x() + 2}) {
    for (const double y : {-10.0, 0.0, 8.0}) {
      const Eigen::Vector3d in_head(SideSign(eye) * x, y, shape.LidHeight(x, y));
      const Eigen::Vector3d p =
          state.camera_from_head * (through ? through->Apparent(in_head) : in_head) +
          state.eye_mid_mm;
      if (p.z() < kNearestMm) return {0, 0, camera.width, camera.height};
      const Eigen::Vector2d px = Project(camera, p);
      x0 = std::min(x0, px.x());
      x1 = std::max(x1, px.x());
      y0 = std::min(y0, px.y());
      y1 = std::max(y1, px.y());
    }
  }
  const auto clip = [](double v, int high) {
    return static_cast<int>(std::clamp(v, 0.0, static_cast<double>(high)));
  };
  const int left = clip(x0 - 2, camera.width);
  const int top = clip(y0 - 2, camera.height);
  return {left, top, clip(x1 + 3, camera.width) - left, clip(y1 + 3, camera.height) - top};
}

// All that one eye needs while its pixels are resolved.
struct EyeView {
  cv::Rect box;
  EyePose pose;
  cv::Vec3f light;                   // at the eye's middle, gained
  cv::Vec3f light_across, light_up;  // its slopes, per millimetre
};

}  // namespace

Lids LidsOf(const PatientState& state) {
  double up = 0;
  for (const Eigen::Vector3d& gaze : state.gaze) {
    up += std::asin((state.camera_from_head.transpose() * gaze).y()) / 2;
  }
  return {up, state.lids_closed};
}

Renderer::Renderer(const PatientOptions& options)
    : options_(options),
      shape_(options.appearance),
      mesh_(MakeHeadMesh(shape_)),
      eyeball_(options.appearance),
      lashes_(shape_, options.appearance),
      glasses_(shape_, options.appearance),
      room_(PaintRoom({options.optics.camera.width, options.optics.camera.height},
                      options.appearance.texture_seed)),
      rays_(RayTable(options.optics.camera)),
      largest_radius_(LargestRadius(options.optics.camera)),
      screen_(mesh_.position_mm.size()),
      light_(mesh_.position_mm.size()),
      surface_({options.optics.camera.width, options.optics.camera.height}) {
  skin_.push_back(PaintSkin(shape_, mesh_, options.appearance));
  while (skin_.size() < 5) {
    cv::Mat half;
    cv::resize(skin_.back(), half, {skin_.back().cols / 2, skin_.back().rows / 2}, 0, 0,
               cv::INTER_AREA);
    skin_.push_back(half);
  }
}

void Renderer::Transform(const PatientState& state, const Lighting& lighting, double gain,
                         const LensView* through) {
  const Eigen::Matrix3f rotation = state.camera_from_head.cast<float>();
  const Eigen::Vector3f offset = state.eye_mid_mm.cast<float>();
  const CameraIntrinsics& camera = options_.optics.camera;
  const auto limit2 = static_cast<float>(largest_radius_ * largest_radius_);
  const auto gloss_scale = static_cast<float>(gain * kWhite);
  const float scale = gloss_scale / 65535;
  cv::parallel_for_(cv::Range(0, static_cast<int>(screen_.size())), [&](const cv::Range& range) {
    for (int k = range.start; k < range.end; ++k) {
      const auto i = static_cast<std::size_t>(k);
      const Eigen::Vector3f in_head =
          through ? Eigen::Vector3f(
                        through->Apparent(mesh_.position_mm[i].cast<double>()).cast<float>())
                  : mesh_.position_mm[i];
      const Eigen::Vector3f p = rotation * in_head + offset;
      ScreenVertex& out = screen_[i];
      out.z = p.z();
      out.usable = p.z() > kNearestMm && p.head<2>().squaredNorm() < limit2 * p.z() * p.z();
      if (!out.usable) continue;
      const Eigen::Vector2d px = Project(camera, p.cast<double>());
      out.x = static_cast<float>(px.x());
      out.y = static_cast<float>(px.y());
      constexpr float kMargin = 300;  // no cell with a corner in the picture reaches farther
      if (out.x < -kMargin || out.y < -kMargin ||
          out.x > static_cast<float>(camera.width) + kMargin ||
          out.y > static_cast<float>(camera.height) + kMargin) {
        continue;
      }
      const Lighting::Sample light =
          lighting.At(mesh_.position_mm[i], mesh_.normal[i], mesh_.openness[i]);
      light_[i] = {scale * light.diffuse.x(), scale * light.diffuse.y(), scale * light.diffuse.z(),
                   gloss_scale * light.gloss};
    }
  });
}

void Renderer::DrawHead(const PatientState& state, double gain, const LensView* through,
                        cv::Mat& picture) {
  const CameraIntrinsics& camera = options_.optics.camera;
  const Lighting lighting(options_.light, state.camera_from_head, state.eye_mid_mm);
  Transform(state, lighting, gain, through);

  const Lids lids = LidsOf(state);
  const LidTable lid_table(shape_, lids);
  const auto light_gain = static_cast<float>(gain);
  const Eigen::Matrix3f head_from_camera = state.camera_from_head.transpose().cast<float>();
  const Eigen::Vector3f lens = head_from_camera * -state.eye_mid_mm.cast<float>();
  MirrorScene scene;
  scene.camera_from_head = state.camera_from_head.cast<float>();
  scene.eye_mid_in_camera_mm = state.eye_mid_mm.cast<float>();
  scene.window = light_gain * static_cast<float>(options_.light.level) * 1.2F;
  scene.screen = light_gain;

  std::array<EyeView, 2> eyes;
  for (const int eye : {kLeft, kRight}) {
    EyeView& view = eyes[static_cast<std::size_t>(eye)];
    const auto e = static_cast<std::size_t>(eye);
    const Eigen::Matrix3d& to_head = state.camera_from_head;
    view.box = EyeBox(camera, shape_, state, eye, through);
    view.pose = MakeEyePose(to_head.transpose() * (state.centre_mm[e] - state.eye_mid_mm),
                            to_head.transpose() * state.gaze[e]);
    const auto light = [&](float x, float y) {
      const Eigen::Vector3f normal = Eigen::Vector3f(x / 14, y / 14, 1).normalized();
      const Lighting::Sample sample =
          lighting.At(view.pose.centre_mm + 12.0F * normal, normal, 0.85F);
      return cv::Vec3f(sample.diffuse.x(), sample.diffuse.y(), sample.diffuse.z()) * light_gain;
    };
    view.light = light(0, 0);
    view.light_across = (light(8, 0) - light(-8, 0)) / 16.0F;
    view.light_up = (light(0, 6) - light(0, -6)) / 12.0F;
  }

  // The texture level whose texels are about a pixel.
  const double pixel_mm = state.eye_mid_mm.z() / camera.fx;
  const double texel_mm = 0.9 / HeadMesh::kTexelsPerCell;
  const int level = std::clamp(static_cast<int>(std::floor(std::log2(pixel_mm / texel_mm) + 0.3)),
                               0, static_cast<int>(skin_.size()) - 1);
  const cv::Mat& skin = skin_[static_cast<std::size_t>(level)];
  const auto per_cell =
      static_cast<float>(HeadMesh::kTexelsPerCell) / static_cast<float>(1 << level);
  const double room_gain = gain * (options_.light.level + 0.006) * kWhite;
  std::array<ushort, 256> room_light{};
  for (int i = 0; i < 256; ++i) {
    room_light[static_cast<std::size_t>(i)] =
        cv::saturate_cast<ushort>(room_gain * SrgbLinear(i / 255.0));
  }
  const auto skin_pink =
      SkinPaint(options_.appearance.skin_tone * 0.55).mul(cv::Vec3f(0.75F, 0.70F, 0.98F));
  const cv::Vec3f rim_colour = Reflectance(skin_pink);
  const cv::Vec3f caruncle = rim_colour.mul(cv::Vec3f(0.58F, 0.55F, 0.96F));
  const auto skin_stride = static_cast<std::ptrdiff_t>(skin.step1());
  const float last_texel_u = static_cast<float>(skin.cols) - 2.01F;
  const float last_texel_v = static_cast<float>(skin.rows) - 1.01F;
  const auto head_end = static_cast<float>(mesh_.head.row1 - 1);

  picture.create(camera.height, camera.width, CV_16UC3);
  const auto resolve_row = [&](int y) {
    const float* depth = surface_.depth.ptr<float>(y);
    const float* us = surface_.u.ptr<float>(y);
    const float* vs = surface_.v.ptr<float>(y);
    const cv::Vec3b* room = room_.ptr<cv::Vec3b>(y);
    const cv::Vec2f* rays = rays_.ptr<cv::Vec2f>(y);
    cv::Vec3w* out = picture.ptr<cv::Vec3w>(y);
    std::array<cv::Range, 2> spans{cv::Range(0, 0), cv::Range(0, 0)};
    for (std::size_t e = 0; e < 2; ++e) {
      const cv::Rect& box = eyes[e].box;
      if (y >= box.y && y < box.y + box.height) spans[e] = {box.x, box.x + box.width};
    }
    const auto in_eye_span = [&](int x) {
      return (x >= spans[0].start && x < spans[0].end) || (x >= spans[1].start && x < spans[1].end);
    };
    for (int x = 0; x < camera.width; ++x) {
      if (depth[x] >= kFarMm) {
        for (int k = 0; k < 3; ++k) out[x][k] = room_light[room[x][k]];
        continue;
      }
      const float u = us[x];
      const float v = vs[x];
      const int col = std::clamp(static_cast<int>(u), 0, mesh_.cols - 2);
      const int row = std::clamp(static_cast<int>(v), 0, mesh_.rows - 2);
      const auto mixed = [](float a, float b, const auto& v00, const auto& v01, const auto& v10,
                            const auto& v11) {
        const cv::v_float32x4 top = v00 + cv::v_setall_f32(a) * (v01 - v00);
        const cv::v_float32x4 bottom = v10 + cv::v_setall_f32(a) * (v11 - v10);
        return top + cv::v_setall_f32(b) * (bottom - top);
      };
      const cv::Vec4f* l0 = &light_[mesh_.Index(row, col)];
      const cv::Vec4f* l1 = l0 + mesh_.cols;
      const cv::v_float32x4 light =
          mixed(u - static_cast<float>(col), v - static_cast<float>(row), cv::v_load(l0[0].val),
                cv::v_load(l0[1].val), cv::v_load(l1[0].val), cv::v_load(l1[1].val));
      const float tu = std::clamp(u * per_cell - 0.5F, 0.0F, last_texel_u);
      const float tv = std::clamp(v * per_cell - 0.5F, 0.0F, last_texel_v);
      const int texel_row = static_cast<int>(tv);
      const int texel_col = static_cast<int>(tu);
      const ushort* t0 = skin.ptr<ushort>(texel_row) + 4 * static_cast<std::ptrdiff_t>(texel_col);
      const ushort* t1 = t0 + skin_stride;
      const auto texel = [](const ushort* at) {
        return cv::v_cvt_f32(cv::v_reinterpret_as_s32(cv::v_load_expand(at)));
      };
      const cv::v_float32x4 albedo =
          mixed(tu - static_cast<float>(texel_col), tv - static_cast<float>(texel_row), texel(t0),
                texel(t0 + 4), texel(t1), texel(t1 + 4));
      const cv::v_float32x4 lit = albedo * light + cv::v_broadcast_element<3>(light);
      if (!in_eye_span(x)) {
        const cv::v_int32x4 steps = cv::v_round(lit);
        StoreThree(cv::v_pack_u(steps, steps), x + 1 < camera.width, out[x]);
        continue;
      }
      float lit_values[4];
      cv::v_store(lit_values, lit);
      cv::Vec3f colour = cv::Vec3f(lit_values[0], lit_values[1], lit_values[2]) / kWhite;
      float covered = 0;
      cv::Vec3f covering;
      for (const EyeView& eye : eyes) {
        if (!eye.box.contains({x, y}) || v >= head_end) continue;
        const Eigen::Vector2f at = mesh_.SkinXy(u, v);
        const double abs_x = std::abs(static_cast<double>(at.x()));
        if ((at.x() > 0) != (eye.pose.centre_mm.x() > 0)) continue;
        const LidDistance lid = lid_table.At(abs_x, at.y());
        const auto upper = static_cast<float>(lid.below_upper);
        const auto lower = static_cast<float>(lid.above_lower);
        const auto along = static_cast<float>(lid.along);
        const float inside = std::min(upper, lower);
        if (inside < -1.6F || along < -0.08F || along > 1.08F) continue;
        // The rows where the lashes grow, on the skin side of the margins.
        const float ends = Smooth(0.0F, 0.12F, along) * (1 - 0.4F * Smooth(0.97F, 1.06F, along));
        const float root_upper = Bump((upper + 0.15F) / 1.05F);
        const float root_lower = Bump((lower + 0.1F) / 0.85F);
        const float fold = along < 0 || along > 1 ? 0.0F : 1.0F;
        const float bare = 1 - fold * ends * std::max(0.78F * root_upper, 0.36F * root_lower);
        colour *= bare * bare;

        const float mm = depth[x] / static_cast<float>(camera.fx);  // of a pixel
        const float cover = std::clamp(inside / mm + 0.5F, 0.0F, 1.0F);
        if (cover <= 0) continue;
        const cv::Vec3f shade_light = eye.light +
                                      eye.light_across * (at.x() - eye.pose.centre_mm.x()) +
                                      eye.light_up * at.y();
        // The upper lid and its lashes shade the eye; the corners lie deep.
        const float shadow =
            (0.50F + 0.50F * Smooth(-0.6F, 3.4F, upper)) *
            (0.80F + 0.20F * Smooth(0, 1.6F, lower)) *
            (0.72F + 0.28F * Smooth(0.0F, 0.22F, along) * (1 - Smooth(0.86F, 1.0F, along)));
        const cv::Vec3f eye_light = shade_light * (shadow * shadow);
        const int taps = mm > 0.12F ? 2 : 1;
        cv::Vec3f seen(0, 0, 0);
        for (int tap = 0; tap < taps * taps; ++tap) {
          const float ox = taps == 1 ? 0 : (static_cast<float>(tap & 1) - 0.5F) * 0.5F;
          const float oy = taps == 1 ? 0 : (static_cast<float>(tap >> 1) - 0.5F) * 0.5F;
          const Eigen::Vector3f ray =
              (head_from_camera * Eigen::Vector3f(rays[x][0] + ox / static_cast<float>(camera.fx),
                                                  rays[x][1] + oy / static_cast<float>(camera.fy),
                                                  1))
                  .normalized();
          if (through) {
            const auto behind =
                through->Behind(eye.pose.centre_mm.x() > 0 ? kLeft : kRight, ray.cast<double>());
            seen +=
                eyeball_.Look(eye.pose, behind.origin.cast<float>(), behind.direction.cast<float>(),
                              mm / static_cast<float>(taps), eye_light, eye_light, scene);
            continue;
          }
          seen += eyeball_.Look(eye.pose, lens, ray, mm / static_cast<float>(taps), eye_light,
                                eye_light, scene);
        }
        seen /= static_cast<float>(taps * taps);
        // Flesh of the inner corner and the wet edge of the lower lid.
        const float flesh = 1 - Smooth(0.05F, 0.17F, along + 0.006F * lower);
        seen += (caruncle.mul(eye_light) * 1.1F - seen) * (0.85F * flesh);
        const float rim = 1 - Smooth(0.35F, 0.75F, lower);
        seen += (rim_colour.mul(shade_light) - seen) * (0.85F * rim);
        const float wet = Bump((lower - 0.75F) / 0.38F);
        seen += cv::Vec3f(1, 1, 1) * (0.09F * wet * shade_light[1]);
        covered = cover;
        covering = seen;
      }
      colour += (covering - colour) * covered;
      for (int k = 0; k < 3; ++k) out[x][k] = cv::saturate_cast<ushort>(kWhite * colour[k]);
    }
  };

  constexpr int kBandRows = 90;
  const int bands = (camera.height + kBandRows - 1) / kBandRows;
  cv::parallel_for_(
      cv::Range(0, bands),
      [&](const cv::Range& range) {
        for (int band = range.start; band < range.end; ++band) {
          const cv::Range rows(band * kBandRows, std::min(camera.height, (band + 1) * kBandRows));
          RasterizeBand(mesh_, screen_, rows, surface_);
          for (int y = rows.start; y < rows.end; ++y) resolve_row(y);
        }
      },
      bands);

  const cv::Vec3f& face_light = eyes[0].light;
  const OverlayView view{camera, state, face_light[1], surface_.depth, through};
  lashes_.Draw(shape_, lids, view, picture);
  if (through) return;
  if (options_.appearance.spectacles) {
    const LensView lenses(*options_.appearance.spectacles, options_.appearance.distance_pd.mm(),
                          state);
    DrawSpectacles(*options_.appearance.spectacles, lenses,
                   {camera, state, face_light[1], scene.window, scene.screen}, behind_lenses_,
                   picture);
  }
  if (options_.appearance.glasses) glasses_.Draw(view, scene.window, picture);
  if (state.card && options_.card) {
    DrawCard({options_, state, lighting, rays_, surface_.depth, gain}, picture);
  }
}

void Renderer::Draw(const PatientState& state, double gain, cv::Mat& picture) {
  if (options_.appearance.spectacles) {
    const LensView through(*options_.appearance.spectacles, options_.appearance.distance_pd.mm(),
                           state);
    DrawHead(state, gain, &through, behind_lenses_);
  }
  DrawHead(state, gain, nullptr, picture);
}

EyeTruth Renderer::Truth(const PatientState& state, int eye) const {
  const auto e = static_cast<std::size_t>(eye);
  const CameraIntrinsics& camera = options_.optics.camera;
  const Eigen::Vector3d limbus = state.centre_mm[e] + kLimbusMm * state.gaze[e];
  EyeTruth truth;
  truth.centre_of_rotation_mm = state.centre_mm[e];
  truth.gaze = state.gaze[e];
  truth.drift = Angle::Radians(state.drift_rad[e]);
  std::optional<LensView> through;
  if (options_.appearance.spectacles) {
    through.emplace(*options_.appearance.spectacles, options_.appearance.distance_pd.mm(), state);
  }
  const auto apparent = [&](const Eigen::Vector3d& p) -> Eigen::Vector3d {
    if (!through) return p;
    const Eigen::Vector3d in_head = state.camera_from_head.transpose() * (p - state.eye_mid_mm);
    return state.camera_from_head * through->lenses[e].Apparent(through->camera, in_head) +
           state.eye_mid_mm;
  };
  truth.limbus_centre_px = Project(camera, apparent(limbus));
  const double radius = options_.appearance.iris.mm() / 2;
  truth.limbus_major_px = ProjectCircle(camera, limbus, state.gaze[e], radius).major_px;

  // A point of the limbus is seen when its ray passes the skin's surface inside the lids.
  const LidTable lids(shape_, LidsOf(state));
  const Eigen::Matrix3d head_from_camera = state.camera_from_head.transpose();
  const Eigen::Vector3d lens = head_from_camera * -state.eye_mid_mm;
  const Eigen::Vector3d a = state.gaze[e].unitOrthogonal();
  const Eigen::Vector3d b = state.gaze[e].cross(a);
  constexpr int kPoints = 72;
  int seen = 0;
  std::vector<cv::Point2f> rim;
  for (int i = 0; i < kPoints; ++i) {
    const double angle = 2 * std::numbers::pi * i / kPoints;
    const Eigen::Vector3d point = limbus + radius * (std::cos(angle) * a + std::sin(angle) * b);
    const Eigen::Vector2d px = Project(camera, apparent(point));
    rim.emplace_back(static_cast<float>(px.x()), static_cast<float>(px.y()));
    if (px.x() < -0.5 || px.y() < -0.5 || px.x() > camera.width - 0.5 ||
        px.y() > camera.height - 0.5) {
      continue;
    }
    const Eigen::Vector3d in_head = head_from_camera * (point - state.eye_mid_mm);
    Eigen::Vector3d skin = in_head;
    for (int k = 0; k < 4; ++k) {
      const double z = shape_.LidHeight(std::abs(skin.x()), skin.y());
      skin = lens + (in_head - lens) * ((z - lens.z()) / (in_head.z() - lens.z()));
    }
    const LidDistance lid = lids.At(std::abs(skin.x()), skin.y());
    if (std::min(lid.below_upper, lid.above_lower) > 0) ++seen;
  }
  truth.visible = static_cast<double>(seen) / kPoints;
  if (through) {
    const cv::Size2f axes = cv::fitEllipse(rim).size;
    truth.limbus_major_px = std::max(axes.width, axes.height);
  }
  return truth;
}

}  // namespace nearpoint::simulate
