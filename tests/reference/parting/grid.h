#pragma once

#include <vector>

#include "tests/reference/parting/cutter.h"
#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

// Two cells side by side hang together where their intervals overlap by more than this.
constexpr double kContact_mm = 1e-4;

// Cells of the sheet in plan in the stock frame, each with one interval of material, exact at the cell's centre.
struct Grid {
  int nx = 0, ny = 0;
  double dx = 0, dy = 0;
  double thickness = 0;
  std::vector<double> floor, top;  // mm; equal in an empty cell
  std::vector<int> owner;          // the piece a cell belongs to; kDust: dust or nothing

  int index(int i, int j) const { return j * nx + i; }
  double centreX(int i) const { return (i + 0.5) * dx; }
  double centreY(int j) const { return (j + 0.5) * dy; }
};

constexpr int kDust = -1;

Grid gridOf(const Sheet& sheet, double cell_mm);

// Cells i0 <= i < i1, j0 <= j < j1.
struct CellBox {
  int i0 = 0, i1 = 0, j0 = 0, j1 = 0;
};

// The cells whose centres lie in a box in plan (stock frame).
CellBox cellsWithin(const Grid& grid, double x0, double x1, double y0, double y1);

// For each piece: what a move took from it, and whether a contact or a cell of it is gone.
struct Effect {
  std::vector<double> taken_mm3;
  std::vector<char> parted;
};

// Takes the tool's body along a stroke out of the grid. The stroke is in plan in the stock frame; its heights are those
// of the setup, where a turned stock is cut from its floor.
void cut(Grid& grid, bool turned, const Profile& profile, const Stroke& stroke, Effect& effect);

// The cells whose centres lie within `reach` of the stroke, and perhaps a few more: in row j those i0 <= i < i1.
struct RowSpan {
  int i0 = 0, i1 = 0;
};
CellBox rowsNear(const Grid& grid, const Stroke& stroke, double reach);
RowSpan spanNear(const Grid& grid, const Stroke& stroke, double reach, int j);

struct Run {
  int j = 0;
  int i0 = 0, i1 = 0;
};

// Cells that hang together, as runs along X.
struct Component {
  std::vector<Run> runs;
  CellBox box;
  int cells = 0;
};

// What the cells of one owner within the box fall into, the largest first.
std::vector<Component> componentsOf(const Grid& grid, int owner, const CellBox& box);

// Some square of 1 x 1 mm within the box whose cells all belong to the owner: its lower left cell; i = -1 if none.
struct Place {
  int i = -1, j = -1;
};
Place squareWithin(const Grid& grid, int owner, const CellBox& box);
// Side of the largest square in it, in mm.
double largestSquare_mm(const Grid& grid, int owner, const CellBox& box);
bool squareStands(const Grid& grid, int owner, const Place& place);

}  // namespace provecut::reference
