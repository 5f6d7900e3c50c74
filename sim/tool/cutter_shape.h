// The cutter's lower surface: what the cut needs to know of a tool without undercut.
#pragma once

#include <cstdint>
#include <vector>

#include "parser/job/job.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// Even steps of the radius in the table of a profile.
inline constexpr int profile_steps = 1024;

enum class Underside : std::uint8_t { flat, ball, cone, bull, profile };

// The cutter's lower surface as a function of the distance from the axis, tip at 0.
struct CutterShape {
  Underside underside = Underside::flat;
  float radius = 0;          // largest
  float rim = 0;             // height of the lower surface at the largest radius
  float flat_radius = 0;     // cone: of its flat tip; bull: of its flat bottom
  float arc_radius = 0;      // ball, bull
  float rise = 0;            // cone: height gained per mm of radius
  std::vector<float> table;  // profile: heights at even steps of the radius, convex

  float surface(float distance) const;
  // Radius of the cutter at `height` above the tip.
  float radiusAt(float height) const;
};

CutterShape cutterShape(const Tool& tool, const ToolBody& body);

}  // namespace provecut
