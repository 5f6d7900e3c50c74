// What a machine's axes allow along one move and through the corner between two. Knows nothing of the moves around.
#pragma once

#include <cstdint>
#include <limits>

#include "parser/base/geometry.h"
#include "parser/job/job.h"
#include "parser/program/motion.h"

namespace provecut::clock {

struct AxisLimits {
  Vec3 rate_mm_s, acceleration_mm_s2;
  double least_acceleration_mm_s2 = 0;
  bool arcs_share = false;  // ArcAcceleration::shared
  bool arcs_split = false;  // the same with a limited jerk: in fixed shares, since an S-curve knows no bend
};

// Limits that are not above zero, or not numbers, are a defect of the caller: the job file's reader refuses them.
AxisLimits axisLimits(const Machine& machine);

enum class SpeedLimit : std::uint8_t { feed, axis_rate, centripetal, blocks_per_second };

struct MovePath {
  double length_mm = 0;           // 0: the axes stand still
  double speed_mm_s = 0;          // highest along the move
  double acceleration_mm_s2 = 0;  // highest along the move; with bend2_mm2_s2 the one from rest
  double bend2_mm2_s2 = 0;  // square of the speed at which the bend takes all of the acceleration; 0: limited apart
  SpeedLimit limit = SpeedLimit::feed;  // what sets speed_mm_s
  Vec3 first, last;                     // unit directions of travel where it starts and ends
};

// A straight move: v = min rate_i / |u_i|, a = min acceleration_i / |u_i| with u the unit direction (geometry).
// An arc or helix: the same over all directions it takes, and v² / r times the normal within each axis' acceleration.
// Along the path and towards the centre the accelerations share that of the arc's weaker axis, and no axis ever sees
// more than its own; or they are limited apart, as many controllers do, and an axis may see up to 1.41 times its own.
// `feed_mm_s` is 0 where no feed limits the move. Moves shorter than a millionth of a millimetre stand still.
MovePath movePath(const Motion& motion, const AxisLimits& axes, double feed_mm_s);

// Square of the speed through a corner, mm²/s², that a tangent arc with its nearest point `deviation_mm` from the
// corner allows: v² = a d s / (1 - s), s = sine of half the included angle (geometry); the acceleration a is what the
// axes give towards the arc's centre, in the worst of its directions. Infinite for straight on.
// `room_mm`: the arc leaves each of the two moves no farther from the corner than this.
double cornerSpeed2(const Vec3& before, const Vec3& after, const AxisLimits& axes, double deviation_mm,
                    double room_mm = std::numeric_limits<double>::infinity());

}  // namespace provecut::clock
