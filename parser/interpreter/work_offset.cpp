// Where the zeros lie: G54 to G59.3, G10, G92 and the parameters that hold them.
#include <array>
#include <string>

#include "parser/interpreter/expression.h"
#include "parser/interpreter/moves.h"
#include "parser/interpreter/steps.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

constexpr std::array<const char*, 10> system_names{"",    "G54", "G55",   "G56",   "G57",
                                                   "G58", "G59", "G59.1", "G59.2", "G59.3"};

constexpr int last_system_parameter = 5383;

void addUnknown(Sink& sink, int system, Place place) {
  addProblemOnce(sink, ProblemKind::work_offset_unknown, place,
                 {fact::Code{system_names[static_cast<std::size_t>(system)]}});
}

std::optional<Vec3> knownOrigin(const InterpreterOptions& options, const WorkOffsets& offsets, int system) {
  if (const auto known = offsets.systems.find(system); known != offsets.systems.end()) return known->second;
  if (const auto given = options.work_offset_mm.find(system); given != options.work_offset_mm.end())
    return given->second;
  return system == 1 ? std::optional<Vec3>(Vec3{}) : std::nullopt;
}

// A system's zero in machine coordinates → relative to the job's zero, mm. Without zero_in_machine the first zero that
// the program gives to G54 is the job's.
double fromMachine(const InterpreterOptions& options, WorkOffsets& offsets, Sink& sink, int system, std::size_t axis,
                   double machine_mm, Place place) {
  if (options.zero_in_machine) return machine_mm - component(*options.zero_in_machine, axis);
  std::optional<double>& reference = offsets.first_g54[axis];
  if (system == 1 && !reference) reference = machine_mm;
  if (reference) return machine_mm - *reference;
  addUnknown(sink, system, place);
  return 0;
}

void setOrigin(MachineState& machine, int system, Vec3 origin) {
  machine.offsets.systems[system] = origin;
  if (system == machine.modal.system) machine.offsets.origin = origin;
}

// Before any move the tool stands where the operator put it: that is how the job's zero is set. The axis is then taken
// to stand at `absolute_mm`. False where it is known already where it stands.
bool setWhereToolStands(MachineState& machine, Sink& sink, std::size_t axis, double absolute_mm, Place place) {
  if (machine.known[axis]) return false;
  component(machine.position, axis) = absolute_mm;
  machine.known[axis] = true;
  addProblemOnce(sink, ProblemKind::zero_set_where_tool_stands, place);
  return true;
}

}  // namespace

void selectSystem(const Input& input, MachineState& machine, Sink& sink, int system, Place place) {
  machine.modal.system = system;
  const std::optional<Vec3> origin = knownOrigin(input.options, machine.offsets, system);
  machine.offsets.given = knownOrigin(input.options, {}, system).value_or(Vec3{});
  if (!origin) addUnknown(sink, system, place);
  machine.offsets.origin = origin.value_or(Vec3{});
  machine.parameters.set(system_parameter, system);
}

// G10 L2: the zero of a system in machine coordinates (NISTIR 6556 3.5.5). L20, an extension: the zero such that the
// tool's present place has the coordinates given.
void runDataSetting(const Input& input, Line& line, MachineState& machine, Sink& sink, Place place) {
  LineWords& w = line.words;
  w.used |= LineWords::bit('L') | LineWords::bit('P') | axis_letters;
  sink.resuming.use(modeSet(Mode::units));
  int l = 0, system = 0;
  if (!w.has('L') || !nearInteger(w.value('L'), l)) {
    addNotFollowed(sink, ProblemKind::zero_setting_of_no_kind, place);
    return;
  }
  if (l != 2 && (l != 20 || sink.strict)) {
    addNotFollowed(sink, ProblemKind::zero_setting_of_other_kind, place, {fact::Code{"G10 L" + std::to_string(l)}});
    return;
  }
  if (!w.has('P') || !nearInteger(w.value('P'), system) || system < (sink.strict ? 1 : 0) || system > 9) {
    addNotFollowed(sink, ProblemKind::zero_setting_of_no_system, place);
    return;
  }
  if (system == 0) {
    system = machine.modal.system;
    sink.resuming.use(modeSet(Mode::work_offset));
  }
  Vec3 origin = knownOrigin(input.options, machine.offsets, system).value_or(Vec3{});
  for (const std::size_t axis : all_axes) {
    const char letter = axis_letter[axis];
    if (!w.has(letter)) continue;
    const double value = w.value(letter) * machine.modal.unit();
    double& o = component(origin, axis);
    const double inner = component(machine.offsets.g92 + machine.offsets.local, axis);
    sink.resuming.setParameter(systems_parameter + 20 * system + static_cast<int>(axis));
    if (l == 2) {
      machine.parameters.set(systems_parameter + 20 * system + static_cast<int>(axis), w.value(letter));
      o = fromMachine(input.options, machine.offsets, sink, system, axis, value, place);
    } else if (!setWhereToolStands(machine, sink, axis, value + o + inner, place)) {
      o = component(machine.position, axis) - value - inner;
    }
  }
  setOrigin(machine, system, origin);
  machine.start_known = machine.known;
}

// G92 gives the present point new coordinates, by an offset that all systems share (NISTIR 6556 3.5.18).
void runAxisOffset(Line& line, MachineState& machine, Sink& sink, int code, Place place) {
  LineWords& w = line.words;
  WorkOffsets& offsets = machine.offsets;
  if (code == 920) {
    w.used |= axis_letters;
    if (!w.hasAny(axis_letters)) {
      addProblem(sink, ProblemKind::zero_shift_without_axis, place);
      return;
    }
    sink.resuming.use(modeSet(Mode::units, Mode::work_offset));
    for (const std::size_t axis : all_axes) {
      const char letter = axis_letter[axis];
      if (!w.has(letter)) continue;
      sink.resuming.setParameter(g92_parameter + static_cast<int>(axis));
      const double value = w.value(letter) * machine.modal.unit();
      const double origin = component(offsets.origin + offsets.local, axis);
      double& g92 = component(offsets.g92, axis);
      if (!setWhereToolStands(machine, sink, axis, value + origin + g92, place))
        g92 = component(machine.position, axis) - value - origin;
    }
    offsets.g92_stored = offsets.g92;
    machine.start_known = machine.known;
  }
  for (const std::size_t axis : all_axes) {
    const int number = g92_parameter + static_cast<int>(axis);
    if (code == 923 && component(offsets.g92_stored, axis) != 0) sink.resuming.useParameter(number, 0);
    if (code == 921 || code == 923) sink.resuming.setParameter(number);
  }
  if (code == 923) offsets.g92 = offsets.g92_stored;
  if (code == 921 || code == 922) offsets.g92 = {};
  if (code == 921) offsets.g92_stored = {};
  if (code == 922) return;
  for (const std::size_t axis : all_axes)
    machine.parameters.set(g92_parameter + static_cast<int>(axis), component(offsets.g92, axis) / machine.modal.unit());
}

// G52 X10 Y5: until the next one coordinates count from there; G52 X0 Y0 Z0 ends it. Not in the published standard.
void runLocalOffset(Line& line, MachineState& machine, Sink& sink, Place place) {
  LineWords& w = line.words;
  w.used |= axis_letters;
  if (!w.hasAny(axis_letters)) {
    addProblem(sink, ProblemKind::local_offset_without_axis, place);
    return;
  }
  sink.resuming.use(modeSet(Mode::units));
  for (const std::size_t axis : all_axes) {
    if (!w.has(axis_letter[axis])) continue;
    component(machine.offsets.local, axis) = w.value(axis_letter[axis]) * machine.modal.unit();
    sink.resuming.setParameter(local_parameter + static_cast<int>(axis));
  }
}

void setReadParameters(const InterpreterOptions& options, MachineState& machine) {
  ParameterTable& p = machine.parameters;
  const double unit = machine.modal.unit();
  const auto show = [&](int number, double value, bool known) {
    p.set(number, value);
    p.markSet(number, known);
  };
  show(tool_parameter, machine.modal.tool, machine.modal.tool > 0);
  const auto diameter = options.tool_diameter_mm.find(machine.modal.tool);
  const bool defined = diameter != options.tool_diameter_mm.end();
  show(tool_diameter_parameter, defined ? diameter->second / unit : 0, defined);
  const Vec3 here = programmedPoint(machine) - (WorkPoint() + machine.offsets.shift());
  for (const std::size_t axis : all_axes)
    show(position_parameter + static_cast<int>(axis), component(here, axis) / unit, machine.known[axis]);
}

void setParameter(const Input& input, MachineState& machine, Sink& sink, int index, double value, Place place) {
  machine.parameters.set(index, value);
  machine.parameters.markSet(index);
  if (index < g92_parameter || index > last_system_parameter) return;
  const double mm = value * machine.modal.unit();
  const int number = (index - systems_parameter) / 20, within = (index - systems_parameter) % 20;
  if (number >= 1 && within <= 2) {
    const auto axis = static_cast<std::size_t>(within);
    Vec3 origin = knownOrigin(input.options, machine.offsets, number).value_or(Vec3{});
    component(origin, axis) = fromMachine(input.options, machine.offsets, sink, number, axis, mm, place);
    setOrigin(machine, number, origin);
  } else if (index <= g92_parameter + 2) {
    // Comes into force with G92.3.
    component(machine.offsets.g92_stored, static_cast<std::size_t>(index - g92_parameter)) = mm;
  } else if (index == system_parameter) {
    int system = 0;
    if (nearInteger(value, system) && system >= 1 && system <= 9) {
      selectSystem(input, machine, sink, system, place);
    } else {
      addNotFollowed(sink, ProblemKind::system_number_faulty, place);
    }
  }
}

}  // namespace provecut::interpreter
