#include "app/print/optotype.h"

#include <array>
#include <string_view>
#include <utility>

namespace nearpoint {
namespace {

using Rows = std::array<std::string_view, 5>;
constexpr std::array<std::pair<char, Rows>, 7> kLetters{{
    {'E', {"#####", "#....", "#####", "#....", "#####"}},
    {'F', {"#####", "#....", "#####", "#....", "#...."}},
    {'H', {"#...#", "#...#", "#####", "#...#", "#...#"}},
    {'L', {"#....", "#....", "#....", "#....", "#####"}},
    {'T', {"#####", "..#..", "..#..", "..#..", "..#.."}},
    {'U', {"#...#", "#...#", "#...#", "#...#", "#####"}},
    {'Z', {"#####", "...#.", "..#..", ".#...", "#####"}},
}};

}  // namespace

QPainterPath Optotype(char letter, const QPointF& middle, double height) {
  QPainterPath path;
  const double stroke = height / 5;
  for (const auto& [name, rows] : kLetters) {
    if (name != letter) continue;
    for (std::size_t y = 0; y < rows.size(); ++y) {
      for (std::size_t x = 0; x < rows[y].size(); ++x) {
        if (rows[y][x] != '#') continue;
        path.addRect(middle.x() + (static_cast<double>(x) - 2.5) * stroke,
                     middle.y() + (static_cast<double>(y) - 2.5) * stroke, stroke, stroke);
      }
    }
  }
  return path.simplified();
}

}  // namespace nearpoint
