// The second pass over a program that has been cut: what its tools took between the centres of dexels.
#pragma once

#include <span>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/stock/contact_log.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter.h"

namespace provecut::cutting {

// Fills in the field's gaps from the way of the tip of each tool that is narrow or pointed at the scale of the cells.
// Where a tip passes between two centres no higher than the higher floor of the two, their contact is lost, which is
// added to the log (may be null). A closed way so parts what it goes round, however thin the kerf and wide the cells.
void cutGaps(DexelField& field, const Cutters& cutters, const Job& job, const Setup& setup,
             std::span<const Motion> motions, ContactLog* contacts);

}  // namespace provecut::cutting
