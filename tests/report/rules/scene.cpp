#include "tests/report/rules/scene.h"

#include <utility>

namespace provecut {

Scene::Scene() {
  Job& job = facts_.job;
  job.name = "scene";
  job.file = "job.toml";
  job.stock.size_mm = {200, 100, 18};
  Tool tool;
  tool.number = 1;
  tool.name = "6 mm flat";
  tool.diameter_mm = 6;
  tool.flute_length_mm = 22;
  tool.shank_diameter_mm = 6;
  tool.stickout_mm = 35;
  tool.place = {30, 1, 9};
  job.tools.push_back(tool);
  Setup setup;
  setup.name = "front";
  setup.zero_mm = {0, 0, 18};
  job.setups.push_back(setup);
  addProgram("10-cut.nc");
}

void Scene::addProgram(std::string file) {
  ProgramEntry entry;
  entry.file = std::move(file);
  entry.tool = 1;
  entry.hold_downs = setup().hold_downs;
  entry.place = {50, 1, 5};
  setup().programs.push_back(std::move(entry));
  facts_.programs.emplace_back();
  ProgramRun run;
  run.entry = static_cast<int>(facts_.run.programs.size());
  facts_.run.programs.push_back(run);
  current_ = facts_.programs.size() - 1;
  position_ = {0, 0, 20};
  program(current_).modal.units_set = program(current_).modal.ever_mm = true;
}

int Scene::addHoldDown(HoldDown hold_down) {
  const int index = static_cast<int>(job().hold_downs.size());
  hold_down.place = {static_cast<std::uint32_t>(60 + index), 1, 14};
  job().hold_downs.push_back(std::move(hold_down));
  setup().hold_downs.push_back(index);
  for (ProgramEntry& entry : setup().programs) entry.hold_downs.push_back(index);
  return index;
}

Motion& Scene::move(MotionKind kind, WorkPoint to) {
  std::vector<Motion>& motions = program(current_).motions;
  Motion m;
  m.kind = kind;
  m.start = position_;
  m.end = position_ = to;
  m.feed_mm_min = kind == MotionKind::rapid ? 0 : static_cast<float>(feed_mm_min);
  m.rpm = static_cast<float>(rpm);
  m.spindle = spindle;
  m.tool = 1;
  m.line = static_cast<std::uint32_t>(motions.size() + 1);
  m.column = 1;
  m.end_column = 3;
  motions.push_back(m);
  programRun(current_).cuts.emplace_back();
  return motions.back();
}

Motion& Scene::arc(WorkPoint to, WorkPoint2 centre, Plane plane, bool clockwise) {
  Motion& m = move(clockwise ? MotionKind::arc_cw : MotionKind::arc_ccw, to);
  m.centre = centre;
  m.plane = plane;
  return m;
}

Motion& Scene::dwell(double seconds) {
  Motion& m = move(MotionKind::dwell, position_);
  m.dwell_s = static_cast<float>(seconds);
  return m;
}

void Scene::cuts(double axial_depth_mm, double bite_mm, double removed_mm3) {
  programRun(current_).cuts.back() = {static_cast<float>(removed_mm3), static_cast<float>(axial_depth_mm),
                                      static_cast<float>(bite_mm)};
}

void Scene::event(EventKind kind, double value) {
  Event e{kind, static_cast<std::uint32_t>(program(current_).motions.size()), value, {}, {}};
  e.place = {static_cast<std::uint32_t>(program(current_).motions.size() + 1), 1, 3};
  program(current_).events.push_back(e);
}

const Facts& Scene::facts() {
  for (std::size_t i = 0; i < facts_.programs.size(); ++i) {
    ProgramFacts& p = facts_.programs[i];
    p.setup = &setup();
    p.entry = &setup().programs[i];
    p.line_starts = lineStarts(p.text);
  }
  return facts_;
}

std::vector<Finding> Scene::findings(const Rule& rule) {
  std::vector<Finding> out;
  rule.check(facts(), out);
  return out;
}

HoldDown screw(std::string name, SetupPoint2 at, double diameter_mm, double top_mm) {
  HoldDown h;
  h.name = std::move(name);
  h.kind = HoldDownKind::screw;
  h.at_mm = at;
  h.diameter_mm = diameter_mm;
  h.top_mm = top_mm;
  return h;
}

HoldDown clamp(std::string name, SetupPoint2 at, Vec2 size_mm, double top_mm) {
  HoldDown h;
  h.name = std::move(name);
  h.kind = HoldDownKind::clamp;
  h.at_mm = at;
  h.size_mm = size_mm;
  h.top_mm = top_mm;
  return h;
}

}  // namespace provecut
