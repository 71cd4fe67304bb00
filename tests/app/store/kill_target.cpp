// kill_target FILE: writes trials as fast as it can and says each on standard output once it is
// stored. Made to be killed.
#include <QCoreApplication>
#include <cstdio>

#include "tests/app/window/stored_session.h"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const QCoreApplication application(argc, argv);
  using namespace nearpoint;  // NOLINT: a program of a dozen lines
  auto store = Store::Open(QString::fromLocal8Bit(argv[1]));
  if (!store) {
    std::fprintf(stderr, "%s\n", store.error().message.c_str());
    return 1;
  }
  StoredTrial trial = ComputedTrial(1, 92, 121);
  const RowId session = AddSession(*store, 0, {}, true);
  for (int number = 1;; ++number) {
    trial.trial.number = number;
    if (!store->AddTrial(session, trial, {}, "{}")) return 1;
    std::printf("%lld %d\n", static_cast<long long>(session), number);
    std::fflush(stdout);
  }
}
