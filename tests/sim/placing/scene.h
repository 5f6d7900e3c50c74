// Jobs for the tests of where hold-downs may stand, and the existing exact check asked about single spots.
#pragma once

#include <random>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/placing/free_region.h"

namespace provecut::place_scene {

// Stock of 300 × 200 × 20 on the spoilboard, zero at its top front-left corner, one setup with one program, clearance
// 3; tools 1 flat 6, 2 ball 6, 3 vee 60° of 20, 4 taper-ball, all with nut 30 and spindle 65.
Job plainJob();

Program programOf(std::vector<Motion> motions);

// A feed move of tool 1.
Motion feed(WorkPoint from, WorkPoint to);

HoldDown roundForm(double diameter, double top);
HoldDown boxForm(Vec2 size, double angle_deg, double top);

// Its footprint about its own centre, top at height in the setup.
clearance::Obstacle aboutOrigin(const HoldDown& form, const Job& job);

// The region for one program of the job's first setup, over the stock and 40 around it.
placing::FreeRegion regionOf(const Job& job, const Program& program, const HoldDown& form, double resolution_mm = 0.5);

// Whether checkHoldDowns() finds nothing with the hold-down put at p.
bool clearAt(const Job& job, const Program& program, const HoldDown& form, SetupPoint2 p);

// Distance from p to the region, mm; 0 in it.
double fromRegion(const placing::FreeRegion& region, SetupPoint2 p);

// Lines level, sloping and straight down, arcs and helices in all three planes, some high, some low, with all tools.
Program randomProgram(std::mt19937& random, int moves);

}  // namespace provecut::place_scene
