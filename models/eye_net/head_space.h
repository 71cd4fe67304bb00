// Heads of the shape space of ICT-FaceKit (heads.bin, see pack_heads.py), for training and for
// scores. Head frame in millimetres: origin between the corneal apices, x to the patient's left, y
// up, z out of the face.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "vision/core/result.h"
#include "vision/simulate/random.h"

namespace nearpoint::eye_net {

using Points = Eigen::Matrix<float, 3, Eigen::Dynamic>;

enum class Material : std::uint8_t { kSkin, kInside, kLeftSclera, kRightSclera };

// Offsets of the expressions in pairs, left then right; the order of pack_heads.py.
enum Expression : std::uint8_t {
  kBlink = 0,
  kSquint = 2,
  kWide = 4,
  kLookDown = 6,
  kLookUp = 8,
  kLookIn = 10,
  kLookOut = 12,
  kCheekSquint = 14,
  kBrowDown = 16,
  kBrowInnerUp = 18,
  kBrowOuterUp = 20,
  kSmile = 22,
  kSneer = 24,
  kJawOpen = 26,
  kExpressions = 27
};

struct HeadSpace {
  Points neutral;
  std::vector<std::array<int, 3>> triangles;
  std::vector<Material> material;
  std::array<int, 68> landmarks{};
  std::vector<Points> identities, expressions;

  [[nodiscard]] static Result<HeadSpace> Load(const std::string& file);
};

// One person: its shape at rest, and which light reaches which point of it.
struct Person {
  Points rest;
  std::array<Eigen::Vector3f, 2> apex;  // left, right
  std::vector<Eigen::Vector3f> directions;
  std::vector<std::vector<std::uint8_t>> lit;  // per direction, per vertex
};

[[nodiscard]] Person MakePerson(const HeadSpace& space, simulate::Random& random);

}  // namespace nearpoint::eye_net
