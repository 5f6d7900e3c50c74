// Cutter radius compensation, G41 and G42 (NISTIR 6556 3.5.10 and Appendix B): the tool's path beside the programmed
// one.
#pragma once

#include <optional>

#include "parser/interpreter/steps.h"
#include "parser/program/arc.h"

namespace provecut::interpreter {

// `code`: 400, 410 or 420.
void switchCompensation(const Input& input, Line& line, MachineState& machine, Sink& sink, int code, Place place);
void endCompensation(MachineState& machine);  // no exit move: the tool stays where it is

// Compensated moves; `end` is the programmed point, mm, work frame.
void compensatedLine(MachineState& machine, Sink& sink, MotionKind kind, WorkPoint end, Place place);

struct ProgrammedArc {
  bool clockwise = false;
  bool by_radius = false;  // given by R, not by its centre
  int turns = 1;
  WorkPoint end;
  WorkPoint2 centre;
};
void compensatedArc(MachineState& machine, Sink& sink, const ProgrammedArc& arc, Place place);

// Centre of a first compensated arc given by its radius: it runs through `end` and the cutter touches it at `start`.
std::optional<RadiusCentre> firstArcCentre(const CompensationState& compensation, WorkPoint2 start, WorkPoint2 end,
                                           double radius, bool clockwise);

// Reports a code that is not allowed while compensation is on, and ends it so that the program can go on. No effect
// while off.
void refuseUnderCompensation(const Line& line, MachineState& machine, Sink& sink, const LineWords::Code& code);

}  // namespace provecut::interpreter
