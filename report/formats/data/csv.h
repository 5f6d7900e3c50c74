// Moves and hits as CSV (RFC 4180, lines end with LF).
// A stream that fails is left failed: the caller looks at it afterwards.
#pragma once

#include <iosfwd>
#include <string_view>

#include "parser/program/motion.h"
#include "report/facts/facts.h"

namespace provecut {

// rapid, feed, cw, ccw, dwell or probe.
std::string_view kindName(MotionKind kind);

// line,kind,x0,y0,z0,x1,y1,z1,cx,cy,cz,plane,turns,feed,rpm,tool: mm and mm/min, coordinates to the millionth of a
// micrometre. Arcs: the centre is absolute, with the start's coordinate along the plane's normal, and `turns` counts
// the turns begun; other moves have no centre and 0 turns. `feed` is 0 for rapids and where none is in force, `rpm` the
// S in force.
void writeMoves(const Program& program, std::ostream& out);

// Every move that hits a hold-down: setup,program,line,subject,tool,tool_part,motion,plunge,x,y,z,overlap_mm; the tip
// at the first contact, work coordinates, mm. Text is quoted, and never begins as a spreadsheet's formula does.
void writeHits(const Facts& facts, std::ostream& out);

}  // namespace provecut
