// exercise_vergence [FACES]: how the tracker follows eyes that cross before the screen, as in the
// exercise. Prints, over rendered faces half a metre and 43 cm from the screen, the extra vergence
// over looking at the screen that was shown and that was measured, and how many frames had both
// eyes.
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <vector>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"
#include "app/measure/robust.h"
#include "models/landmark_model.h"
#include "vision/camera/frame.h"
#include "vision/pipeline/tracker.h"
#include "vision/simulate/patient.h"

namespace nearpoint {
namespace {

constexpr double kFramesPerSecond = 15;

simulate::PatientOptions LooksAt(int face, double screen_mm, double distance_mm) {
  simulate::PatientOptions o;
  o.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  o.seed = 1 + static_cast<std::uint64_t>(face);
  o.appearance.texture_seed = o.seed;
  o.appearance.distance_pd = Length::Millimeters(58 + 2 * (face % 4));
  o.behaviour.trials = 1;
  o.behaviour.fusion_holds = true;
  o.behaviour.start = Length::Millimeters(distance_mm);
  o.behaviour.nearest = Length::Millimeters(distance_mm - 10);
  o.behaviour.approach = Speed::MillimetersPerSecond(1);
  o.behaviour.frames_per_second = kFramesPerSecond;
  o.target_mm = {0, 20, screen_mm - distance_mm};
  return o;
}

struct Looked {
  double vergence_deg = 0;
  double seen_share = 0;
};

Looked Look(Tracker& tracker, const simulate::PatientOptions& options, int frames, Time* now,
            std::int64_t* index) {
  auto patient = simulate::MakePatient(options);
  if (!patient) return {};
  std::vector<double> vergence;
  for (int i = 0; i < frames; ++i) {
    const auto frame = (*patient)->Next();
    *now += FromMilliseconds(1e3 / kFramesPerSecond);
    const auto sample = tracker.Process(Frame((*index)++, *now, (*frame)->bgr().clone()));
    if (i >= frames / 3 && sample && sample->vergence) vergence.push_back(sample->vergence->deg());
  }
  const int judged = frames - frames / 3;
  Looked looked;
  looked.seen_share = static_cast<double>(vergence.size()) / judged;
  if (!vergence.empty()) looked.vergence_deg = MedianOf(vergence);
  return looked;
}

// Eyes to the point half way in vergence between screen and finger, where the tracker is told to
// expect them.
double HalfWay(Length pupils, double screen_mm, double finger_mm) {
  const auto from_centres = [](double mm) { return Length::Millimeters(mm) + kCorneaToRotation; };
  const Angle middle = (ConvergenceAngle(pupils, from_centres(screen_mm), Length()) +
                        ConvergenceAngle(pupils, from_centres(finger_mm), Length())) /
                       2;
  return CrossingDistance(pupils, middle).mm() - kCorneaToRotation.mm();
}

int Run(int faces) {
  const auto model = FindLandmarkModel();
  if (!model) return 1;
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  std::printf("  face  screen  finger   extra asked  measured   gain   frames with both eyes\n");
  for (int face = 0; face < faces; ++face) {
    for (const double screen : {430.0, 500.0}) {
      for (const double finger : {200.0, 130.0, 90.0}) {
        const auto far = LooksAt(face, screen, screen);
        TrackerOptions options;
        options.nearest_gaze = Length::Millimeters(42);
        Profile profile = simulate::TrueProfile(far);
        profile.target_mm.z() += screen - HalfWay(far.appearance.distance_pd, screen, finger);
        auto tracker = Tracker::Create(
            profile, {*model, *FindEyeFinderModel(), *FindEyeReaderModel()}, options);
        if (!tracker) return 1;
        Time now{};
        std::int64_t index = 0;
        const Looked at_screen = Look(*tracker, far, 24, &now, &index);
        // The eyes follow the fingertip in within half a second.
        for (int step = 1; step < 8; ++step) {
          const double mm = 1 / (1 / screen + (1 / finger - 1 / screen) * step / 8);
          Look(*tracker, LooksAt(face, screen, mm), 1, &now, &index);
        }
        const Looked at_finger = Look(*tracker, LooksAt(face, screen, finger), 24, &now, &index);
        const Length pupils = far.appearance.distance_pd;
        const auto angle = [&](double mm) {
          return 2 * std::atan(0.5 * pupils.mm() / (mm + kCorneaToRotation.mm())) * 180 /
                 std::numbers::pi;
        };
        const double asked = angle(finger - 1) - angle(screen - 1);
        const double measured = at_finger.vergence_deg - at_screen.vergence_deg;
        std::printf("  %4d  %6.0f  %6.0f  %10.1f  %9.1f  %6.2f   %.2f %.2f\n", face, screen, finger,
                    asked, measured, measured / asked, at_screen.seen_share, at_finger.seen_share);
      }
    }
  }
  return 0;
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) { return nearpoint::Run(argc > 1 ? std::atoi(argv[1]) : 3); }
