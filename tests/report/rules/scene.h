// Facts put together by hand, so that a rule is tested on truth known by construction.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/rules/list.h"
#include "sim/observed/observation.h"

namespace provecut {

// Stock of 200 x 100 x 18 mm on the spoilboard, zero at its top front-left corner, a 6 mm flat cutter in the spindle,
// which turns; one setup with one program. Every motion stands on its own line, the first on line 1.
class Scene {
 public:
  Scene();
  Scene(const Scene&) = delete;
  Scene& operator=(const Scene&) = delete;

  Job& job() { return facts_.job; }
  Setup& setup() { return facts_.job.setups.front(); }
  Tool& tool() { return facts_.job.tools.front(); }
  Run& run() { return facts_.run; }
  Program& program(std::size_t i = 0) { return facts_.programs[i].program; }
  ProgramRun& programRun(std::size_t i = 0) { return facts_.run.programs[i]; }
  std::optional<double>& saidThickness() { return facts_.said_thickness_mm; }
  std::optional<Lock>& lock() { return facts_.lock; }
  std::string& lockFile() { return facts_.lock_file; }
  std::string& text(std::size_t i = 0) { return facts_.programs[i].text; }

  // Adds a program of its own, numbered from 0, to which the moves that follow belong.
  void addProgram(std::string file);
  // Adds a hold-down fitted for all programs; gives its index.
  int addHoldDown(HoldDown hold_down);

  Motion& rapid(WorkPoint to) { return move(MotionKind::rapid, to); }
  Motion& feed(WorkPoint to) { return move(MotionKind::feed, to); }
  Motion& arc(WorkPoint to, WorkPoint2 centre, Plane plane, bool clockwise);
  Motion& dwell(double seconds);
  Motion& last() { return program(current_).motions.back(); }
  std::uint32_t lastIndex() const {
    return static_cast<std::uint32_t>(facts_.programs[current_].program.motions.size() - 1);
  }
  // What the last motion took from the stock.
  void cuts(double axial_depth_mm, double bite_mm, double removed_mm3 = 10);
  void event(EventKind kind, double value = 0);

  std::vector<Finding> findings(const Rule& rule);
  const Facts& facts();  // as they stand now

  double feed_mm_min = 1000;
  double rpm = 18000;
  Spindle spindle = Spindle::cw;

 private:
  Motion& move(MotionKind kind, WorkPoint to);

  Facts facts_;
  std::size_t current_ = 0;
  WorkPoint position_{0, 0, 20};
};

// A round screw head and a rectangular clamp, by name.
HoldDown screw(std::string name, SetupPoint2 at, double diameter_mm, double top_mm);
HoldDown clamp(std::string name, SetupPoint2 at, Vec2 size_mm, double top_mm);

}  // namespace provecut
