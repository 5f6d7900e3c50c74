#pragma once

#include "tests/reference/parting/dice.h"
#include "tests/reference/parting/paths.h"

namespace provecut::reference {

enum class OutlineForm { any, round };

// A part's outline, centred on the origin, and the way of the tool's axis about it, the tool's radius outside.
struct PartOutline {
  Path edge, path;
  bool round = false;
};

// At any angle, with sharp or round corners of 60 degrees or more; the smaller half of its size is `half`.
PartOutline randomOutline(Dice& dice, OutlineForm form, double half, double radius);

Path movedPath(const Path& path, PlanPoint by);

struct PlanBox {
  double x0 = 0, x1 = 0, y0 = 0, y1 = 0;
};
PlanBox boxAbout(const Path& path);

}  // namespace provecut::reference
