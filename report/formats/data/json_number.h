// Numbers as JSON files hold them.
#pragma once

#include <nlohmann/json_fwd.hpp>

namespace provecut {

// Rounded to `decimals`, so that 2.1 is not written as 2.0999999999999996: nine are a thousandth of the contact
// tolerance. Never "-0"; null for what is no number.
nlohmann::ordered_json number(double value, int decimals = 9);

}  // namespace provecut
