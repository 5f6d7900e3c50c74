// Tools, hold-downs and moves for the clearance tests, each in one line.
#pragma once

#include <optional>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/clearance/clearance.h"

namespace provecut::scene {

// A flat cutter of 6 mm, flutes 22 mm, a shank of 8 mm, stick-out 40 mm.
Tool flatTool(double diameter = 6);
Tool ballTool(double diameter = 6);
Tool veeTool(double angle_deg = 60, double diameter = 20);

// Nut 30 × 20, spindle 65; a shoe of 100 from 6 below the nut face to 40 above where asked for.
ToolBody bodyOf(const Tool& tool, bool with_shoe = false);

HoldDown roundOne(SetupPoint2 at, double diameter, double top);
HoldDown box(SetupPoint2 at, Vec2 size, double angle_deg, double top);
HoldDown outlined(std::vector<SetupPoint2> corners, double top);

Motion line(WorkPoint from, WorkPoint to, MotionKind kind = MotionKind::feed);
// `centre` as Motion::centre: in the plane's own axes.
Motion arc(MotionKind way, Plane plane, WorkPoint from, WorkPoint to, WorkPoint2 centre, int turns = 1);

// The stock's top face lies at 0.
clearance::Approach see(const Motion& motion, const ToolBody& body, const HoldDown& hold_down, double wanted = 1e9);

const clearance::PartTouch* touchOf(const clearance::Approach& a, ToolPart part);

Motion moved(Motion m, Vec3 by);
HoldDown moved(HoldDown h, Vec2 by);

}  // namespace provecut::scene
