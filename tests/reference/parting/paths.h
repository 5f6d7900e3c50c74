#pragma once

#include <vector>

#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

struct PlanPoint {
  double x = 0, y = 0;
};

// A line (kind feed) or an arc in plan.
struct PathSegment {
  MoveKind kind = MoveKind::feed;
  PlanPoint from, to, centre;
};

struct Path {
  std::vector<PathSegment> segments;
};

double lengthOf(const Path& path);
PlanPoint pointOn(const Path& path, double s);

Path polygonPath(const std::vector<PlanPoint>& corners);  // closed
Path linePath(PlanPoint from, PlanPoint to);
Path circlePath(PlanPoint centre, double radius, double start_rad, bool clockwise, bool in_halves);

// A rectangle with corners rounded by `round` (0: sharp), counter-clockwise from the middle of its lower side.
Path rectanglePath(PlanPoint centre, double half_x, double half_y, double round);

// The same path the other way round.
Path reversed(const Path& path);

// The path as it stands in the setup frame of a turned stock.
Path turnedPath(const Path& path, Face face, double size_x, double size_y);

// Height at a length along a path. Two knots at one length are a plunge or a lift.
struct Knot {
  double s = 0;
  double z = 0;
};

// Appends moves to a program; every coordinate is rounded to 0.001 mm, each move starts where the last one ended.
struct Writer {
  SheetProgram* program = nullptr;
  int tool = 0;
  SheetPoint at;
};

void rapidTo(Writer& writer, SheetPoint to);
void feedTo(Writer& writer, SheetPoint to);
void arcTo(Writer& writer, MoveKind kind, PlanPoint centre, SheetPoint to);

// Feeds along the path; the height runs straight from knot to knot.
void follow(Writer& writer, const Path& path, const std::vector<Knot>& knots);

}  // namespace provecut::reference
