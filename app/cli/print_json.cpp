#include "app/cli/print_json.h"

#include <optional>

#include "app/cli/console.h"

namespace nearpoint {

Result<void> PrintJson(const nlohmann::ordered_json& json) {
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  // A file's name may hold bytes that are no UTF-8.
  return sink->Write(json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) +
                     '\n');
}

}  // namespace nearpoint
