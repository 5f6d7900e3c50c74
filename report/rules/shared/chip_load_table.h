// Usual chip loads by material and cutter.
#pragma once

#include <optional>

#include "parser/job/job.h"
#include "sim/observed/move_cut.h"
#include "sim/observed/observation.h"

namespace provecut {

// Chip load (way per tooth), mm: from where the bit rubs up to the highest that a rigid machine is run at.
struct ChipRange {
  double rubs_below_mm = 0, max_mm = 0;
};

// For a cutter of `tool`'s shape that is `width_mm` wide at the depth it cuts: its diameter, or less for a pointed one.
// The tool's own `chip_load` where it has one; nothing where no chart covers such a cutter in such a material.
std::optional<ChipRange> chipRange(const Tool& tool, const Stock& stock, double width_mm);

// The same for one move of the tool with this body; nothing where a cutter other than a drill goes down.
std::optional<ChipRange> chipRange(const Tool& tool, const Stock& stock, const ToolBody& body, const MoveCut& cut);

// The chart for a cutter that goes down: nothing for drills and points.
std::optional<ChipRange> plungeRange(const Tool& tool, const Stock& stock);

// How far beyond `max_mm` nothing is said: charts are rounded and accurate to about half. A tool's own range is taken
// as it is.
double chipMargin(const Tool& tool);

// Deep cuts clear their chips badly: the share of `max_mm` that is left at `depth_mm`. 1 up to one diameter, three
// quarters at two, half from three on. 1 for a tool with its own range.
double deepShare(const Tool& tool, double depth_mm);

}  // namespace provecut
