// Small jobs and programs for tests of the cut, built move by move.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/observation.h"
#include "sim/run.h"

namespace provecut::testing {

Tool flatTool(int number, double diameter_mm);
Tool ballTool(int number, double diameter_mm);
Tool veeTool(int number, double diameter_mm, double angle_deg, double tip_mm = 0);
Tool drillTool(int number, double diameter_mm, double angle_deg);
Tool bullTool(int number, double diameter_mm, double corner_mm);
Tool taperBallTool(int number, double diameter_mm, double tip_radius_mm, double half_angle_deg);
// Forms. Keyhole and T-slot: a head on a thinner neck that goes up to `length`. Dovetail: `height` high, then a neck as
// wide as its top. Round-over: a plunge tip, the hollow quarter of `radius` above it, then straight.
Tool keyholeTool(int number, double head_mm, double head_height_mm, double neck_mm, double length_mm);
Tool dovetailTool(int number, double bottom_mm, double flank_deg, double height_mm);
Tool roundOverTool(int number, double tip_radius_mm, double tip_height_mm, double radius_mm, double length_mm);

// Stock with one setup, zero at the top front-left corner.
Job stockOf(Vec3 size_mm, std::vector<Tool> tools, double cell_mm = 0.25);

// A program as a string of moves from above the work zero.
class Moves {
 public:
  explicit Moves(int tool, WorkPoint start = {0, 0, 20}) : tool_(tool), at_(start) {}
  Moves& rapid(WorkPoint to) { return add(MotionKind::rapid, to); }
  Moves& feed(WorkPoint to) { return add(MotionKind::feed, to); }
  Moves& arc(MotionKind sense, WorkPoint to, WorkPoint2 centre);
  // Rapid above `at`, plunge, along the points at that depth, up again.
  Moves& slot(const std::vector<WorkPoint2>& points, double depth_mm);
  Moves& rectangle(WorkPoint2 low, WorkPoint2 high, double z_mm);
  Program program() const { return program_; }
  std::uint32_t count() const { return static_cast<std::uint32_t>(program_.motions.size()); }

 private:
  Moves& add(MotionKind kind, WorkPoint to);
  int tool_;
  WorkPoint at_;
  Program program_;
};

// Adds the program to setup `setup` of the job and returns the job's index of it.
void addProgram(Job& job, std::size_t setup, int tool, std::vector<int> hold_downs = {});

// The run of a job whose setups hold these programs, one entry each, in the first setup.
Run runOf(Job job, const std::vector<Program>& programs);

}  // namespace provecut::testing
