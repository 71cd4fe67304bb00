// The maximum of our likelihood against R: survival::survreg (Therneau, A Package for Survival
// Analysis in R) for censored values and metafor::rma (Viechtbauer, J Stat Softw 2010;36(3)) for
// values with deviations of their own.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "app/measure/max_likelihood.h"

namespace nearpoint {
namespace {

struct Case {
  std::string name;
  std::string kind;  // left, interval2, ML, REML; REML line, ML line, lm line
  std::vector<Observation> observations;
};

Observation Seen(double value, double variance = 0) {
  return {value, variance, 0, Censoring::kNone};
}
Observation Below(double bound) { return {bound, 0, 0, Censoring::kBelow}; }
Observation Above(double bound) { return {bound, 0, 0, Censoring::kAbove}; }

// Sessions over weeks: their own variances, and a line through them.
void AddCourses(std::vector<Case>& cases) {
  std::mt19937_64 random(31);
  std::normal_distribution<> normal;
  for (const int n : {4, 6, 12, 40}) {
    Case course{"course " + std::to_string(n), "REML line", {}};
    Case plain{"plain course " + std::to_string(n), "lm line", {}};
    for (int i = 0; i < n; ++i) {
      const double week = 0.9 * i + 0.3 * std::abs(normal(random));
      const double sd = 2 + 3 * std::abs(normal(random));
      Observation o = Seen(120 - 6 * week + 7 * normal(random) + sd * normal(random), sd * sd);
      o.position = week;
      course.observations.push_back(o);
      o.variance = 0;
      plain.observations.push_back(o);
    }
    cases.push_back(course);
    cases.push_back(plain);
    course.name += " unrestricted";
    course.kind = "ML line";
    cases.push_back(course);
  }
}

std::vector<Case> MakeCases() {
  std::vector<Case> cases;
  cases.push_back({"three, one to the nose", "left", {Seen(62), Seen(71), Below(50)}});
  cases.push_back({"four of six to the nose",
                   "left",
                   {Below(50), Below(52), Seen(57), Below(50), Seen(66), Below(51)}});
  cases.push_back({"one double from the start",
                   "interval2",
                   {Seen(92), Seen(110), Seen(104), Above(300), Above(120)}});
  cases.push_back(
      {"both ends", "interval2", {Below(50), Seen(58), Seen(77), Above(95), Seen(69), Below(60)}});
  cases.push_back({"bounds inside the values",
                   "interval2",
                   {Seen(40), Below(66), Seen(81), Above(55), Seen(70)}});

  std::mt19937_64 random(20);
  std::normal_distribution<> normal;
  for (const int n : {3, 5, 10, 24}) {
    Case left{"drawn " + std::to_string(n), "left", {}};
    Case spread{"own deviations " + std::to_string(n), "ML", {}};
    for (int i = 0; i < n; ++i) {
      const double value = 80 + 8 * normal(random);
      left.observations.push_back(value < 75 && i > 1 ? Below(75) : Seen(value));
      const double sd = 1 + 3 * std::abs(normal(random));
      spread.observations.push_back(Seen(80 + 8 * normal(random) + sd * normal(random), sd * sd));
    }
    cases.push_back(left);
    cases.push_back(spread);
    spread.name += " restricted";
    spread.kind = "REML";
    cases.push_back(spread);
  }
  // Scatter smaller than the deviations say: the between-trial deviation is zero.
  cases.push_back(
      {"no spread left", "ML", {Seen(80, 25), Seen(81, 16), Seen(79.5, 36), Seen(80.2, 25)}});
  cases.push_back({"no spread left restricted",
                   "REML",
                   {Seen(80, 25), Seen(81, 16), Seen(79.5, 36), Seen(80.2, 25)}});
  AddCourses(cases);
  return cases;
}

struct Fit {
  double mean = 0, sd = 0, log = 0, se = 0, slope = 0, slope_se = 0;
};

// A folder of this run's own, gone at the end.
class ScratchFolder {
 public:
  ScratchFolder() {
    path_ = std::filesystem::temp_directory_path() / ("nearpoint_r_" + std::to_string(::getpid()));
    std::filesystem::create_directories(path_);
  }
  ~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  [[nodiscard]] std::string File(const char* name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

void WriteCases(const std::vector<Case>& cases, const std::string& path) {
  std::ofstream file(path);
  file.precision(17);
  file << "case,kind,value,variance,position,censored\n";
  for (const Case& c : cases) {
    const std::string name = c.name.find(',') == std::string::npos ? c.name : "\"" + c.name + "\"";
    for (const Observation& o : c.observations) {
      file << name << "," << c.kind << "," << o.value << "," << o.variance << "," << o.position
           << "," << ToText(o.censoring) << "\n";
    }
  }
}

std::map<std::string, Fit> ReadFits(const std::string& path) {
  std::map<std::string, Fit> fits;
  std::ifstream file(path);
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    // The name may hold a comma, the six numbers do not.
    std::vector<double> numbers(6);
    for (int i = 5; i >= 0; --i) {
      const std::size_t comma = line.rfind(',');
      numbers[static_cast<std::size_t>(i)] = std::strtod(line.c_str() + comma + 1, nullptr);
      line.resize(comma);
    }
    fits[line] = {numbers[0], numbers[1], numbers[2], numbers[3], numbers[4], numbers[5]};
  }
  return fits;
}

// log |X'X| of a column of ones, and with a line of the positions beside it.
double LogDesign(const std::vector<Observation>& observations, bool line) {
  double sum = 0, squares = 0;
  for (const Observation& o : observations) {
    sum += o.position;
    squares += o.position * o.position;
  }
  const auto n = static_cast<double>(observations.size());
  return std::log(line ? n * squares - sum * sum : n);
}

TEST(RAgreement, MaximumLikelihoodIsTheirs) {
  ASSERT_EQ(std::system("Rscript --version > /dev/null 2>&1"), 0)
      << "Rscript is not installed; this check needs the packages r-base-core, r-cran-survival and "
         "r-cran-metafor.";
  const std::vector<Case> cases = MakeCases();
  const ScratchFolder scratch;
  WriteCases(cases, scratch.File("cases.csv"));
  const std::string command = "Rscript --vanilla '" NEARPOINT_REFERENCE_FITS "' '" +
                              scratch.File("cases.csv") + "' '" + scratch.File("fits.csv") + "'";
  ASSERT_EQ(std::system(command.c_str()), 0)
      << "The R program failed; it needs the packages r-cran-survival and r-cran-metafor.";
  const std::map<std::string, Fit> fits = ReadFits(scratch.File("fits.csv"));
  ASSERT_EQ(fits.size(), cases.size());

  for (const Case& c : cases) {
    SCOPED_TRACE(c.name);
    ASSERT_TRUE(fits.contains(c.name));
    const Fit& theirs = fits.at(c.name);
    const bool line = c.kind.ends_with("line");
    const bool restricted = c.kind.starts_with("REML") || c.kind == "lm line";
    const MaximumLikelihood ours = FitMaximumLikelihood(
        c.observations, restricted ? SpreadMethod::kRestricted : SpreadMethod::kMaximumLikelihood,
        line ? Slope::kFree : Slope::kZero);
    // A part in 10^4; where the deviation is zero, of a millimetre.
    constexpr double kRelative = 1e-4;
    EXPECT_NEAR(ours.mean, theirs.mean, kRelative * std::abs(theirs.mean));
    EXPECT_NEAR(ours.between_sd, theirs.sd, kRelative * std::max(theirs.sd, 1.0));
    // metafor's restricted likelihood carries the constant log |X'X| / 2, lm's does not.
    const double constant =
        restricted && c.kind != "lm line" ? 0.5 * LogDesign(c.observations, line) : 0;
    EXPECT_NEAR(ours.log_likelihood + constant, theirs.log, kRelative * std::abs(theirs.log));
    if (theirs.se > 0) {
      EXPECT_NEAR(ours.mean_standard_error, theirs.se, kRelative * theirs.se);
    }
    if (line) {
      EXPECT_NEAR(ours.slope, theirs.slope, kRelative * std::abs(theirs.slope));
      EXPECT_NEAR(ours.slope_standard_error, theirs.slope_se, kRelative * theirs.slope_se);
    }
  }
}

}  // namespace
}  // namespace nearpoint
