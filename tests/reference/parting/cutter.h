#pragma once

#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

// The lower side of a tool as a solid of revolution: flat out to `flat`, then a rounding of radius `corner` out to
// `arc_end`, then a cone that rises by `slope` per mm out to `radius`, then the cylinder. Convex for every form.
struct Profile {
  double radius = 0;
  double flat = 0;
  double corner = 0;
  double arc_end = 0;
  double arc_height = 0;  // height above the tip at arc_end
  double slope = 0;
};

Profile profileOf(const SheetTool& tool);

// Height of the body's lower side above the tip at distance r from the axis, 0 <= r <= radius.
double bottomAt(const Profile& profile, double r);

// Radius of the body at height h >= 0 above the tip.
double radiusAt(const Profile& profile, double h);

// A straight way of the tip. A stroke without length in plan stands for a plunge: z is its lower end.
struct Stroke {
  double x = 0, y = 0;    // start
  double ux = 0, uy = 0;  // direction in plan
  double length = 0;      // in plan
  double z = 0;           // at the start
  double slope = 0;       // of z per mm in plan
};

Stroke strokeOf(const SheetPoint& from, const SheetPoint& to);

double lowestTip(const Stroke& stroke);

// Lowest z that the body reaches over the point (x, y) along the stroke, exact to 1e-7 mm; infinity where it does not
// come over the point, or where it surely stays at or above `limit`.
double envelopeAt(const Profile& profile, const Stroke& stroke, double x, double y, double limit);

// Least distance in plan from the body to the point (x, y) along the stroke, looking only at heights below `top`;
// infinity where the tip never is below `top`, or where the distance surely is `limit` or more.
double distanceBelow(const Profile& profile, const Stroke& stroke, double x, double y, double top, double limit);

}  // namespace provecut::reference
