#include "app/review/audit_log.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "app/records/moment.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array kActs{ReviewAct::kAccept, ReviewAct::kSetAside, ReviewAct::kCount,
                           ReviewAct::kNote};
constexpr std::size_t kMostWords = 2000;

// In one order and one spelling, so that the same entry has the same hash everywhere.
Json Content(const AuditEntry& entry, const std::string& session, const std::string& previous,
             std::size_t number) {
  Json json;
  json["schema"] = "nearpoint/audit/1";
  json["entry"] = number;
  json["at"] = entry.at;
  json["by"] = entry.by;
  json["act"] = ToText(entry.act);
  json["trial"] = nullptr;
  if (entry.trial) json["trial"] = *entry.trial;
  json["words"] = entry.words;
  json["session"] = session;
  json["previous"] = previous;
  return json;
}

tl::unexpected<Error> Bad(const std::string& sentence) {
  return Fail(ErrorCode::kBadValue, sentence);
}

bool IsText(std::string_view text) {
  try {
    // Dumping refuses what is no UTF-8; no other check of the library says so.
    (void)Json(text).dump();
    return true;
  } catch (const Json::type_error&) {
    return false;
  }
}

Result<void> CheckEntry(const AuditEntry& entry) {
  const auto moment = ParseMoment(entry.at);
  if (!moment || !moment->hour) return Bad("An entry needs the moment in which it is made.");
  if (entry.by.empty() || entry.by.size() > kMostWords) return Bad("Who reviews must be named.");
  const bool of_trial = entry.act == ReviewAct::kSetAside || entry.act == ReviewAct::kCount;
  if (of_trial != entry.trial.has_value()) {
    return Bad("Setting aside and counting are about one trial, the rest about the session.");
  }
  if (entry.words.size() > kMostWords) return Bad("The words are longer than 2000 characters.");
  if (entry.words.empty() && entry.act != ReviewAct::kAccept) {
    return Bad("A reason in words is expected; without one nobody could follow it later.");
  }
  if (!IsText(entry.by) || !IsText(entry.words)) {
    return Bad("The words are not in UTF-8 and cannot be stored.");
  }
  return {};
}

std::optional<ReviewAct> ParseAct(std::string_view text) {
  for (const ReviewAct act : kActs) {
    if (ToText(act) == text) return act;
  }
  return std::nullopt;
}

struct Line {
  AuditEntry entry;
  std::string session, previous, hash;
  int number = 0;
};

Result<Line> ParseLine(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "audit", where); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*document, where);
  Line line;
  line.number = fields.Integer("entry", 1, 1000000, "the number of the entry");
  line.entry.at = fields.Text("at", "a moment");
  line.entry.by = fields.Text("by", "a name");
  const auto act = ParseAct(fields.Text("act", "what was done"));
  if (!act) fields.Refuse("act", "\"accept\", \"set aside\", \"count\" or \"note\"");
  line.entry.act = act.value_or(ReviewAct::kNote);
  if (const auto trial = fields.NumberOrNull("trial", {1, 100000, "the number of a trial"})) {
    line.entry.trial = static_cast<int>(*trial);
  }
  line.entry.words = fields.Text("words", "words");
  line.session = fields.Text("session", "the hash of the session");
  line.previous = fields.Text("previous", "the hash of the entry before");
  line.hash = fields.Text("hash", "the hash of this entry");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return line;
}

}  // namespace

std::string_view ToText(ReviewAct act) {
  switch (act) {
    case ReviewAct::kAccept:
      return "accept";
    case ReviewAct::kSetAside:
      return "set aside";
    case ReviewAct::kCount:
      return "count";
    case ReviewAct::kNote:
      return "note";
  }
  return "";
}

std::string HashOf(std::string_view bytes) {
  std::array<std::uint8_t, 32> hash{};
  crypto_generichash(hash.data(), hash.size(), reinterpret_cast<const unsigned char*>(bytes.data()),
                     bytes.size(), nullptr, 0);
  std::string text(2 * hash.size() + 1, '\0');
  sodium_bin2hex(text.data(), text.size(), hash.data(), hash.size());
  text.pop_back();
  return text;
}

Result<void> AuditLog::Add(const AuditEntry& entry) {
  if (auto checked = CheckEntry(entry); !checked) return checked;
  if (!entries_.empty() &&
      ParseMoment(entry.at)->days() < ParseMoment(entries_.back().at)->days()) {
    return Bad("The clock says " + entry.at + ", which is before the last entry, " +
               entries_.back().at + ".");
  }
  Json json = Content(entry, session_, head(), entries_.size() + 1);
  const std::string hash = HashOf(json.dump());
  json["hash"] = hash;
  text_ += json.dump() + "\n";
  head_ = hash;
  entries_.push_back(entry);
  return {};
}

Result<AuditLog> AuditLog::Parse(std::string_view text, const std::string& session_hash,
                                 const std::string& where) {
  AuditLog log(session_hash);
  for (int number = 1; !text.empty(); ++number) {
    const std::string place = where + ", line " + std::to_string(number);
    const auto end = text.find('\n');
    if (end == std::string_view::npos) {
      return Bad(place + ": the line is cut off; the log is not whole.");
    }
    const auto line = ParseLine(text.substr(0, end), place);
    if (!line) return tl::unexpected(line.error());
    if (line->session != session_hash) {
      return Fail(ErrorCode::kMismatch, place +
                                            ": the entry is about another session, or the "
                                            "session was changed after it was reviewed.");
    }
    const std::string before = log.text_;
    if (auto added = log.Add(line->entry); !added) {
      return Bad(place + ": " + added.error().message);
    }
    // The same line must come out again, byte for byte: hash, number and all.
    if (std::string_view(log.text_).substr(before.size()) != text.substr(0, end + 1)) {
      return Bad(place + ": the chain is broken here; an entry was changed, removed or inserted.");
    }
    text.remove_prefix(end + 1);
  }
  return log;
}

}  // namespace nearpoint
