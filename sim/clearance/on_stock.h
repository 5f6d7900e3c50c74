// How a footprint lies to the stock.
#pragma once

#include "sim/clearance/obstacle.h"

namespace provecut::clearance {

enum class OnStock { on, beside, across };

// `stock`: its lying size.
OnStock lieOn(Vec3 stock, const Obstacle& o);

}  // namespace provecut::clearance
