// EVENTS.jsonl: one object a line, {"t_ms": 8123.0, "event": "double"}.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/measure/events.h"
#include "vision/core/result.h"

namespace nearpoint {

// Blank lines are skipped. Times must not fall. Errors name the file, the line and the field:
// kNotFound (a field is missing), kBadValue (also for a text without one event). where: the file,
// for messages.
[[nodiscard]] Result<std::vector<Event>> ParseEvents(std::string_view text,
                                                     const std::string& where);

// Adds kNotFound and kUnreadable for the file itself.
[[nodiscard]] Result<std::vector<Event>> ReadEvents(const std::string& file);

// One line, without the newline.
[[nodiscard]] std::string EventLine(const Event& event);

}  // namespace nearpoint
