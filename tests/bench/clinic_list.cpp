// nearpoint_bench_clinic [PEOPLE] [SESSIONS]: a clinic's file of that size, opened, put in order
// and one patient's time line made; prints the time of each and the memory. Asked for: 1,000 people
// with 100 sessions below 1 s and 500 MB.
#include <sys/resource.h>

#include <QCoreApplication>
#include <QDateTime>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "app/clinic/time_line.h"
#include "app/clinic_store/receive.h"
#include "app/records/exercise_plan_json.h"
#include "tests/support/clinic_sessions.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using Clock = std::chrono::steady_clock;

double SecondsSince(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

double PeakMegabytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

// The rows as receiving writes them; one session's text and digest serve each day, since writing
// them a hundred thousand times is not what is measured.
Result<void> Fill(ClinicStore& store, int people, int sessions) {
  std::mt19937 random(1);
  std::vector<std::string> texts;
  std::vector<SessionDigest> digests;
  for (int i = 0; i < 40; ++i) {
    SentSession sent;
    const double mm = 40 + 2.0 * i;
    sent.breaks_mm = {mm - 3, mm, mm + 3, mm + 1};
    sent.eyes_disagree = i % 7 == 0;
    sent.comfort = i % 11 == 0 ? "double" : "fine";
    texts.push_back(SessionText(sent));
    digests.push_back(DigestOf(texts.back(), AuditLog(HashOf(texts.back())), 0, "s").value());
  }
  return store.database().InTransaction([&]() -> Result<void> {
    for (int person = 1; person <= people; ++person) {
      const auto added =
          store.database().Run("INSERT INTO patient (id, name, created_at) VALUES (?, ?, ?)",
                               {person, QString("Person %1").arg(person), store.NowText()});
      if (!added) return tl::unexpected(added.error());
      for (int session = 0; session < sessions; ++session) {
        const std::size_t which = random() % texts.size();
        SessionDigest digest = digests[which];
        digest.day = 20500.3 + session;
        if (digest.point) digest.point->day = digest.day;
        const auto put = store.database().Run(
            "INSERT INTO measurement (patient, package, name, hash, day, received_at, text_z, "
            "digest) VALUES (?, '', 's.json', ?, ?, ?, ?, ?)",
            {person, QString::number(session), digest.day, store.NowText(), Shrink(texts[which]),
             QString::fromStdString(SerializeDigest(digest))});
        if (!put) return tl::unexpected(put.error());
      }
      const auto plan = store.database().Run(
          "INSERT INTO plan (patient, at, by, plan_json) VALUES (?, ?, 'bench', ?)",
          {person, store.NowText(),
           QString::fromStdString(SerializeExercisePlan(CommonPracticePlan()))});
      if (!plan) return tl::unexpected(plan.error());
      if (auto fresh = store.RefreshPatient(person); !fresh) return fresh;
    }
    return {};
  });
}

int Run(int people, int sessions) {
  const TempFolder folder;
  const QString file = QString::fromStdString(folder / "clinic.db");
  {
    auto store = ClinicStore::Open(file);
    if (!store) return 1;
    const auto start = Clock::now();
    if (const auto filled = Fill(*store, people, sessions); !filled) {
      std::fprintf(stderr, "%s\n", filled.error().message.c_str());
      return 1;
    }
    std::printf("filled  %d people with %d sessions each: %.1f s\n", people, sessions,
                SecondsSince(start));
  }
  const auto start = Clock::now();
  auto store = ClinicStore::Open(file);
  if (!store) return 1;
  const Day today = std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
  const auto list = store->Patients(today);
  if (!list) return 1;
  std::printf("open and sort  %zu people: %.3f s\n", list->size(), SecondsSince(start));
  const auto person = Clock::now();
  const auto measurements = store->Measurements(list->front().patient.id);
  if (!measurements) return 1;
  std::vector<SessionDigest> digests;
  for (const KeptMeasurement& measurement : *measurements) digests.push_back(measurement.digest);
  const TimeLine line = MakeTimeLine(digests, 30);
  std::printf("one person's time line  %zu sessions: %.3f s\n", line.points.size(),
              SecondsSince(person));
  std::printf("memory at most  %.0f MB\n", PeakMegabytes());
  return 0;
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  const QCoreApplication application(argc, argv);
  const int people = argc > 1 ? std::atoi(argv[1]) : 1000;
  const int sessions = argc > 2 ? std::atoi(argv[2]) : 100;
  if (people < 1 || sessions < 1) {
    std::fputs("usage: nearpoint_bench_clinic [PEOPLE] [SESSIONS]\n", stderr);
    return 2;
  }
  return nearpoint::Run(people, sessions);
}
