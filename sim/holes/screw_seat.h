// What screws stand in.
#pragma once

#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/holes.h"
#include "sim/path/programs.h"
#include "sim/stock/dexel_field.h"

namespace provecut::holes {

// Adds a ScrewSeat for every screw that stands for this program and lies wholly on the stock, which is as `field` says
// when the program starts. Dexels with their centre under the head count, those within the shaft left out.
void observeSeats(const Job& job, const ProgramEntry& entry, const cutting::DexelField& field, int program,
                  std::vector<ScrewSeat>& seats);

// The same for the whole job, cut for this alone on a raster of about `cell_mm`.
std::vector<ScrewSeat> screwSeats(const Job& job, const Programs& programs, double cell_mm);

}  // namespace provecut::holes
