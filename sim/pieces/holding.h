// Which pieces a hold-down holds.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/clearance/obstacle.h"
#include "sim/pieces/pieces.h"

namespace provecut::pieces {

// The stock's sides from which a hold-down presses, as bits.
using Sides = std::uint8_t;
inline constexpr Sides from_left = 1, from_right = 2, from_front = 4, from_back = 8;

// A hold-down over a piece, under it, or at its edge.
struct Hold {
  int hold_down = 0;
  double area_mm2 = 0;
  Sides sides = 0;  // of those at its edge
};

// A patch of tape holds from 5 × 5 mm on, of which the raster may count a tenth less; of a job whose widest bit is
// narrower than half of that, from twice the bit's width both ways (our estimates, no source).
inline constexpr double least_tape_mm2 = 22.5;
double leastTape_mm2(const Job& job);

// A vacuum holds from 25 × 25 mm on: a smaller piece slips or leaks (our estimate, no source).
inline constexpr double least_vacuum_mm2 = 620;

// A jaw or side clamp touches the stock from this near (our estimate: as well as one measures, no source).
inline constexpr double touch_mm = 1;

// The hold-downs alone.
std::vector<int> namesOf(const std::vector<Hold>& holds);

// Those of a piece's holds that hold it: a screw through it, a clamp or another body on it, however little; tape and
// glue from leastTape_mm2 on, a vacuum from least_vacuum_mm2 on. Pins only place a piece, they do not hold it down.
// Jaws and side clamps hold what they press on from two opposite sides; those of which nobody said where they are, what
// reaches all four sides of the stock.
std::vector<Hold> thoseThatHold(const Job& job, const std::vector<Hold>& holds);

// How a hold-down, whose body is given in the setup frame, meets a dexel: over it, under it where the dexel still
// touches the spoilboard, or at its side.
struct Meets {
  bool meets = false;
  Sides sides = 0;
};
Meets meets(const Job& job, int hold_down, const clearance::Obstacle& body, const cutting::DexelField& field,
            cutting::Cell cell);

// Per label 1 … `count` (- 1) the fitted hold-downs that meet it, enough or not.
std::vector<std::vector<Hold>> areasUnder(const cutting::DexelField& field, const std::vector<Label>& label,
                                          std::size_t count, const Job& job, std::span<const int> fitted);

// The same, those only that hold it.
std::vector<std::vector<Hold>> holdsOf(const cutting::DexelField& field, const std::vector<Label>& label,
                                       std::size_t count, const Job& job, std::span<const int> fitted);

// Per label of `pieces` (- 1) the fitted hold-downs that hold it.
std::vector<std::vector<int>> heldBy(const cutting::DexelField& field, const Pieces& pieces, const Job& job,
                                     std::span<const int> fitted);

}  // namespace provecut::pieces
