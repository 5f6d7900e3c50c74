#include "tests/sim/clearance/scene.h"

#include <algorithm>
#include <array>
#include <utility>

namespace provecut::scene {

namespace {

Tool tool(ToolShape shape, double diameter) {
  Tool t;
  t.number = 1;
  t.shape = shape;
  t.diameter_mm = diameter;
  t.flute_length_mm = 22;
  t.shank_diameter_mm = 8;
  t.stickout_mm = 40;
  return t;
}

HoldDown screw(double top) {
  HoldDown h;
  h.name = "screw";
  h.top_mm = top;
  return h;
}

}  // namespace

Tool flatTool(double diameter) {
  return tool(ToolShape::flat, diameter);
}
Tool ballTool(double diameter) {
  return tool(ToolShape::ball, diameter);
}
Tool veeTool(double angle_deg, double diameter) {
  Tool t = tool(ToolShape::vee, diameter);
  t.angle_deg = angle_deg;
  return t;
}

ToolBody bodyOf(const Tool& t, bool with_shoe) {
  const std::array<SpindleAttachment, 1> shoe{{{"dust shoe", 100, -6, 40}}};
  return toolBody(t, ColletNut{},
                  with_shoe ? std::span<const SpindleAttachment>(shoe) : std::span<const SpindleAttachment>());
}

HoldDown roundOne(SetupPoint2 at, double diameter, double top) {
  HoldDown h = screw(top);
  h.at_mm = at;
  h.diameter_mm = diameter;
  return h;
}

HoldDown box(SetupPoint2 at, Vec2 size, double angle_deg, double top) {
  HoldDown h = screw(top);
  h.at_mm = at;
  h.size_mm = size;
  h.angle_deg = angle_deg;
  return h;
}

HoldDown outlined(std::vector<SetupPoint2> corners, double top) {
  HoldDown h = screw(top);
  h.outline_mm = std::move(corners);
  return h;
}

Motion line(WorkPoint from, WorkPoint to, MotionKind kind) {
  Motion m;
  m.kind = kind;
  m.start = from;
  m.end = to;
  m.tool = 1;
  return m;
}

Motion arc(MotionKind way, Plane plane, WorkPoint from, WorkPoint to, WorkPoint2 centre, int turns) {
  Motion m = line(from, to, way);
  m.plane = plane;
  m.centre = centre;
  m.turns = static_cast<std::uint16_t>(turns);
  return m;
}

clearance::Approach see(const Motion& motion, const ToolBody& body, const HoldDown& hold_down, double wanted) {
  return clearance::approach(pathOf(motion, {}, Machine{}), body, clearance::obstacle(hold_down, 0), wanted);
}

const clearance::PartTouch* touchOf(const clearance::Approach& a, ToolPart part) {
  const auto it =
      std::find_if(a.touches.begin(), a.touches.end(), [&](const clearance::PartTouch& t) { return t.part == part; });
  return it == a.touches.end() ? nullptr : &*it;
}

Motion moved(Motion m, Vec3 by) {
  m.start = m.start + by;
  m.end = m.end + by;
  switch (m.plane) {
    case Plane::xy:
      m.centre = m.centre + Vec2{by.x, by.y};
      break;
    case Plane::zx:
      m.centre = m.centre + Vec2{by.z, by.x};
      break;
    case Plane::yz:
      m.centre = m.centre + Vec2{by.y, by.z};
      break;
  }
  return m;
}

HoldDown moved(HoldDown h, Vec2 by) {
  h.at_mm = h.at_mm + by;
  for (SetupPoint2& p : h.outline_mm) p = p + by;
  return h;
}

}  // namespace provecut::scene
