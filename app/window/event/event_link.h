// Merges this station with the event's server in a thread of its own, every few seconds and when
// something was recorded. The window never waits for the network.
#pragma once

#include <QObject>
#include <QString>
#include <condition_variable>
#include <mutex>
#include <stop_token>
#include <thread>

namespace nearpoint {

class EventLink : public QObject {
  Q_OBJECT

 public:
  struct Status {
    bool alone = true;     // no server is set
    bool reached = false;  // at the last try
    int waiting = 0;       // records that are here alone
    int locked = 0;        // events whose key is not here yet
    QString why;           // why it was not reached
  };

  // file: of the station, opened a second time in the thread.
  explicit EventLink(QString file, QObject* parent = nullptr);
  ~EventLink() override;

  void Nudge();  // merge now
  [[nodiscard]] Status status() const { return status_; }

 signals:
  // In the window's thread, after each try.
  void Tried();

 private:
  void Run(const std::stop_token& stop);

  QString file_;
  Status status_;  // of the window's thread
  std::mutex mutex_;
  std::condition_variable_any wake_;
  bool nudged_ = true;   // guarded by mutex_
  std::jthread thread_;  // last: it uses all of the above
};

}  // namespace nearpoint
