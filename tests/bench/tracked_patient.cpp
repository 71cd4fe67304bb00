#include "tests/bench/tracked_patient.h"

#include <fstream>
#include <utility>

#include "app/measure/vergence_trace.h"
#include "app/run/run_facts.h"
#include "app/run/setup_tracker.h"

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

void WriteTrace(const std::string& file, std::span<const DistanceSample> samples) {
  std::ofstream out(file);
  out << "time_s,distance_mm,vergence_deg,demand_deg,yaw_deg,sd_deg,left_deg,right_deg,sideways,"
         "split_sd_deg\n";
  for (const VergenceFrame& f : CleanTrace(samples).frames) {
    out << f.time_s << ',' << f.distance_mm << ',' << f.vergence_deg << ',' << f.demand_deg << ','
        << f.yaw_deg << ',' << f.reported_sd_deg << ',' << f.left_deg << ',' << f.right_deg << ','
        << f.sideways << ',' << f.split_sd_deg << '\n';
  }
}

}  // namespace nearpoint
