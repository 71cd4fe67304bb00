// nearpoint export-fhir, nearpoint export-csv and nearpoint report: sessions in the forms that
// other programs and people read.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

struct ExportFhirArguments {
  std::string file;     // SESSION.json
  std::string subject;  // pseudonym or record number
  std::optional<std::string> subject_system;
  std::string installation;        // what measured; empty: not stated
  std::optional<std::string> out;  // default: standard output
  bool reviewed = false;
  bool transaction = false;
  bool code_system = false;  // the codes instead of a session
};
[[nodiscard]] Result<void> RunExportFhir(const ExportFhirArguments& arguments);

struct ExportCsvArguments {
  std::vector<std::string> files;  // SESSION.json, of one person
  std::string pseudonym;           // letters, digits, - and _
  std::string out;                 // folder: sessions.csv, trials.csv, dictionary.csv
};
[[nodiscard]] Result<void> RunExportCsv(const ExportCsvArguments& arguments);

struct ReportArguments {
  std::string file;  // SESSION.json
  std::string out;   // the PDF
  std::string reader = "record";
  std::string paper = "a4";
  std::string person;    // on the page; empty: a line to write on
  bool consent = false;  // to a school's copy
};
[[nodiscard]] Result<void> RunReport(const ReportArguments& arguments);

}  // namespace nearpoint
