// A tabbed part, from the program that left it on its tabs on: what is cut beside it and in it.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/pieces/cell_raster.h"
#include "sim/pieces/loose_cuts.h"
#include "sim/pieces/piece_events.h"
#include "sim/stock/cut.h"

namespace provecut::pieces {

// What lies within the part's outline, holes in it included, in the setup frame of `setup`.
struct PlanOutline {
  const Setup* setup = nullptr;
  CellRaster<std::uint8_t> inside;
};

// Its tabs, all together.
struct TabTotals {
  std::size_t tabs = 0;  // onion skins apart
  double area_mm2 = 0;   // skins too
  double skin_mm = 0;    // an onion skin's thickness; 0: none
};

struct TabbedNow {
  // Dexels of the part and of its tabs, as cells of the raster that the outline was taken from.
  std::vector<cutting::Cell> cells, web_cells;
  int stride = 1;  // of that raster
  PlanOutline outline;
  Told told;                 // its Piece
  std::uint32_t since = 0;   // of that program: the first move that finds it on its tabs
  std::vector<int> held_by;  // what else holds it, as of the last program
  Piece piece;               // as it was told
  TabTotals tabs;
};

PlanOutline outlineOf(const cutting::DexelField& field, const Setup& setup, std::span<const cutting::Cell> cells);

// The middle of one of its dexels in plan.
StockPoint2 stockPoint(const TabbedNow& part, const Stock& stock, cutting::Cell cell);

// `p`: frame of the outline's setup.
bool contains(const PlanOutline& outline, SetupPoint2 p);

// Those of some moves that cut within the outline, and those whose cutter comes up to it from outside.
struct CutsAbout {
  std::vector<std::uint32_t> within, beside;
};
CutsAbout cutsAbout(const PlanOutline& outline, const Job& job, const Setup& setup, const Program& program,
                    const std::vector<MoveCut>& cuts, MoveSpan moves);

}  // namespace provecut::pieces
