// Where the job's hold-downs that are in the way could stand instead: the same answer for every command that gives one.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/observed/clear_spot.h"
#include "sim/observed/observation.h"
#include "sim/path/programs.h"

namespace provecut::placing {

// The nearest spot (free_spot.h) at which a hold-down is clear of every program of the job that it is fitted for, in
// steps of 0.1 mm, or of 0.001 in where the job is in inches; in this setup's frame, mm.
std::optional<SetupPoint2> nearestSpot(const Job& job, const Programs& programs, int setup, int hold_down);

// The same for every hold-down that these runs hit or pass too close to, in the order of setups and hold-downs. Pins
// are left out, since their holes fix their places; so is tape.
std::vector<ClearSpot> clearSpots(const Job& job, const Programs& programs, std::span<const ProgramRun> runs);

}  // namespace provecut::placing
