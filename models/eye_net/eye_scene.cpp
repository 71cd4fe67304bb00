#include "models/eye_net/eye_scene.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace nearpoint::eye_net {
namespace {

using Eigen::Vector3f;
using simulate::Random;

float Draw(Random& random, double low, double high) {
  return static_cast<float>(random.Uniform(low, high));
}
bool Chance(Random& random, double share) { return random.Uniform() < share; }
Vector3f Colour(Random& random, double low, double high) {
  return {Draw(random, low, high), Draw(random, low, high), Draw(random, low, high)};
}
Vector3f Jitter(Random& random, const Vector3f& colour, double by) {
  return colour.cwiseProduct(Colour(random, 1 - by, 1 + by));
}

EyeLook DrawEye(Random& random) {
  EyeLook eye;
  eye.iris_mm = std::clamp(static_cast<float>(5.8 + 0.28 * random.Normal()), 5.0F, 6.6F);
  eye.pupil_mm = Draw(random, 1.0, 3.4);
  eye.rim_mm = Draw(random, 0.25, 1.3);
  eye.ring = Draw(random, 0, 0.7);
  // Most people's irises are brown, and many of those hardly differ from a shaded lid.
  const double kind = random.Uniform();
  Vector3f iris = kind < 0.6    ? Vector3f(0.012F, 0.022F, 0.040F) * Draw(random, 0.5, 2.6)
                  : kind < 0.75 ? Vector3f(0.03F, 0.07F, 0.10F) * Draw(random, 0.6, 1.8)
                  : kind < 0.85 ? Vector3f(0.07F, 0.11F, 0.09F) * Draw(random, 0.6, 1.8)
                                : Vector3f(0.20F, 0.15F, 0.10F) * Draw(random, 0.5, 1.8);
  eye.iris = Jitter(random, iris, 0.25);
  const float white = Draw(random, 0.22, 0.75);
  eye.white = Jitter(random, Vector3f(1.05F, 1.0F, 0.97F) * white, 0.10);
  if (Chance(random, 0.2))
    eye.white = eye.white.cwiseProduct(Vector3f(0.75F, 0.85F, 1.05F));  // reddened
  eye.fibres = Draw(random, 0, 0.6);
  eye.veins = Draw(random, 0, 0.5);
  return eye;
}

SkinLook DrawSkin(Random& random) {
  SkinLook skin;
  const auto dark = static_cast<float>(std::pow(random.Uniform(), 1.2));
  const Vector3f light_skin(0.42F, 0.52F, 0.74F), dark_skin(0.030F, 0.048F, 0.095F);
  for (int k = 0; k < 3; ++k)
    skin.base[k] = std::pow(light_skin[k], 1 - dark) * std::pow(dark_skin[k], dark);
  skin.base = Jitter(random, skin.base * Draw(random, 0.8, 1.2), 0.12);
  skin.mottle = Draw(random, 0.03, 0.3);
  skin.pores = Draw(random, 0.0, 0.25);
  skin.freckles = Chance(random, 0.25) ? Draw(random, 0.1, 0.6) : 0;
  skin.circles = Chance(random, 0.6) ? Draw(random, 0, 0.6) : 0;
  skin.lid_tint = Draw(random, 0, 0.5);
  skin.gloss = Draw(random, 0, 0.25);
  skin.seed = static_cast<std::uint32_t>(random.Next());
  return skin;
}

HairLook DrawHair(Random& random) {
  HairLook hair;
  const double kind = random.Uniform();
  hair.colour = kind < 0.65  ? Vector3f(0.010F, 0.013F, 0.018F) * Draw(random, 0.4, 2.0)
                : kind < 0.8 ? Vector3f(0.03F, 0.055F, 0.11F) * Draw(random, 0.6, 1.6)
                : kind < 0.9 ? Vector3f(0.12F, 0.24F, 0.38F) * Draw(random, 0.6, 1.5)
                             : Vector3f(0.4F, 0.4F, 0.4F) * Draw(random, 0.5, 1.5);
  hair.brow_density = Draw(random, 0.3, 3.5);
  hair.brow_raise_mm = Draw(random, -3, 3);
  hair.brow_thick_mm = Draw(random, 1.5, 4.5);
  hair.brow_length_mm = Draw(random, 4, 10);
  hair.lash_density = Chance(random, 0.3) ? Draw(random, 1, 2.5) : Draw(random, 0.1, 1);
  hair.lash_length_mm = Draw(random, 4, 11);
  hair.lash_thick_mm = Draw(random, 0.12, 0.5);
  hair.lash_droop = Draw(random, -1, 1);
  hair.lower_lashes = Draw(random, 0, 0.7);
  hair.liner_mm = Chance(random, 0.3) ? Draw(random, 0.4, 2.2) : (Chance(random, 0.5) ? 0.4 : 0);
  if (Chance(random, 0.3)) {
    hair.shadow = Draw(random, 0.2, 0.8);
    hair.shadow_colour = Colour(random, 0.01, 0.4);
  }
  hair.crease = Chance(random, 0.7) ? Draw(random, 0.1, 0.6) : 0;
  hair.crease_mm = Draw(random, 2, 7);
  if (Chance(random, 0.35)) {
    hair.strands = static_cast<int>(random.Uniform(10, 260));
    hair.strand_x_mm = Draw(random, -60, 60);
    hair.strand_y_mm = Chance(random, 0.75) ? Draw(random, 12, 35) : Draw(random, -15, 15);
    hair.strand_spread_mm = Draw(random, 5, 70);
  }
  hair.hairline_mm = Draw(random, 45, 75);
  if (Chance(random, 0.2)) {
    hair.cloth_mm = Draw(random, 22, 55);
    hair.cloth = Colour(random, 0.01, 0.7);
  }
  hair.beard = Chance(random, 0.3) ? Draw(random, 0.2, 0.95) : 0;
  return hair;
}

GlassesLook DrawGlasses(Random& random) {
  GlassesLook g;
  g.worn = Chance(random, 0.4);
  if (!g.worn) return g;
  g.vertex_mm = Draw(random, 10, 17);
  g.half_width_mm = Draw(random, 21, 30);
  g.half_height_mm = Draw(random, 13, 26);
  g.power = Draw(random, 2, 5);
  g.rim_mm = Chance(random, 0.2) ? 0 : Draw(random, 0.6, 4.5);
  g.drop_mm = Draw(random, -1, 6);
  g.tilt = Draw(random, -0.05, 0.2);
  g.rim = Chance(random, 0.55) ? Vector3f(Colour(random, 0.005, 0.03))
                               : Vector3f(Colour(random, 0.02, 0.7));
  if (Chance(random, 0.6)) {
    const float power = Chance(random, 0.75) ? Draw(random, -8, -0.5) : Draw(random, 0.5, 5);
    g.dioptres = {power + Draw(random, -0.7, 0.7), power + Draw(random, -0.7, 0.7)};
  }
  g.veil = Chance(random, 0.5) ? Draw(random, 0, 0.12) : 0;
  g.mirror = Chance(random, 0.35) ? Draw(random, 0.03, 0.8) * Draw(random, 0.2, 1) : 0;
  const int reflections = Chance(random, 0.6) ? static_cast<int>(random.Uniform(1, 4)) : 0;
  for (int i = 0; i < reflections; ++i) {
    g.reflections.push_back({{Draw(random, -1, 1), Draw(random, -1, 1)},
                             {Draw(random, 0.05, 0.7), Draw(random, 0.05, 0.6)},
                             Draw(random, -0.5, 0.5),
                             Draw(random, 0.02, 1.2) * Draw(random, 0.1, 1)});
  }
  return g;
}

LightLook DrawLight(Random& random, const Person& person) {
  LightLook light;
  light.from.assign(person.directions.size(), Vector3f::Zero());
  const Vector3f top = Jitter(random, Vector3f::Ones() * Draw(random, 0.2, 1.2), 0.15);
  const Vector3f bottom = Jitter(random, Vector3f::Ones() * Draw(random, 0.05, 0.5), 0.2);
  struct Lamp {
    Vector3f to, colour;
    float narrow;
  };
  std::vector<Lamp> lamps;
  const int count = static_cast<int>(random.Uniform(0, 4));
  for (int i = 0; i < count; ++i) {
    Vector3f to(Draw(random, -1.2, 1.2), Draw(random, -0.4, 1.2), Draw(random, 0.0, 1.0));
    to.normalize();
    lamps.push_back({to, Jitter(random, Vector3f::Ones() * std::exp(Draw(random, -1.2, 2.0)), 0.25),
                     Draw(random, 2, 26)});
  }
  for (std::size_t k = 0; k < person.directions.size(); ++k) {
    const Vector3f& w = person.directions[k];
    Vector3f sum = bottom + (top - bottom) * (0.5F + 0.5F * w.y());
    for (const Lamp& lamp : lamps)
      sum += lamp.colour * std::pow(std::max(0.0F, w.dot(lamp.to)), lamp.narrow) *
             (1 + 0.35F * lamp.narrow);
    light.from[k] = sum;
  }
  light.screen_in_camera = {Draw(random, -150, 150), Draw(random, 40, 200), Draw(random, -20, 20)};
  light.screen = Chance(random, 0.6) ? Draw(random, 0, 1.5) : 0;
  light.corneal_count = static_cast<int>(random.Uniform(0, 2.7));
  for (int i = 0; i < light.corneal_count; ++i) {
    light.corneal[static_cast<std::size_t>(i)] = {Draw(random, -6.5, 6.5), Draw(random, -5, 5),
                                                  Draw(random, 0.25, 1.8), Draw(random, 0.05, 1.5)};
  }
  return light;
}

}  // namespace

Looks DrawLooks(Random& random) {
  Looks out{DrawEye(random), DrawHair(random), DrawGlasses(random), DrawSkin(random)};
  const double kind = random.Uniform();
  if (kind < 0.45) {
    out.narrow = random.Uniform(0, 0.42);
    out.squint = random.Uniform(0, 0.7);
  } else if (kind < 0.75) {
    out.wide = random.Uniform(0, 0.6);
  } else {
    out.narrow = random.Uniform(-0.05, 0.2);
    out.squint = random.Uniform(0, 0.3);
  }
  return out;
}

Scene DrawScene(const HeadSpace& space, const Person& person, const Looks& looks, Random& random) {
  Scene s;
  s.space = &space;
  s.person = &person;
  s.eye = looks.eye;
  s.hair = looks.hair;
  s.glasses = looks.glasses;
  s.skin = looks.skin;
  s.light = DrawLight(random, person);
  s.eye.pupil_mm *= Draw(random, 0.8, 1.2);

  s.focal = Draw(random, 0.62, 1.15);
  s.aspect = 0.6F;
  const double d = std::exp(random.Uniform(std::log(46), std::log(700)));
  const double spread = Chance(random, 0.2) ? 2.2 : 1;
  const double yaw = 0.17 * spread * random.Normal(),
               pitch = 0.15 * spread * random.Normal() - 0.03,
               roll = 0.13 * spread * random.Normal();
  const Eigen::Matrix3d turn = (Eigen::AngleAxisd(roll, Eigen::Vector3d::UnitZ()) *
                                Eigen::AngleAxisd(yaw, Eigen::Vector3d::UnitY()) *
                                Eigen::AngleAxisd(pitch, Eigen::Vector3d::UnitX()))
                                   .toRotationMatrix();
  const Eigen::DiagonalMatrix<double, 3> flip(1, -1, -1);
  s.camera_from_head = (flip * turn).cast<float>();
  s.mid = {static_cast<float>(random.Uniform(-0.22, 0.22) * d / s.focal),
           static_cast<float>(random.Uniform(-0.6, 0.6) * s.aspect * 0.5 * d / s.focal),
           static_cast<float>(d)};

  // Where the eyes look: at something beside the lens, or anywhere.
  Vector3f target(Draw(random, -60, 60), Draw(random, -30, 150), 0);
  if (Chance(random, 0.3))
    target = {Draw(random, -400, 400), Draw(random, -250, 350), Draw(random, -50, 50)};
  const Vector3f target_in_head = s.camera_from_head.transpose() * (target - s.mid);
  const double drift = Chance(random, 0.35) ? random.Uniform(-4, 16) * std::numbers::pi / 180 : 0;
  const int drifting = Chance(random, 0.5) ? 0 : 1;
  for (int e = 0; e < 2; ++e) {
    const auto i = static_cast<std::size_t>(e);
    s.centre[i] = person.apex[i] - Vector3f(0, 0, 13.5F);
    Vector3f look = target_in_head;
    if (s.glasses.worn && s.glasses.dioptres[i] != 0) {
      // The eye looks at the image that the lens makes of the target.
      const Vector3f lens = person.apex[i] + Vector3f(0, -1.5F, s.glasses.vertex_mm);
      const Vector3f to = look - lens;
      if (to.z() > 1) look = lens + to / (1 - s.glasses.dioptres[i] / 1000 * to.z());
    }
    Vector3f gaze = (look - s.centre[i]).normalized();
    if (gaze.z() < 0.6F) gaze = (gaze + Vector3f(0, 0, 1.2F)).normalized();
    if (e == drifting)
      gaze =
          Eigen::AngleAxisf(static_cast<float>(e == 0 ? drift : -drift), Vector3f::UnitY()) * gaze;
    s.gaze[i] = gaze;
  }

  s.head = person.rest;
  const auto add = [&](int expression, int eye, double weight) {
    if (weight != 0)
      s.head += static_cast<float>(weight) *
                space.expressions[static_cast<std::size_t>(expression + eye)];
  };
  const double state = random.Uniform();
  // Open, on the way, shut. Both eyes mostly do alike.
  double shut =
      state < 0.74 ? 0 : (state < 0.86 ? random.Uniform(0.25, 0.9) : random.Uniform(0.97, 1.06));
  const bool wink = Chance(random, 0.04);
  const double smile = Chance(random, 0.3) ? random.Uniform(0, 1) : 0;
  for (int e = 0; e < 2; ++e) {
    const auto i = static_cast<std::size_t>(e);
    const double closes = wink && e == 0 ? 1 - std::min(1.0, shut) : shut;
    const double rest = looks.narrow + 0.03 * random.Normal();
    const double blink = std::clamp(rest + (1 - std::max(0.0, rest)) * closes, -0.1, 1.06);
    s.blink[i] = static_cast<float>(blink);
    const double up = std::asin(static_cast<double>(s.gaze[i].y())) * 180 / std::numbers::pi;
    const double out =
        std::atan2(s.gaze[i].x(), s.gaze[i].z()) * 180 / std::numbers::pi * (e == 0 ? 1 : -1);
    const double open = 1 - std::clamp(blink, 0.0, 1.0);
    add(kBlink, e, blink);
    add(kSquint, e, looks.squint * open + 0.4 * smile * open);
    add(kWide, e, looks.wide * open);
    add(kLookDown, e, 0.85 * std::clamp(-up / 25, 0.0, 1.3) * open);
    add(kLookUp, e, std::clamp(up / 25, 0.0, 1.3) * open);
    add(kLookIn, e, std::clamp(-out / 30, 0.0, 1.3));
    add(kLookOut, e, std::clamp(out / 30, 0.0, 1.3));
    add(kCheekSquint, e, 0.7 * smile);
    add(kSmile, e, smile);
  }
  const double brow = random.Uniform(-1, 1);
  for (int e = 0; e < 2; ++e) {
    add(kBrowDown, e, std::max(0.0, brow));
    add(kBrowInnerUp, e, std::max(0.0, -brow) * random.Uniform());
    add(kBrowOuterUp, e, std::max(0.0, -brow));
  }
  if (Chance(random, 0.3)) add(kJawOpen, 0, random.Uniform(0, 0.5));
  // Sclerae stay at rest.
  for (std::size_t t = 0; t < space.triangles.size(); ++t) {
    if (space.material[t] != Material::kLeftSclera && space.material[t] != Material::kRightSclera)
      continue;
    for (const int v : space.triangles[t]) s.head.col(v) = person.rest.col(v);
  }
  return s;
}

}  // namespace nearpoint::eye_net
