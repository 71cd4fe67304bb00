// One moment of one person before one camera, drawn at random: everything a picture of it needs.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "models/eye_net/head_space.h"

namespace nearpoint::eye_net {

struct EyeLook {
  float iris_mm = 5.8F;         // radius of the limbus
  float pupil_mm = 1.8F;        // radius
  float rim_mm = 0.5F;          // over which iris turns to white
  float ring = 0.4F;            // how much darker the iris is near its rim
  Eigen::Vector3f iris, white;  // reflectance, BGR
  float fibres = 0.4F;
  float veins = 0.2F;
};

struct HairLook {
  Eigen::Vector3f colour;
  double brow_density = 1, brow_raise_mm = 0, brow_thick_mm = 3, brow_length_mm = 7;
  double lash_density = 1, lash_length_mm = 7, lash_thick_mm = 0.3;
  double lash_droop = 0;      // -1 up .. 1 hanging over the eye
  double lower_lashes = 0.4;  // share of the upper ones
  double liner_mm = 0;        // a dark line on the lid
  double shadow = 0;          // coloured upper lid
  Eigen::Vector3f shadow_colour;
  double crease = 0;  // dark line of the fold above the lid
  double crease_mm = 4;
  int strands = 0;  // hair before the face
  double strand_x_mm = 0, strand_y_mm = 30, strand_spread_mm = 20;
  double hairline_mm = 60;  // y where hair begins
  double cloth_mm = 1e3;    // y where a hat or scarf begins
  Eigen::Vector3f cloth;
  double beard = 0;
};

struct GlassesLook {
  bool worn = false;
  float vertex_mm = 12, half_width_mm = 25, half_height_mm = 18,
        power = 2.5F;  // of the superellipse
  float rim_mm = 2;
  float drop_mm = 2;
  float tilt = 0;  // of the lens about x, radians
  Eigen::Vector3f rim;
  std::array<float, 2> dioptres{};  // left, right
  float veil = 0;
  float mirror = 0;  // light of a room that the lenses show
  struct Reflection {
    Eigen::Vector2f middle, half;  // in half sizes of the lens
    float slant = 0, light = 0;
  };
  std::vector<Reflection> reflections;
};

struct SkinLook {
  Eigen::Vector3f base;  // reflectance, BGR
  float mottle = 0.1F, pores = 0.05F, freckles = 0;
  float circles = 0;  // dark under the eyes
  float lid_tint = 0;
  float gloss = 0.05F;
  std::uint32_t seed = 1;
};

struct LightLook {
  std::vector<Eigen::Vector3f> from;  // light from each direction of the person, BGR
  Eigen::Vector3f screen_in_camera{0, 150, 0};
  float screen = 0.3F;
  std::array<Eigen::Vector4f, 3>
      corneal{};  // x, y, half size, light: patches that the cornea mirrors
  int corneal_count = 0;
};

struct Scene {
  const HeadSpace* space = nullptr;
  const Person* person = nullptr;
  Points head;  // deformed, head frame
  Eigen::Matrix3f camera_from_head;
  Eigen::Vector3f mid;                          // camera frame, mm
  float focal = 1;                              // over the picture's width
  float aspect = 0.6F;                          // height over width
  std::array<Eigen::Vector3f, 2> centre, gaze;  // head frame, of rotation; left, right
  std::array<float, 2> blink{};
  EyeLook eye;
  HairLook hair;
  GlassesLook glasses;
  SkinLook skin;
  LightLook light;

  [[nodiscard]] Eigen::Vector3f ToCamera(const Eigen::Vector3f& in_head) const {
    return camera_from_head * in_head + mid;
  }
};

// What all moments of one person share.
struct Looks {
  EyeLook eye;
  HairLook hair;
  GlassesLook glasses;
  SkinLook skin;
  double narrow = 0, wide = 0, squint = 0;  // weights of the lids at rest
};
[[nodiscard]] Looks DrawLooks(simulate::Random& random);
[[nodiscard]] Scene DrawScene(const HeadSpace& space, const Person& person, const Looks& looks,
                              simulate::Random& random);

}  // namespace nearpoint::eye_net
