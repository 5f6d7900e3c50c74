// A second opinion on clearances, by other means than sim/: tools as polylines, outlines by angle sums, paths
// by sines and cosines, and sampling with a proven bound. Shares no code with sim/.
#pragma once

#include <functional>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut::sampled {

// The outline of half a lengthwise cut through one part of a tool, (r, z) from the lowest point on the axis
// round to the highest, above the tip. Round corners are chords with their ends on the true outline, at most
// `sagitta` off it.
struct HalfProfile {
  std::vector<Vec2> points;
  double sagitta = 0;
};
HalfProfile cutterProfile(const Tool& tool);
HalfProfile bodyProfile(double radius, double from, double to);

// Horizontal distance, negative inside.
double signedDistance(const HoldDown& h, SetupPoint2 p);

// Distance of the part, its tip at `tip`, to the prism below the hold-down's top (stock's top at 0).
double distance(const HalfProfile& profile, const HoldDown& h, SetupPoint tip);

// Largest radius of the profile at heights up to h above the tip; minus infinity below its lowest point.
double radiusUpTo(const HalfProfile& profile, double h);

// Where the tip is at a share 0 … 1 of a line, arc or helix (work zero in the setup's origin), and the length of the
// way.
SetupPoint pointOn(const Motion& m, double share);
double wayOf(const Motion& m);

// The lowest value of a function that changes by at most `rate` over 0 … 1: between `low` and `high`, by
// sampling where the lowest can still lie.
struct Range {
  double low = 0, high = 0, at = 0;
};
Range lowest(const std::function<double(double)>& f, double rate, double precision, int max_samples);

}  // namespace provecut::sampled
