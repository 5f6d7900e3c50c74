#include "sim/tool/tool_body.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace provecut {

namespace {

constexpr double spindle_height_mm = 200;
constexpr double common_point_angle_deg = 118;  // twist drills; common practice, no source

double radians(double deg) {
  return deg * std::numbers::pi / 180;
}

// Puts pieces one on the other. Pieces without height are left out: the next piece's own bottom face stands
// for them.
class Stack {
 public:
  explicit Stack(ToolBody& body) : body_(body) {}

  void frustum(double r0, double z1, double r1) {
    if (z1 > z_) frustumAt({r0, z_}, {r1, z1});
  }
  void frustumAt(Vec2 lower, Vec2 upper) {
    if (upper.y > lower.y) body_.pieces.push_back({ToolPart::cutter, -1, lower.y, lower.x, upper.y, upper.x});
    z_ = std::max(z_, upper.y);
  }
  void cylinder(double r, double z1) { frustum(r, z1, r); }

  // The quarter arc of `radius` about (centre_r, radius) from its lowest point up to height z1.
  void zone(double centre_r, double radius, double z1) {
    const double rise = z1 - radius;
    const double r1 = centre_r + std::sqrt(std::max(0.0, radius * radius - rise * rise));
    body_.pieces.push_back({ToolPart::cutter, -1, 0, centre_r, z1, r1, radius, centre_r, radius});
    z_ = z1;
  }
  double height() const { return z_; }

 private:
  ToolBody& body_;
  double z_ = 0;
};

// A cone from radius r0 at the present height out to radius r1; `half_angle` between axis and flank, rad.
void cone(Stack& stack, double r0, double r1, double half_angle) {
  if (r1 > r0 && half_angle > 0 && half_angle < std::numbers::pi / 2) {
    stack.frustum(r0, stack.height() + (r1 - r0) / std::tan(half_angle), r1);
  }
}

// A hollow under the tip is taken as filled: every line of the profile makes a solid frustum.
void profile(Stack& stack, const std::vector<Vec2>& points) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Vec2 a = points[i - 1], b = points[i];
    const bool up = a.y <= b.y;
    stack.frustumAt(up ? a : b, up ? b : a);
  }
}

// The shape of the tip; returns the radius that goes on straight up to the flute length.
double tip(Stack& stack, const Tool& tool) {
  const double radius = tool.diameter_mm / 2;
  switch (tool.shape) {
    case ToolShape::flat:
    case ToolShape::surfacing:
      return radius;
    case ToolShape::ball:
      stack.zone(0, radius, radius);
      return radius;
    case ToolShape::bull: {
      const double corner = std::min(tool.corner_radius_mm, radius);
      if (corner > 0) stack.zone(radius - corner, corner, corner);
      return radius;
    }
    case ToolShape::vee:
      cone(stack, tool.tip_diameter_mm / 2, radius, radians(tool.angle_deg) / 2);
      return radius;
    case ToolShape::drill:
      cone(stack, 0, radius, radians(tool.angle_deg > 0 ? tool.angle_deg : common_point_angle_deg) / 2);
      return radius;
    case ToolShape::taper_ball: {
      const double ball = std::min(tool.tip_radius_mm, radius), taper = radians(tool.taper_deg);
      if (ball <= 0) {
        cone(stack, 0, radius, taper);
      } else {
        // The cone touches the ball where the ball's normal is at right angles to the flank.
        const double r_touch = ball * std::cos(taper);
        stack.zone(0, ball, ball * (1 - std::sin(taper)));
        cone(stack, r_touch, radius, taper);
      }
      return radius;
    }
    case ToolShape::form:
      profile(stack, tool.profile_mm);
      break;
  }
  return tool.profile_mm.empty() ? radius : tool.profile_mm.back().x;
}

}  // namespace

ToolBody toolBody(const Tool& tool, const ColletNut& nut, std::span<const SpindleAttachment> attachment) {
  ToolBody body;
  Stack stack(body);
  const double straight_radius = tip(stack, tool);
  const bool stickout_known = tool.stickout_mm > 0;
  double flutes = tool.flute_length_mm;
  if (flutes <= 0) flutes = stickout_known ? tool.stickout_mm : 4 * tool.diameter_mm;
  stack.cylinder(straight_radius, flutes);
  body.cutter_length_mm = stack.height();
  for (const BodyPiece& p : body.pieces) body.cutter_radius_mm = std::max({body.cutter_radius_mm, p.r0, p.r1});

  const auto add = [&body](ToolPart part, int index, double z0, double z1, double diameter) {
    if (z1 > z0 && diameter > 0) body.pieces.push_back({part, index, z0, diameter / 2, z1, diameter / 2});
  };
  if (stickout_known) {
    const double face = tool.stickout_mm;
    const double shank = tool.shank_diameter_mm > 0 ? tool.shank_diameter_mm : tool.diameter_mm;
    add(ToolPart::shank, -1, body.cutter_length_mm, face, shank);
    add(ToolPart::collet_nut, -1, face, face + nut.length_mm, nut.diameter_mm);
    const double top = face + std::max(0.0, nut.length_mm);
    add(ToolPart::spindle, -1, top, top + spindle_height_mm, nut.spindle_diameter_mm);
    for (int i = 0; i < std::ssize(attachment); ++i) {
      add(ToolPart::attachment, i, face + attachment[i].bottom_mm, face + attachment[i].top_mm,
          2 * reach_mm(attachment[i]));
    }
  }
  for (const BodyPiece& p : body.pieces) body.widest_radius_mm = std::max({body.widest_radius_mm, p.r0, p.r1});
  return body;
}

double cutterRadiusAt(const ToolBody& body, double z) {
  double radius = 0;
  for (const BodyPiece& p : body.pieces) {
    if (p.part != ToolPart::cutter || z < p.z0 || z > p.z1) continue;
    if (p.arc_radius > 0) {
      const double rise = z - p.centre_z;
      radius = std::max(radius, p.centre_r + std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - rise * rise)));
    } else {
      radius = std::max(radius, p.r0 + (p.r1 - p.r0) * ((z - p.z0) / (p.z1 - p.z0)));
    }
  }
  return radius;
}

double lowerSurface(const ToolBody& body, double r) {
  double lowest = std::numeric_limits<double>::infinity();
  for (const BodyPiece& p : body.pieces) {
    if (p.part != ToolPart::cutter || r > std::max(p.r0, p.r1)) continue;
    double z = p.z0;
    if (r > p.r0) {
      if (p.arc_radius > 0) {
        const double out = r - p.centre_r;
        z = p.centre_z - std::sqrt(std::max(0.0, p.arc_radius * p.arc_radius - out * out));
      } else {
        z = p.z0 + (p.z1 - p.z0) * ((r - p.r0) / (p.r1 - p.r0));
      }
    }
    lowest = std::min(lowest, z);
  }
  return lowest;
}

}  // namespace provecut
