#include "tests/sim/scene.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace provecut::testing {

namespace {

Tool tool(int number, ToolShape shape, double diameter) {
  Tool t;
  t.number = number;
  t.name = "test bit";
  t.shape = shape;
  t.diameter_mm = diameter;
  t.flute_length_mm = 40;
  t.shank_diameter_mm = diameter;
  t.stickout_mm = 60;
  return t;
}

}  // namespace

Tool flatTool(int number, double diameter) {
  return tool(number, ToolShape::flat, diameter);
}
Tool ballTool(int number, double diameter) {
  return tool(number, ToolShape::ball, diameter);
}
Tool veeTool(int number, double diameter, double angle, double tip) {
  Tool t = tool(number, ToolShape::vee, diameter);
  t.angle_deg = angle;
  t.tip_diameter_mm = tip;
  return t;
}
Tool drillTool(int number, double diameter, double angle) {
  Tool t = tool(number, ToolShape::drill, diameter);
  t.angle_deg = angle;
  return t;
}
Tool bullTool(int number, double diameter, double corner) {
  Tool t = tool(number, ToolShape::bull, diameter);
  t.corner_radius_mm = corner;
  return t;
}

Tool taperBallTool(int number, double diameter, double tip_radius, double half_angle) {
  Tool t = tool(number, ToolShape::taper_ball, diameter);
  t.tip_radius_mm = tip_radius;
  t.taper_deg = half_angle;
  return t;
}

namespace {

Tool formTool(int number, std::vector<Vec2> profile) {
  double widest = 0;
  for (const Vec2 p : profile) widest = std::max(widest, p.x);
  Tool t = tool(number, ToolShape::form, 2 * widest);
  t.flute_length_mm = profile.back().y;
  t.shank_diameter_mm = 2 * profile.back().x;
  t.profile_mm = std::move(profile);
  return t;
}

}  // namespace

Tool keyholeTool(int number, double head, double head_height, double neck, double length) {
  return formTool(number, {{head / 2, 0}, {head / 2, head_height}, {neck / 2, head_height}, {neck / 2, length}});
}
Tool dovetailTool(int number, double bottom, double flank, double height) {
  const double top = bottom / 2 - height * std::tan(flank * std::numbers::pi / 180);
  return formTool(number, {{bottom / 2, 0}, {top, height}, {top, height + 10}});
}
Tool roundOverTool(int number, double tip_radius, double tip_height, double radius, double length) {
  std::vector<Vec2> profile{{0, 0}, {tip_radius, 0}, {tip_radius, tip_height}};
  constexpr int lines = 90;  // chords outside the arc's hollow: the section grows by less than a ten-thousandth
  for (int k = 1; k <= lines; ++k) {
    const double a = std::numbers::pi / 2 * k / lines;
    profile.push_back({tip_radius + radius * (1 - std::cos(a)), tip_height + radius * std::sin(a)});
  }
  profile.push_back({tip_radius + radius, length});
  return formTool(number, std::move(profile));
}

Job stockOf(Vec3 size, std::vector<Tool> tools, double cell) {
  Job job;
  job.stock.size_mm = size;
  job.tools = std::move(tools);
  job.limits.cell_mm = cell;
  Setup setup;
  setup.name = "front";
  setup.zero_mm = {0, 0, size.z};
  job.setups = {setup};
  return job;
}

Moves& Moves::add(MotionKind kind, WorkPoint to) {
  Motion m;
  m.kind = kind;
  m.start = at_;
  m.end = to;
  m.tool = tool_;
  m.feed_mm_min = kind == MotionKind::rapid ? 0 : 1500;
  m.rpm = 18000;
  m.spindle = Spindle::cw;
  m.line = count() + 1;
  program_.motions.push_back(m);
  at_ = to;
  return *this;
}

Moves& Moves::arc(MotionKind sense, WorkPoint to, WorkPoint2 centre) {
  add(sense, to);
  program_.motions.back().centre = centre;
  return *this;
}

Moves& Moves::slot(const std::vector<WorkPoint2>& points, double depth) {
  rapid({points.front().x, points.front().y, 5});
  feed({points.front().x, points.front().y, -depth});
  for (std::size_t i = 1; i < points.size(); ++i) feed({points[i].x, points[i].y, -depth});
  return rapid({points.back().x, points.back().y, 5});
}

Moves& Moves::rectangle(WorkPoint2 low, WorkPoint2 high, double z) {
  rapid({low.x, low.y, 5});
  feed({low.x, low.y, z});
  feed({high.x, low.y, z});
  feed({high.x, high.y, z});
  feed({low.x, high.y, z});
  feed({low.x, low.y, z});
  return rapid({low.x, low.y, 5});
}

void addProgram(Job& job, std::size_t setup, int tool, std::vector<int> hold_downs) {
  ProgramEntry entry;
  entry.file = "test.nc";
  entry.tool = tool;
  entry.hold_downs = std::move(hold_downs);
  job.setups[setup].programs.push_back(entry);
}

Run runOf(Job job, const std::vector<Program>& programs) {
  for (const Program& p : programs) addProgram(job, 0, p.motions.front().tool);
  return run(job, programs);
}

}  // namespace provecut::testing
