// Do the holes cut in the stock fit its pins?
#pragma once

#include <span>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/holes.h"
#include "sim/observed/observation.h"
#include "sim/path/programs.h"

namespace provecut::holes {

// A pin may be pressed into a hole that is smaller all round by this much, mm. Our estimate for wood; no source.
inline constexpr double pin_press_mm = 0.05;

// Fills Run::pin_fits, pins_shifted, pins_flipped and pins_either_way. Only round pins whose axis lies on the stock are
// looked at: others stand beside it.
//  - pins_shifted: where a pin does not fit, the shortest shift of the stock, up to 50 mm, at which all pins of the
//  setup do.
//  - pins_flipped: where a pin does not fit, the other flip or rotation of the stock at which all pins do.
//  - pins_either_way: where all fit, they also fit with the stock turned half round (or, where it is square, a
//  quarter), with
//    a shift of at most 5 mm.
void observePins(const Job& job, const Programs& programs, Run& run);

}  // namespace provecut::holes
