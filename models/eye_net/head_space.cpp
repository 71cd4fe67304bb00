#include "models/eye_net/head_space.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>

namespace nearpoint::eye_net {
namespace {

template <typename T>
bool Read(std::ifstream& in, T* to, std::size_t count) {
  return static_cast<bool>(in.read(reinterpret_cast<char*>(to),  // NOLINT: the layout is the file's
                                   static_cast<std::streamsize>(count * sizeof(T))));
}

// What one direction of light reaches, by a depth picture seen from there.
std::vector<std::uint8_t> LitFrom(const HeadSpace& space, const Points& at,
                                  const Eigen::Vector3f& from) {
  constexpr int kSide = 200;
  constexpr float kPxPerMm = 0.8F;
  constexpr float kSlackMm = 2.0F;
  const Eigen::Vector3f u = from.unitOrthogonal();
  const Eigen::Vector3f v = from.cross(u);
  Points flat(3, at.cols());
  flat.row(0) = (u.transpose() * at).array() * kPxPerMm + kSide / 2.0F;
  flat.row(1) = (v.transpose() * at).array() * kPxPerMm + kSide / 2.0F;
  flat.row(2) = from.transpose() * at;
  std::vector<float> front(kSide * kSide, -std::numeric_limits<float>::max());
  for (const auto& t : space.triangles) {
    const Eigen::Vector3f a = flat.col(t[0]), b = flat.col(t[1]), c = flat.col(t[2]);
    const float area = (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
    if (std::abs(area) < 1e-6F) continue;
    const int x0 = std::max(0, static_cast<int>(std::min({a.x(), b.x(), c.x()})));
    const int x1 = std::min(kSide - 1, static_cast<int>(std::max({a.x(), b.x(), c.x()})) + 1);
    const int y0 = std::max(0, static_cast<int>(std::min({a.y(), b.y(), c.y()})));
    const int y1 = std::min(kSide - 1, static_cast<int>(std::max({a.y(), b.y(), c.y()})) + 1);
    for (int y = y0; y <= y1; ++y) {
      for (int x = x0; x <= x1; ++x) {
        const float px = static_cast<float>(x) - a.x(), py = static_cast<float>(y) - a.y();
        const float l1 = (px * (c.y() - a.y()) - py * (c.x() - a.x())) / area;
        const float l2 = ((b.x() - a.x()) * py - (b.y() - a.y()) * px) / area;
        if (l1 < 0 || l2 < 0 || l1 + l2 > 1) continue;
        float& z = front[static_cast<std::size_t>(y * kSide + x)];
        z = std::max(z, a.z() + l1 * (b.z() - a.z()) + l2 * (c.z() - a.z()));
      }
    }
  }
  std::vector<std::uint8_t> lit(static_cast<std::size_t>(at.cols()), 1);
  for (Eigen::Index i = 0; i < at.cols(); ++i) {
    const int x = static_cast<int>(flat(0, i) + 0.5F), y = static_cast<int>(flat(1, i) + 0.5F);
    if (x < 0 || y < 0 || x >= kSide || y >= kSide) continue;
    lit[static_cast<std::size_t>(i)] =
        front[static_cast<std::size_t>(y * kSide + x)] < flat(2, i) + kSlackMm ? 1 : 0;
  }
  return lit;
}

// The skin over the inner corner (a fold, none, the reverse) and the weight of the upper lid, which
// scans of few people hardly vary.
void ShapeLids(const HeadSpace& space, simulate::Random& random, Points* at) {
  const auto push = [&](const Eigen::Vector3f& centre, float reach, const Eigen::Vector3f& by) {
    for (Eigen::Index i = 0; i < at->cols(); ++i) {
      const float away = (at->col(i) - centre).squaredNorm() / (reach * reach);
      if (away < 9) at->col(i) += std::exp(-away / 2) * by;
    }
  };
  const bool fold = random.Uniform() < 0.4;
  const auto down = static_cast<float>(fold ? random.Uniform(0.5, 2.5) : random.Uniform(-0.3, 0.5));
  const bool heavy = random.Uniform() < 0.4;
  const auto hood = static_cast<float>(heavy ? random.Uniform(0.5, 3.0) : 0);
  for (const bool left : {true, false}) {
    const auto point = [&](int i) -> Eigen::Vector3f {
      return at->col(space.landmarks[static_cast<std::size_t>(i)]);
    };
    const float out = left ? 1 : -1;
    const Eigen::Vector3f inner = point(left ? 42 : 39);
    push(inner + Eigen::Vector3f(out * 1.5F, 2.0F, 0.5F), 2.2F,
         {out * 0.9F * down, -down, 0.4F * down});
    const Eigen::Vector3f lid = (point(left ? 43 : 37) + point(left ? 44 : 38)) / 2;
    push(lid + Eigen::Vector3f(0, 6, 1), 4.5F, {0, -hood, 0.5F * hood});
    push(lid + Eigen::Vector3f(out * 8, 4, 0), 4.5F, {0, -0.6F * hood, 0.4F * hood});
  }
}

}  // namespace

Result<HeadSpace> HeadSpace::Load(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  std::array<std::int32_t, 5> n{};
  if (!in || !Read(in, n.data(), n.size()))
    return Fail(ErrorCode::kNotFound, "'" + file + "' cannot be read: make it with pack_heads.py.");
  if (n[0] < 1 || n[1] < 1 || n[3] != kExpressions || n[4] != 68)
    return Fail(ErrorCode::kBadValue, "'" + file + "' holds no heads of pack_heads.py.");
  HeadSpace out;
  out.neutral.resize(3, n[0]);
  out.triangles.resize(static_cast<std::size_t>(n[1]));
  std::vector<std::int32_t> material(out.triangles.size());
  bool whole = Read(in, out.neutral.data(), static_cast<std::size_t>(out.neutral.size())) &&
               Read(in, out.triangles.data(), out.triangles.size()) &&
               Read(in, material.data(), material.size()) && Read(in, out.landmarks.data(), 68);
  for (const auto m : material) out.material.push_back(static_cast<Material>(m));
  std::vector<std::int16_t> steps(static_cast<std::size_t>(out.neutral.size()));
  for (int i = 0; whole && i < n[2] + n[3]; ++i) {
    float scale = 0;
    whole = Read(in, &scale, 1) && Read(in, steps.data(), steps.size());
    Points shape(3, n[0]);
    for (std::size_t k = 0; k < steps.size(); ++k)
      shape.data()[k] = scale * static_cast<float>(steps[k]);
    (i < n[2] ? out.identities : out.expressions).push_back(std::move(shape));
  }
  if (!whole) return Fail(ErrorCode::kUnreadable, "'" + file + "' ends too soon.");
  return out;
}

Person MakePerson(const HeadSpace& space, simulate::Random& random) {
  Person person;
  person.rest = space.neutral;
  for (const Points& shape : space.identities)
    person.rest += static_cast<float>(1.1 * random.Normal()) * shape;
  for (int e = 0; e < 2; ++e) {
    Eigen::Vector3f sum = Eigen::Vector3f::Zero();
    float front = -1e9F;
    int count = 0;
    const Material sclera = e == 0 ? Material::kLeftSclera : Material::kRightSclera;
    for (std::size_t t = 0; t < space.triangles.size(); ++t) {
      if (space.material[t] != sclera) continue;
      sum += person.rest.col(space.triangles[t][0]);
      front = std::max(front, person.rest(2, space.triangles[t][0]));
      ++count;
    }
    sum /= static_cast<float>(count);
    person.apex[static_cast<std::size_t>(e)] = {sum.x(), sum.y(), front + 0.3F};
  }
  const Eigen::Vector3f mid = (person.apex[0] + person.apex[1]) / 2;
  person.rest.colwise() -= mid;
  for (auto& apex : person.apex) apex -= mid;
  ShapeLids(space, random, &person.rest);
  constexpr int kDirections = 32;
  for (int k = 0; k < kDirections; ++k) {
    const float z = 1 - 1.5F * (static_cast<float>(k) + 0.5F) / kDirections;  // none from behind
    const float r = std::sqrt(1 - z * z), angle = 2.39996F * static_cast<float>(k);
    person.directions.emplace_back(r * std::cos(angle), r * std::sin(angle), z);
    person.lit.push_back(LitFrom(space, person.rest, person.directions.back()));
  }
  return person;
}

}  // namespace nearpoint::eye_net
