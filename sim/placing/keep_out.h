// Where a hold-down of a given height must not come, program by program: the plan path of every move, widened by how
// far the tool reaches sideways at that height. The same question as sim/clearance/clearance.h, asked the other way
// round.
#pragma once

#include <cstdint>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clearance/obstacle.h"
#include "sim/tool/tool_body.h"

namespace provecut::placing {

// A straight stretch of the axis seen from above, and the horizontal distance that a footprint must keep
// from it: it changes evenly from `reach0` at a to `reach1` at b. mm.
struct Stretch {
  SetupPoint2 a, b;
  double reach0 = 0, reach1 = 0;
  std::uint32_t move = 0;
};

// The horizontal distance from the axis, with the tip `h` below the hold-down's top, below which some part of the tool
// is nearer to it than `wanted` mm; below 0 where none is at any distance.
double reachAt(const ToolBody& body, double h, double wanted_mm);

// Everything that the moves of one program keep a hold-down with its top at `top_mm` (z in the setup) out of. Lines are
// exact; arcs and moves that change height where the tool tapers reach up to `tolerance_mm` too far, never too short.
// `tapered`: stretches whose reach changes are allowed. Moves that checkHoldDowns() leaves out are left out.
// `height_step_mm`, for a quick look at long programs: tips are taken down to a multiple of it, so that a finish needs
// a reach per level and not per move.
std::vector<Stretch> keepOut(const Job& job, const Setup& setup, const Program& program, double top_mm,
                             double tolerance_mm, bool tapered, double height_step_mm = 0);

// A footprint about the origin, made ready to be put at many places.
struct Footprint {
  clearance::Obstacle outline;
  double around = 0;  // no point of it is farther from the origin
  bool box = false;   // a rectangle about the origin: `half` along `axis` and square to it
  Vec2 axis, half;
};
Footprint footprintOf(const clearance::Obstacle& about_origin);

// By how much the footprint, put at p, keeps out of the stretch: the distance to it less the reach. 0 and above is
// clear. It changes by no more than p does. Above `enough` any lower bound above that.
double keptOut(const Stretch& stretch, const Footprint& footprint, const SetupPoint2& p, double enough);

}  // namespace provecut::placing
