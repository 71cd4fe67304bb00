// The shape of the clinic's file, version by version; see app/store/migrations.h.
#pragma once

#include "app/store/migrations.h"

namespace nearpoint {

[[nodiscard]] const std::vector<Migration>& ClinicMigrations();

}  // namespace nearpoint
