// A part that hangs on tabs, from the program that left it so on: what is cut beside it and in it.
#pragma once

#include <cstdint>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/move_cut.h"
#include "sim/stock/cut.h"

namespace provecut::pieces {

// What lies within the part's outline, holes in it included, as a raster in the lying frame of `setup`.
struct TabbedOutline {
  const Setup* setup = nullptr;
  int x0 = 0, y0 = 0, nx = 0, ny = 0;
  double cell_x_mm = 0, cell_y_mm = 0;
  std::vector<std::uint8_t> inside;
};

struct TabbedNow {
  // Dexels of the part and of its tabs, as indices of the raster that the outline was taken from.
  std::vector<std::uint32_t> cells, web_cells;
  std::uint32_t stride = 1;  // of that raster
  TabbedOutline outline;
  int run = 0;  // which ProgramRun listed it, and where
  std::size_t piece = 0;
};

TabbedOutline outlineOf(const cutting::DexelField& field, const Setup& setup, const std::vector<std::uint32_t>& cells);

// The middle of one of its dexels in plan, stock frame.
Vec3 stockPoint(const TabbedNow& part, const Stock& stock, std::uint32_t cell);

bool contains(const TabbedOutline& outline, Vec2 lying);

// The moves from motion `first` on that cut within the outline, and those whose cutter comes up to it from outside.
struct CutsAbout {
  std::vector<std::uint32_t> within, beside;
};
CutsAbout cutsAbout(const TabbedOutline& outline, const Job& job, const Setup& setup, const Program& program,
                    const std::vector<MoveCut>& cuts, std::uint32_t first);

}  // namespace provecut::pieces
