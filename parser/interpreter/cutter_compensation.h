// Cutter radius compensation, G41 and G42 (NISTIR 6556 3.5.10 and Appendix B): the tool's path beside the programmed
// one.
#pragma once

#include "parser/interpreter/reading.h"
#include "parser/program/arc.h"

namespace provecut::interpreter {

void switchCompensation(Reading& r, int code, Place place);  // 400, 410, 420
void endCompensation(Reading& r);                            // no exit move: the tool stays where it is

// A compensated move; `end` is the programmed point, mm, work frame.
void compensatedLine(Reading& r, MotionKind kind, WorkPoint end, Place place);
void compensatedArc(Reading& r, bool clockwise, WorkPoint end, WorkPoint2 centre, int turns, Place place);

// Centre of a first compensated arc given by its radius: it runs through `end` and the cutter touches it at `start`.
std::optional<RadiusCentre> firstArcCentre(const Reading& r, WorkPoint2 start, WorkPoint2 end, double radius,
                                           bool clockwise);

// Reports a code that must not stand while compensation is on, and ends it so that the program can go on. No effect
// while off.
void refuseUnderCompensation(Reading& r, const LineWords::Code& code);

}  // namespace provecut::interpreter
