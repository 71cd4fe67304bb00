// The report of one session on one page, as a PDF. No Qt in this header.
#pragma once

#include <string>

#include "app/print/paper.h"
#include "app/records/stored_session.h"
#include "app/report/session_words.h"
#include "vision/core/result.h"

namespace nearpoint {

struct SessionPageOptions {
  Reader reader = Reader::kRecord;
  PaperSize paper = PaperSize::kA4;
  std::string person;   // as it is to stand on the page; "" leaves a line to write on
  std::string printed;  // the day it is printed, as it is to stand there; "" leaves it out
};

// Bytes of the PDF, one page: words, and for all readers but the school a distance scale with the
// band of break and recovery, the limit, and each trial. Shapes tell apart what colours do. Main
// thread only (fonts). Errors: kInsufficient where the text does not fit on the page, kNotWritable.
[[nodiscard]] Result<std::string> SessionPagePdf(const StoredSession& session,
                                                 const SessionPageOptions& options);

}  // namespace nearpoint
