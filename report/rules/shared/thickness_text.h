// How much is left where the stock is thicker or thinner than nominal.
#pragma once

#include <string>

#include "parser/job/job.h"
#include "report/facts/facts.h"

namespace provecut {

// "0.3 mm thicker stock leaves 3.3 mm, 0.3 mm thinner stock 2.7 mm." for something `left_mm` thick that gains
// `moves_with_stock` mm (1, 0, -1) in stock 1 mm thicker; empty where the job gives no tolerance.
std::string thicknessText(const Job& job, double left_mm, int moves_with_stock);

}  // namespace provecut
