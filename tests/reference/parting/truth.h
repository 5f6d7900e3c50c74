#pragma once

#include <optional>
#include <vector>

#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

// The end of a move of a program; move -1: the start of the program.
struct Moment {
  int program = -1;
  int move = -1;
};

struct LooseCut {
  Moment at;
  double taken_mm3 = 0;
};

struct Passing {
  Moment at;
  double distance_mm = 0;  // in plan, from the cutter's body to the centre of the nearest cell: up to 0.71 cell too far
};

struct TrueBox {  // stock frame, mm
  double x0 = 0, x1 = 0, y0 = 0, y1 = 0, z0 = 0, z1 = 0;
};

// How much of a piece a fitted hold-down covers, be it enough to hold it or not.
struct Grip {
  int hold_down = 0;
  double covered_mm2 = 0;
};

enum class End { stands, split, milled };

// A piece: material that hangs together, of at least 4 mm² in plan, with a square of 1 x 1 mm in it somewhere.
struct TruePiece {
  int id = 0;
  int parent = -1;  // -1: the whole stock
  Moment born;      // the move at whose end it first stands alone; (-1, -1) for the stock itself
  double area_mm2 = 0;
  double volume_mm3 = 0;
  double square_mm = 0;         // side of the largest axis-parallel square within it in plan, in whole cells
  TrueBox box;                  // at birth, as are area and volume
  std::vector<int> held_by;     // hold-downs that hold it at birth
  std::vector<Grip> grips;      // beside held_by: tells how close a call it was
  std::optional<Moment> loose;  // when first nothing holds it
  End end_kind = End::stands;
  Moment ended;                     // split or milled
  std::vector<LooseCut> cut_loose;  // moves that cut it while nothing held it
  std::vector<Passing> nearest;     // other moves within 1 mm of it while nothing held it
};

// Every piece that ever stood alone, in order of birth; of those born together the largest first.
// Brute force on square cells of about cell_mm (their count along each side is rounded).
std::vector<TruePiece> truth(const Sheet& sheet, double cell_mm);

}  // namespace provecut::reference
