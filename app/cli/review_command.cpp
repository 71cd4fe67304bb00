#include "app/cli/review_command.h"

#include <filesystem>
#include <utility>

#include "app/cli/print_json.h"
#include "app/cli/utc_now.h"
#include "app/records/atomic_file.h"
#include "app/records/estimate_json.h"
#include "app/records/session_json.h"
#include "app/review/review.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

std::optional<AuditEntry> EntryOf(const ReviewArguments& arguments) {
  AuditEntry entry{UtcNow(), arguments.by, ReviewAct::kNote, std::nullopt, arguments.why};
  if (arguments.set_aside) {
    entry.act = ReviewAct::kSetAside;
    entry.trial = arguments.set_aside;
  } else if (arguments.count) {
    entry.act = ReviewAct::kCount;
    entry.trial = arguments.count;
  } else if (arguments.accept) {
    entry.act = ReviewAct::kAccept;
  } else if (arguments.note) {
    entry.words = *arguments.note;
  } else {
    return std::nullopt;
  }
  return entry;
}

Result<AuditLog> ReadLog(const std::string& file, const std::string& session_hash) {
  std::error_code ignored;
  if (!std::filesystem::exists(file, ignored)) return AuditLog(session_hash);
  const auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  return AuditLog::Parse(*text, session_hash, file);
}

nlohmann::ordered_json EntriesJson(const AuditLog& log) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const AuditEntry& entry : log.entries()) {
    nlohmann::ordered_json json{{"at", entry.at}, {"by", entry.by}, {"act", ToText(entry.act)}};
    json["trial"] = nullptr;
    if (entry.trial) json["trial"] = *entry.trial;
    json["words"] = entry.words;
    list.push_back(json);
  }
  return list;
}

}  // namespace

Result<void> RunReview(const ReviewArguments& arguments) {
  const auto text = ReadTextFile(arguments.file);
  if (!text) return tl::unexpected(text.error());
  const auto session = ParseSessionTrials(*text, arguments.file);
  if (!session) return tl::unexpected(session.error());
  auto log = ReadLog(arguments.log, HashOf(*text));
  if (!log) return tl::unexpected(log.error());
  const auto entry = EntryOf(arguments);
  if (entry) {
    if (auto added = log->Add(*entry); !added) return added;
  }
  const auto reviewed = ApplyReview(session->trials, log->entries());
  if (!reviewed) {
    return Fail(reviewed.error().code, arguments.file + ": " + reviewed.error().message);
  }
  if (entry) {
    auto written = WriteFileAtomically(arguments.log, log->text(), Readers::kOwner);
    if (!written) return written;
  }
  const EstimateOptions options = OptionsOf(arguments.estimate);
  const auto& trials = reviewed->trials;
  nlohmann::ordered_json json;
  json["schema"] = "nearpoint/review/1";
  json["accepted"] = reviewed->accepted;
  json["entries"] = EntriesJson(*log);
  json["head"] = log->head();
  json["as_measured"] =
      EstimateToJson(EstimateNearPoint(session->trials, session->shared, options));
  json["as_reviewed"] = EstimateToJson(EstimateNearPoint(trials, session->shared, options));
  json["as_reviewed"]["set_aside"] =
      RuleEffectsToJson(EffectOfRules(trials, session->shared, options));
  json["cut_off_from"] = CutOffSource(arguments.estimate);
  return PrintJson(json);
}

}  // namespace nearpoint
