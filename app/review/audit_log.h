// What a reviewer did to a session, in the order in which it was done: a text of one JSON object a
// line that is only ever added to.
//
// Each entry holds the hash of the one before it and its own, BLAKE2b-256 over the entry without
// its "hash". An entry that is changed, taken out, put in or moved breaks the chain from there on.
// What a chain cannot show: that the last entries were cut off, or that everything was written anew
// by somebody who may write the file. Against that the hash of the last entry (Head) is printed
// with every result: kept elsewhere, it says which log was meant.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

enum class ReviewAct {
  kAccept,    // the session can be used as it stands then
  kSetAside,  // a trial does not count, for a reason
  kCount,     // a trial that a rule or a reviewer set aside counts, for a reason
  kNote,      // words
};
[[nodiscard]] std::string_view ToText(ReviewAct act);

struct AuditEntry {
  std::string at;  // a moment (records/moment.h)
  std::string by;  // who
  ReviewAct act = ReviewAct::kNote;
  std::optional<int> trial;  // of kSetAside and kCount: the number of the trial
  std::string words;         // the reason or the note; may be empty for kAccept alone
};

// The hash of a file's bytes, 64 hexadecimal digits.
[[nodiscard]] std::string HashOf(std::string_view bytes);

class AuditLog {
 public:
  // A log about the session whose file has this hash, without entries.
  explicit AuditLog(std::string session_hash) : session_(std::move(session_hash)) {}

  // Reads and verifies all of it. kBadValue names the line: not an entry, a broken chain, cut off
  // in the middle of a line; kMismatch: it is about another session. where: the file, for messages.
  [[nodiscard]] static Result<AuditLog> Parse(std::string_view text,
                                              const std::string& session_hash,
                                              const std::string& where);

  // kBadValue: nobody named, no reason, no trial where one belongs, no moment, or earlier than the
  // entry before it.
  [[nodiscard]] Result<void> Add(const AuditEntry& entry);

  [[nodiscard]] const std::vector<AuditEntry>& entries() const { return entries_; }
  [[nodiscard]] const std::string& text() const { return text_; }
  // Of the last entry; of the session where there is none.
  [[nodiscard]] const std::string& head() const { return head_.empty() ? session_ : head_; }

 private:
  std::string session_;
  std::vector<AuditEntry> entries_;
  std::string text_, head_;
};

}  // namespace nearpoint
