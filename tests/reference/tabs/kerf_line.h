#pragma once

#include <vector>

#include "tests/reference/parting/cutter.h"
#include "tests/reference/parting/paths.h"

namespace provecut::reference {

// A way of the tip along a straight kerf, by lengths along it: level at `low`, but between `from` and `to` lifted to
// `high`, straight up at both ends (ramp 0) or along a ramp of that length in plan; ramps that meet make a triangle.
struct LiftedTip {
  double from = 0, to = 0;
  double ramp = 0;
  double low = 0, high = 0;
};

// How deep the tool cuts the middle of the kerf at the length s. Nowhere across the kerf does it cut deeper there, as
// no form rises towards its axis: so the middle is the least section of what is left.
double middleAt(const Profile& profile, const LiftedTip& tip, double s);

// How far from the end of the lift the middle first stands at that height, low <= height <= high.
double reachOf(const Profile& profile, const LiftedTip& tip, double height);

// The area between `floor` and the middle over the lift, no higher than `ceiling`, mm²: in closed form.
double middleArea(const Profile& profile, const LiftedTip& tip, double floor, double ceiling);

// The heights of a pass at z along a path of that length: lifted where a lift goes higher. The lifts in order.
std::vector<Knot> passAt(const std::vector<LiftedTip>& lifts, double z, double length);

}  // namespace provecut::reference
