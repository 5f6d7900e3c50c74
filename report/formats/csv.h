// The interpreted moves as CSV: line,kind,x0,y0,z0,x1,y1,z1,cx,cy,cz,plane,turns,feed,rpm,tool.
#pragma once

#include <iosfwd>

#include <string_view>

#include "parser/motion.h"

namespace provecut {

// rapid, feed, cw, ccw, dwell or probe.
std::string_view kindName(MotionKind kind);

// mm and mm/min, coordinates to the millionth of a micrometre. `kind`: rapid, feed, cw, ccw, dwell or probe.
// Arcs: the centre is absolute, with the start's coordinate along the plane's normal, and `turns` counts the turns begun;
// other moves have no centre and 0 turns. `feed` is 0 for rapids and where none is in force, `rpm` the S in force.
void writeMoves(const Program& program, std::ostream& out);

}  // namespace provecut
