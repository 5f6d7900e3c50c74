// Motions made from the machine's state, and what is noted of each. Points are mm in the work frame.
#pragma once

#include "parser/interpreter/line.h"
#include "parser/interpreter/machine_state.h"
#include "parser/interpreter/sink.h"

namespace provecut::interpreter {

// Points nearer than this are one point.
inline constexpr double same_point_mm = 1e-6;

// A rapid, feed or probing move from the tool's place to `end`, where the tool then stands. `flags`: of MotionFlag,
// those that this does not find out by itself.
void addMove(MachineState& machine, Sink& sink, MotionKind kind, WorkPoint end, Place place, unsigned flags = 0);
// `centre`: as Motion::centre, in the plane in force.
void addArc(MachineState& machine, Sink& sink, bool clockwise, WorkPoint end, WorkPoint2 centre, int turns,
            Place place);
void addDwell(const MachineState& machine, Sink& sink, double seconds, Place place);

// The point that the program has reached: the tool's place, or beside it under cutter radius compensation.
WorkPoint programmedPoint(const MachineState& machine);
// End point of the X, Y, Z words; marks these axes as known when they are absolute.
WorkPoint targetOf(const LineWords& words, MachineState& machine);

// Notes what the X, Y and Z words rest on, for resuming.
void useAxisWords(const LineWords& words, const MachineState& machine, Sink& sink);
// What every cut rests on besides its words.
void useCuttingModes(const MachineState& machine, Sink& sink);
// The zero of this axis.
void useZero(const MachineState& machine, Sink& sink, std::size_t axis);
// Says where the words are increments from an unknown position.
void noteIncrements(const LineWords& words, const MachineState& machine, Sink& sink, Place place);
// Says, at the program's end, what of feeding at an unknown place depends on the whole program.
void reportFeedFromUnknown(Sink& sink);

}  // namespace provecut::interpreter
