// The spectacles of a person as a part of PROFILE.json and of SESSION.json.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "calibration/glasses.h"
#include "calibration/json_fields.h"

namespace nearpoint {

// worn (true, false or null: nobody said); right and left: null where the prescription is not
// known, otherwise sphere, cylinder, axis (null: not known), base_out (prism dioptres), of which
// all but sphere may be missing; addition (dioptres or null); vertex_mm. Each number has its
// NAME_sd, which may be missing: then it is what Glasses starts from. Complaints go to `fields`,
// the object itself.
[[nodiscard]] Glasses ParseGlasses(const nlohmann::json& json, JsonFields& fields);

[[nodiscard]] nlohmann::ordered_json GlassesToJson(const Glasses& glasses);

// true, false, or null and absent for nothing.
[[nodiscard]] std::optional<bool> BoolIfThere(const nlohmann::json& json, JsonFields& fields,
                                              const char* name);

}  // namespace nearpoint
