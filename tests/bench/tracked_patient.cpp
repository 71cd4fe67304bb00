#include "tests/bench/tracked_patient.h"

#include <utility>

#include "app/cli/session_run.h"

namespace nearpoint {

Result<std::vector<DistanceSample>> TrackPatient(const simulate::PatientOptions& patient) {
  auto source = simulate::MakePatient(patient);
  if (!source) return tl::unexpected(source.error());
  auto tracker = MakeTracker(simulate::TrueProfile(patient));
  if (!tracker) return tl::unexpected(tracker.error());
  std::vector<DistanceSample> samples;
  while (true) {
    auto frame = (*source)->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) return samples;
    auto sample = tracker->Process(**frame);
    if (!sample) return tl::unexpected(sample.error());
    samples.push_back(*std::move(sample));
  }
}

}  // namespace nearpoint
