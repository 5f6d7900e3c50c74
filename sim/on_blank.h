// How a footprint lies to the blank.
#pragma once

#include "sim/obstacle.h"

namespace provecut {

enum class OnBlank { on, beside, across };

// `blank`: its lying size.
OnBlank lieOn(Vec3 blank, const Obstacle& o);

}  // namespace provecut
