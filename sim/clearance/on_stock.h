// Whether a footprint lies on the stock, beside it or across its edge.
#pragma once

#include "sim/clearance/obstacle.h"

namespace provecut::clearance {

enum class OnStock { on, beside, across };

// `stock`: its size in the setup (stockSizeInSetup), mm; the obstacle in the setup frame. One that touches the
// edge from inside lies on the stock; one that touches it from outside may count as beside or across.
OnStock lieOn(Vec3 stock_size, const Obstacle& o);

}  // namespace provecut::clearance
