// Sealed files on their way over a FHIR R4 server: each in a DocumentReference. The server keeps it
// and can read nothing of it but when it came.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "app/exchange/bytes.h"
#include "vision/core/result.h"

namespace nearpoint {

// A transaction with one PUT; its id is drawn from the file, so that a file that was sent twice is
// there once. sent: an instant with seconds and offset.
[[nodiscard]] nlohmann::ordered_json SealedToFhir(ByteView sealed, const std::string& sent);

// Behind the address of the server: the search for such files, oldest first. since: an instant as
// the server wrote it, or "" for all.
[[nodiscard]] std::string SealedFilesQuery(std::string_view since);

struct SealedFilesPage {
  struct File {
    std::string id;  // of the resource, for messages
    Bytes sealed;
  };
  std::vector<File> files;
  // Resources of this kind whose file is not in them as it should be.
  std::vector<std::string> unreadable;
  std::string newest;  // the latest meta.lastUpdated that was seen; "" without one
  std::string next;    // address of the next page; "" on the last
};
// One page of the answer. kBadValue: it is no searchset of FHIR R4.
[[nodiscard]] Result<SealedFilesPage> ReadSealedFilesPage(std::string_view reply);

}  // namespace nearpoint
