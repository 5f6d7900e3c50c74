// What materials ask of a cutter that is new and sharp.
#pragma once

#include "parser/job/job.h"
#include "sim/tool/cutting_load.h"

namespace provecut {

// Forces of the linear-edge model. Real spread is half up or down; a dull bit needs half again to twice as much (our
// own estimate).
CuttingForce cuttingForce(Material material);

// Specific cutting energy at ordinary chips, J/cm3; for cuts whose chips are not known, such as plunges.
double usualEnergy_j_cm3(Material material);

// Young's modulus of a cutter by its shape, N/mm2.
double modulus_n_mm2(ToolShape shape);

}  // namespace provecut
