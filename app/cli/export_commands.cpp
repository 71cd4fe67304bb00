#include "app/cli/export_commands.h"

#include <filesystem>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "app/cli/console.h"
#include "app/cli/utc_now.h"
#include "app/exchange/fhir.h"
#include "app/exchange/research_csv.h"
#include "app/records/atomic_file.h"
#include "app/records/file_set.h"
#include "app/report/session_page.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

Result<void> Put(const std::optional<std::string>& file, const nlohmann::ordered_json& json) {
  auto sink = DataSink::Open(file);
  if (!sink) return tl::unexpected(sink.error());
  constexpr auto kReplace = nlohmann::ordered_json::error_handler_t::replace;
  if (auto written = sink->Write(json.dump(2, ' ', false, kReplace) + '\n'); !written) {
    return written;
  }
  return sink->Finish();
}

}  // namespace

Result<void> RunExportFhir(const ExportFhirArguments& arguments) {
  if (arguments.code_system) return Put(arguments.out, CodeSystemToFhir());
  const auto text = ReadTextFile(arguments.file);
  if (!text) return tl::unexpected(text.error());
  const auto session = ParseStoredSession(*text, arguments.file);
  if (!session) return tl::unexpected(session.error());
  FhirOptions options;
  options.subject = arguments.subject;
  if (arguments.subject_system) options.subject_system = *arguments.subject_system;
  options.installation = arguments.installation;
  options.recorded = UtcNow();
  options.reviewed = arguments.reviewed;
  options.transaction = arguments.transaction;
  const auto bundle = SessionToFhir(*session, *text, options);
  if (!bundle) return Fail(bundle.error().code, arguments.file + ": " + bundle.error().message);
  return Put(arguments.out, *bundle);
}

Result<void> RunReport(const ReportArguments& arguments) {
  if (arguments.reader == "school" && !arguments.consent) {
    return Fail(ErrorCode::kInsufficient,
                "A school gets a copy only if the person, or the parents of a child, have agreed "
                "to it; add --consent once they have. Nothing was written.");
  }
  const auto text = ReadTextFile(arguments.file);
  if (!text) return tl::unexpected(text.error());
  const auto session = ParseStoredSession(*text, arguments.file);
  if (!session) return tl::unexpected(session.error());
  SessionPageOptions options;
  options.reader = ParseReader(arguments.reader).value_or(Reader::kRecord);
  options.paper = arguments.paper == "letter" ? PaperSize::kLetter : PaperSize::kA4;
  options.person = arguments.person;
  constexpr std::size_t kDay = 10;
  options.printed = UtcNow().substr(0, kDay);
  const auto pdf = SessionPagePdf(*session, options);
  if (!pdf) return Fail(pdf.error().code, arguments.file + ": " + pdf.error().message);
  return WriteFileAtomically(arguments.out, *pdf);
}

Result<void> RunExportCsv(const ExportCsvArguments& arguments) {
  std::vector<StoredSession> sessions;
  for (const std::string& file : arguments.files) {
    const auto text = ReadTextFile(file);
    if (!text) return tl::unexpected(text.error());
    auto session = ParseStoredSession(*text, file);
    if (!session) return tl::unexpected(session.error());
    sessions.push_back(*std::move(session));
  }
  const auto tables = ResearchCsv(sessions, arguments.pseudonym);
  if (!tables) return tl::unexpected(tables.error());
  namespace fs = std::filesystem;
  std::error_code code;
  const bool made = fs::create_directories(arguments.out, code);
  if (code) {
    return Fail(ErrorCode::kNotWritable,
                arguments.out + ": cannot be made: " + code.message() + ".");
  }
  const std::vector<NamedText> files{{"sessions.csv", tables->sessions},
                                     {"trials.csv", tables->trials},
                                     {"dictionary.csv", tables->dictionary}};
  if (auto written = WriteFilesTogether(arguments.out, files); !written) {
    if (made) fs::remove(arguments.out, code);
    return written;
  }
  Say("The tables name nobody, but days and values may still tell a person to who knows them: they "
      "are personal data.");
  return {};
}

}  // namespace nearpoint
