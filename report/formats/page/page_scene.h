// What is on the machine and what the page says beside the report, as JSON for the page.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/findings/report.h"
#include "sim/replay.h"

namespace provecut {

// Stock, spoilboard, hold-downs, tools as bodies of revolution, setups, programs; lengths in mm, points in the setup
// frame. Texts from files have their control characters made visible.
nlohmann::ordered_json pageScene(const Report& report, const Replay& replay);

}  // namespace provecut
