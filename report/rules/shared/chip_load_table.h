// What chip loads are usual, by material and cutter.
#pragma once

#include <optional>

#include "parser/job/job.h"
#include "sim/observed/move_cut.h"
#include "sim/observed/observation.h"

namespace provecut {

// Way per tooth, mm: from what rubs up to the most that a rigid machine is run at.
struct ChipRange {
  double rubs_below = 0, most = 0;
};

// For a cutter of `tool`'s shape that is `radial_depth_mm` wide at the depth it cuts: its diameter, or for a point
// less. Its own `chip_load` where it has one; nothing where no chart speaks of such a cutter in such a material.
std::optional<ChipRange> chipRange(const Tool& tool, const Stock& stock, double radial_depth_mm);

// The same for one move of the tool, whose body `body` is; nothing where a cutter other than a drill goes down.
std::optional<ChipRange> chipRange(const Tool& tool, const Stock& stock, const ToolBody& body, const MoveCut& cut);

// Deep cuts clear their chips badly: the share of `most` that is left at `depth_mm`. 1 up to one diameter, three
// quarters at two, half from three on. A tool's own range is taken as it is.
double deepShare(const Tool& tool, double depth_mm);

}  // namespace provecut
