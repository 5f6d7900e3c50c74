// How a footprint lies to the stock.
#pragma once

#include "sim/clearance/obstacle.h"
#include "sim/path/stock_plan.h"

namespace provecut::clearance {

enum class OnStock { on, beside, across };

// The stock itself as an obstacle.
Obstacle stockOutline(const StockPlan& stock, double top_mm);

// How far the footprint reaches beyond the stock's outline at most, mm; negative: it lies so far within it.
double reachBeyond_mm(const StockPlan& stock, const Obstacle& o);

OnStock lieOn(const StockPlan& stock, const Obstacle& o);

}  // namespace provecut::clearance
