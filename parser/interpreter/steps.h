// The steps of running a line, each in the file of its name. They take the input's options, the line, the machine's
// state and the sink: each the ones that it needs.
#pragma once

#include "parser/interpreter/interpreter.h"
#include "parser/interpreter/line.h"
#include "parser/interpreter/machine_state.h"
#include "parser/interpreter/program_flow.h"
#include "parser/interpreter/sink.h"

namespace provecut::interpreter {

struct Input {
  const InterpreterOptions& options;
  bool uses_tool_change = false;  // the program has M6 somewhere: a T word alone changes no tool
};

// Says what of the line's block cannot be read, or is not the standard's.
void reportSyntax(const Line& line, Sink& sink);
// Fills line.words from line.block: values worked out, codes sorted into groups, conflicts turned into problems. The
// line's settings of parameters come into force.
void gatherWords(const Input& input, Line& line, MachineState& machine, Sink& sink);
// The value of an expression of the line; false when it cannot be worked out, which is said.
bool workOut(const Line& line, const ParameterTable& parameters, Sink& sink, Range range, Place place, double& value);

// Runs the gathered line in the standard's order (NISTIR 6556 Table 8).
void runLine(const Input& input, ProgramFlow& flow, Line& line, MachineState& machine, Sink& sink);

// Feed, speed, tool, spindle and the modal codes: items 2 to 18 of that table.
void runSettings(const Input& input, Line& line, MachineState& machine, Sink& sink);
void setSpindle(MachineState& machine, Sink& sink, Spindle wanted, Place place);

void runArc(Line& line, MachineState& machine, Sink& sink, bool clockwise, Place place);
// `code`: ten times the G code.
void runCycle(Line& line, MachineState& machine, Sink& sink, int code, Place place);
void runProbe(const Input& input, Line& line, MachineState& machine, Sink& sink, Place place);
// G28 and G30.
void runReferenceReturn(const Input& input, Line& line, MachineState& machine, Sink& sink, int code, Place place);
// G53.
void runMachineMove(const Input& input, Line& line, MachineState& machine, Sink& sink, MotionKind kind, Place place);

// "$H": the way home, up first.
void runHoming(const InterpreterOptions& options, MachineState& machine, Sink& sink, Place place);

// G10.
void runDataSetting(const Input& input, Line& line, MachineState& machine, Sink& sink, Place place);
// G92 and its family.
void runAxisOffset(Line& line, MachineState& machine, Sink& sink, int code, Place place);
// G52: a zero within the work offsets, for all of them.
void runLocalOffset(Line& line, MachineState& machine, Sink& sink, Place place);
// The parameters that show what the control knows: the tool, and where it stands.
void setReadParameters(const InterpreterOptions& options, MachineState& machine);
void selectSystem(const Input& input, MachineState& machine, Sink& sink, int system, Place place);
void setParameter(const Input& input, MachineState& machine, Sink& sink, int index, double value, Place place);

}  // namespace provecut::interpreter
