// Level sections through what programs cut, exactly from their moves: for holes, where a raster is too coarse.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/path/programs.h"
#include "sim/placing/keep_out.h"

namespace provecut::holes {

// What the first `programs` of the job cut at one height above the underside, in setup `lies`: the
// plan paths of all cutters in that frame, each with the cutter's radius there. Arcs come as chords within 0.001 mm.
std::vector<placing::Stretch> cutSection(const Job& job, const Programs& programs, const Setup& lies, double height_mm);

// How far one can go from p in the direction (a unit vector) without leaving what was cut, mm; 0 where p itself is not
// cut.
double openWay(std::span<const placing::Stretch> section, SetupPoint2 p, Vec2 direction);

// Those that come within `distance` of p.
std::vector<placing::Stretch> nearTo(std::span<const placing::Stretch> section, SetupPoint2 p, double distance);

// Where holes may be: points that cutters went down at or round about, in setup `lies`; each once.
std::vector<SetupPoint2> holeCentres(const Job& job, const Programs& programs, const Setup& lies);

}  // namespace provecut::holes
