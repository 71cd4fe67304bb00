// Runs a target over every file of its corpus, whole, cut off at each length and with seeded
// damage.
//   fuzz_X FOLDER
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "tests/fuzz/fuzz.h"

namespace {

constexpr int kDamaged = 400;  // from each file

std::string Damage(std::string text, std::mt19937& random) {
  const auto anywhere = [&](std::size_t size) { return random() % (size + 1); };
  for (auto times = 1 + random() % 4; times > 0; --times) {
    const std::size_t at = anywhere(text.size());
    switch (random() % 5) {
      case 0:
        if (at < text.size()) text[at] = static_cast<char>(random());
        break;
      case 1:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << random() % 8));
        break;
      case 2:
        text.erase(at, anywhere(8));
        break;
      case 3:
        text.insert(at, text.substr(anywhere(text.size()), anywhere(20)));
        break;
      default: {
        constexpr const char* kOdd[] = {"-1",   "1e999", "null", "[", "\"",
                                        "\xff", "{}",    "0",    ",", "\n"};
        text.insert(at, kOdd[random() % std::size(kOdd)]);
      }
    }
  }
  return text;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: %s FOLDER\n", argv[0]);
    return 2;
  }
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(argv[1])) {
    files.push_back(entry.path());
  }
  std::ranges::sort(files);
  FuzzOne("");
  std::mt19937 random(1);
  std::size_t runs = 0;
  for (const auto& file : files) {
    std::ostringstream content;
    content << std::ifstream(file, std::ios::binary).rdbuf();
    const std::string text = content.str();
    const std::size_t step = std::max<std::size_t>(1, text.size() / 200);
    for (std::size_t size = 0; size <= text.size(); size += step, ++runs) {
      FuzzOne(std::string_view(text).substr(0, size));
    }
    FuzzOne(text);
    for (int i = 0; i < kDamaged; ++i, ++runs) FuzzOne(Damage(text, random));
  }
  std::printf("%zu files, %zu inputs\n", files.size(), runs);
  return files.empty() ? 1 : 0;
}
