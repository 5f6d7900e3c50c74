// How a footprint lies to the stock.
#pragma once

#include "sim/clearance/obstacle.h"

namespace provecut::clearance {

enum class OnStock { on, beside, across };

// `stock_size`: in the setup.
OnStock lieOn(Vec3 stock_size, const Obstacle& o);

}  // namespace provecut::clearance
