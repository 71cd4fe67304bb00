// nearpoint_bench_demo [SEEDS]: the demo with several seeds; how far break and recovery are from
// what the patient really did, and whether the bands hold the truth.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "app/cli/demo_command.h"

int main(int argc, char** argv) {
  using namespace nearpoint;  // NOLINT
  const int seeds = argc > 1 ? std::atoi(argv[1]) : 10;
  const auto folder = std::filesystem::temp_directory_path() / "nearpoint-bench-demo";
  int near = 0, held = 0;
  for (int seed = 1; seed <= seeds; ++seed) {
    DemoArguments arguments;
    arguments.seed = static_cast<std::uint64_t>(seed);
    arguments.out = (folder / std::to_string(seed)).string();
    if (const auto done = RunDemo(arguments); !done) {
      std::fprintf(stderr, "%s\n", done.error().message.c_str());
      return 1;
    }
    std::ifstream file(std::filesystem::path(arguments.out) / "session.json");
    const auto session = nlohmann::json::parse(file);
    const auto script = simulate::MakeScript(DemoPatient(arguments));
    const auto& band = session["estimate"]["break_mm"];
    const double truth = script.true_break.mm();
    const double error = band["value"].is_null() ? NAN : band["value"].get<double>() - truth;
    const bool inside = !band["high"].is_null() && band["low"].get<double>() <= truth &&
                        truth <= band["high"].get<double>();
    near += std::abs(error) <= 5;
    held += inside;
    std::printf("seed %2d: break error %+.2f mm, band %s the truth\n", seed, error,
                inside ? "holds" : "misses");
    std::fflush(stdout);
  }
  std::filesystem::remove_all(folder);
  std::printf("within 5 mm: %d of %d; truth inside the 95 %% band: %d of %d\n", near, seeds, held,
              seeds);
  return 0;
}
