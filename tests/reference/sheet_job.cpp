#include "tests/reference/sheet_job.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <string>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

Tool toolOf(const reference::SheetTool& t, int number) {
  const auto with = [&](Tool tool) {
    tool.flute_length_mm = 100;
    tool.stickout_mm = 150;
    return tool;
  };
  switch (t.form) {
    case reference::Form::flat:
      return with(flatTool(number, t.diameter));
    case reference::Form::ball:
      return with(ballTool(number, t.diameter));
    case reference::Form::bull:
      return with(bullTool(number, t.diameter, t.corner_radius));
    case reference::Form::vee:
      return with(veeTool(number, t.diameter, t.included_angle_deg, t.tip_diameter));
    case reference::Form::taper_ball:
      return with(taperBallTool(number, t.diameter, t.tip_radius, t.half_angle_deg));
    case reference::Form::drill:
      return with(drillTool(number, t.diameter, t.included_angle_deg));
  }
  return {};
}

HoldDown holdDownOf(const reference::SheetHoldDown& h, double stock_top) {
  HoldDown out;
  out.at_mm = {h.centre_x, h.centre_y};
  out.top_mm = stock_top + 3;
  if (h.kind == reference::HoldKind::screw) {
    out.kind = HoldDownKind::screw;
    out.diameter_mm = h.diameter;
  } else {
    out.kind = h.kind == reference::HoldKind::tape ? HoldDownKind::tape : HoldDownKind::clamp;
    out.size_mm = {h.size_x, h.size_y};
  }
  return out;
}

Motion motionOf(const reference::SheetMove& m, double stock_top, std::size_t line) {
  static const std::map<reference::MoveKind, MotionKind> kinds{{reference::MoveKind::rapid, MotionKind::rapid},
                                                               {reference::MoveKind::feed, MotionKind::feed},
                                                               {reference::MoveKind::arc_cw, MotionKind::arc_cw},
                                                               {reference::MoveKind::arc_ccw, MotionKind::arc_ccw}};
  Motion out;
  out.kind = kinds.at(m.kind);
  out.start = {m.from.x, m.from.y, m.from.z - stock_top};
  out.end = {m.to.x, m.to.y, m.to.z - stock_top};
  out.centre = {m.centre_x, m.centre_y};
  out.tool = m.tool + 1;
  out.feed_mm_min = out.kind == MotionKind::rapid ? 0 : 1500;
  out.rpm = 18000;
  out.spindle = Spindle::cw;
  out.line = static_cast<std::uint32_t>(line);
  return out;
}

void addSetup(Job& job, const reference::Sheet& sheet, reference::Face face) {
  Setup setup;
  setup.name = "setup " + std::to_string(job.setups.size() + 1);
  setup.zero_mm = {0, 0, sheet.thickness};
  if (face == reference::Face::turned_front_back) setup.flip = Flip::front_back;
  if (face == reference::Face::turned_left_right) setup.flip = Flip::left_right;
  job.setups.push_back(setup);
}

}  // namespace

Job jobOf(const reference::Sheet& sheet, double cell_mm) {
  std::vector<Tool> tools;
  for (const auto& t : sheet.tools) tools.push_back(toolOf(t, static_cast<int>(tools.size()) + 1));
  Job job = stockOf({sheet.size_x, sheet.size_y, sheet.thickness}, tools, cell_mm);
  job.setups.clear();
  for (const auto& h : sheet.hold_downs) job.hold_downs.push_back(holdDownOf(h, sheet.thickness));
  std::optional<reference::Face> face;
  for (const auto& p : sheet.programs) {
    if (face != p.face) addSetup(job, sheet, p.face);
    face = p.face;
    std::vector<int> fitted;
    std::copy_if(p.fitted.begin(), p.fitted.end(), std::back_inserter(fitted),
                 [&](int h) { return sheet.hold_downs[static_cast<std::size_t>(h)].face == p.face; });
    addProgram(job, job.setups.size() - 1, 1, fitted);
  }
  return job;
}

std::vector<Program> programsOf(const reference::Sheet& sheet) {
  std::vector<Program> programs;
  for (const auto& p : sheet.programs) {
    Program& program = programs.emplace_back();
    for (const auto& m : p.moves) program.motions.push_back(motionOf(m, sheet.thickness, program.motions.size() + 1));
  }
  return programs;
}

}  // namespace provecut::testing
