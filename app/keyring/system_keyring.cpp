#include <qt6keychain/keychain.h>

#include <utility>

#include "app/keyring/keyring.h"

namespace nearpoint {
namespace {

constexpr const char* kService = "nearpoint";

Error Unavailable(const QKeychain::Job& job) {
  return {ErrorCode::kUnavailable, "The keyring of this system cannot be used: " +
                                       job.errorString().simplified().toStdString() + "."};
}

class OfTheSession : public Keyring {
 public:
  void Read(const QString& name, QObject* who, Found found) override {
    auto* job = new QKeychain::ReadPasswordJob(kService);
    Start(job, name, who, [job, found = std::move(found)] {
      if (job->error() == QKeychain::EntryNotFound) {
        found(std::optional<QByteArray>());
      } else if (job->error() != QKeychain::NoError) {
        found(tl::unexpected(Unavailable(*job)));
      } else {
        found(std::optional<QByteArray>(job->binaryData()));
      }
    });
  }

  void Write(const QString& name, const QByteArray& secret, QObject* who,
             Finished finished) override {
    auto* job = new QKeychain::WritePasswordJob(kService);
    job->setBinaryData(secret);
    Start(job, name, who, [job, finished = std::move(finished)] { finished(DoneBy(*job)); });
  }

  void Remove(const QString& name, QObject* who, Finished finished) override {
    auto* job = new QKeychain::DeletePasswordJob(kService);
    Start(job, name, who, [job, finished = std::move(finished)] {
      finished(job->error() == QKeychain::EntryNotFound ? Result<void>() : DoneBy(*job));
    });
  }

 private:
  static Result<void> DoneBy(const QKeychain::Job& job) {
    if (job.error() == QKeychain::NoError) return {};
    return tl::unexpected(Unavailable(job));
  }

  static void Start(QKeychain::Job* job, const QString& name, QObject* who,
                    std::function<void()> done) {
    job->setKey(name);
    job->setInsecureFallback(false);  // no file in place of a keyring
    // The job deletes itself after this signal.
    QObject::connect(job, &QKeychain::Job::finished, who, [done = std::move(done)] { done(); });
    job->start();
  }
};

}  // namespace

std::unique_ptr<Keyring> SystemKeyring() { return std::make_unique<OfTheSession>(); }

}  // namespace nearpoint
