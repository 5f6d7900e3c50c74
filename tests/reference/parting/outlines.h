#pragma once

#include <vector>

#include "tests/reference/parting/dice.h"
#include "tests/reference/parting/paths.h"

namespace provecut::reference {

enum class Layout {
  grid,     // side by side, kerfs apart or run together
  nested,   // one in the other, the outermost first
  islands,  // several in one, the outer first
  slots,    // straight, some from edge to edge
};

enum class ShapeForm { any, rectangle, round, star, slot };

// The way of the tool's axis about a part.
struct Shape {
  ShapeForm form = ShapeForm::rectangle;
  PlanPoint centre;
  double half_x = 0, half_y = 0;  // of the box; a slot runs from centre - half to centre + half
  double corner = 0;              // rectangle
  std::vector<double> spokes;     // star: radii as parts of half_x
  double start_rad = 0;           // round, star
  bool backward = false;
  bool halves = false;  // round: as two arcs
};

// Grown outwards by `offset`.
Path pathOf(const Shape& shape, double offset);

// In the order of layout; at least one.
std::vector<Shape> layOut(Dice& dice, Layout layout, ShapeForm form, double size_x, double size_y, double kerf);

enum class Entry { plunge, ramp, lead_in };
enum class TabForm { none, lifted, ramped, triangular };

struct Tab {  // lengths along the path
  double from = 0, to = 0;
};

struct CutPlan {
  double top = 0, bottom = 0, safe = 0;
  int passes = 1;
  Entry entry = Entry::plunge;
  bool finish = true;  // a level pass after the ramp
  TabForm tab_form = TabForm::none;
  double tab_top = 0;
  std::vector<Tab> tabs;
  double lead_radius = 0;
  bool lead_left = true;
};

// Some tabs along a path of that length, none where there is no room.
void addTabs(Dice& dice, CutPlan& plan, double length, double diameter);

void cutPath(Writer& writer, const Path& path, const CutPlan& plan);

// One pass at the bottom from a to b along the path.
void cutStretch(Writer& writer, const Path& path, double a, double b, const CutPlan& plan);

}  // namespace provecut::reference
