#include <array>
#include <string>

#include "parser/base/quoted_text.h"
#include "parser/interpreter/expression.h"
#include "parser/interpreter/reading.h"
#include "parser/program/plane_axes.h"

namespace provecut::interpreter {

namespace {

constexpr std::array<const char*, 10> system_names{"",    "G54", "G55",   "G56",   "G57",
                                                   "G58", "G59", "G59.1", "G59.2", "G59.3"};

void sayUnknown(Reading& r, int system, Place place) {
  addProblemOnce(r, "work-offset-unknown", place,
                 std::string("Where the zero of ") + system_names[static_cast<std::size_t>(system)] +
                     " lies relative to the job's zero is not known.",
                 "It is taken as the same zero.", "Give it in the job file, or set G54 with G10 too.");
}

std::optional<Vec3> knownOrigin(const Reading& r, int system) {
  if (const auto known = r.systems.find(system); known != r.systems.end()) return known->second;
  if (const auto given = r.options.work_offset_mm.find(system); given != r.options.work_offset_mm.end())
    return given->second;
  return system == 1 ? std::optional<Vec3>(Vec3{}) : std::nullopt;
}

// A system's zero in machine coordinates → relative to the job's zero, mm. Without zero_in_machine the first zero that
// the program gives to G54 is the job's.
double fromMachine(Reading& r, int system, int axis, double machine, Place place) {
  if (r.options.zero_in_machine) return machine - component(*r.options.zero_in_machine, axis);
  std::optional<double>& reference = r.first_g54[static_cast<std::size_t>(axis)];
  if (system == 1 && !reference) reference = machine;
  if (reference) return machine - *reference;
  sayUnknown(r, system, place);
  return 0;
}

void setOrigin(Reading& r, int system, Vec3 origin) {
  r.systems[system] = origin;
  if (system == r.state.system) r.origin = origin;
}

}  // namespace

void selectSystem(Reading& r, int system, Place place) {
  r.state.system = system;
  const std::optional<Vec3> origin = knownOrigin(r, system);
  if (!origin) sayUnknown(r, system, place);
  r.origin = origin.value_or(Vec3{});
  r.parameters.set(5220, system);
}

// G10 L2: the zero of a system in machine coordinates (NISTIR 6556 3.5.5). L20, an extension: the zero such that the
// tool's present place has the coordinates given.
void runDataSetting(Reading& r, Place place) {
  LineWords& w = r.line_words;
  w.used |= LineWords::bit('L') | LineWords::bit('P') | axis_letters;
  int l = 0, system = 0;
  if (!w.has('L') || !nearInteger(w.value('L'), l) || (l != 2 && (l != 20 || r.options.strict))) {
    addNotFollowed(r, "zero-setting-faulty", place, "Only G10 L2 and G10 L20 are followed.", "The line is left out.");
    return;
  }
  if (!w.has('P') || !nearInteger(w.value('P'), system) || system < (r.options.strict ? 1 : 0) || system > 9) {
    addNotFollowed(r, "zero-setting-faulty", place, "G10 needs P, a whole number from 1 to 9.",
                   "The line is left out.");
    return;
  }
  if (system == 0) system = r.state.system;
  Vec3 origin = knownOrigin(r, system).value_or(Vec3{});
  for (int axis = 0; axis < 3; ++axis) {
    const char letter = axis_letter[axis];
    if (!w.has(letter)) continue;
    const double value = w.value(letter) * r.state.unit();
    double& o = component(origin, axis);
    if (l == 20) {
      if (!r.known[static_cast<std::size_t>(axis)]) {
        // Before any move the tool stands where the operator put it: that is how the job's zero is set.
        component(r.position, axis) = value + o + component(r.g92, axis);
        r.known[static_cast<std::size_t>(axis)] = true;
        addProblemOnce(r, "zero-set-by-program", place,
                       "The program sets its zero from where the tool stands before any move.",
                       "The job's zero is taken as the one meant.");
      } else {
        o = component(r.position, axis) - value - component(r.g92, axis);
      }
      continue;
    }
    r.parameters.set(5201 + 20 * system + axis, w.value(letter));
    o = fromMachine(r, system, axis, value, place);
  }
  setOrigin(r, system, origin);
  r.start_known = r.known;
}

// G92 gives the present point new coordinates, by an offset that all systems share (NISTIR 6556 3.5.18).
void runAxisOffset(Reading& r, int code, Place place) {
  LineWords& w = r.line_words;
  if (code != 920) {
    if (code == 923) r.g92 = r.g92_stored;
    if (code == 921 || code == 922) r.g92 = {};
    if (code == 921) r.g92_stored = {};
  } else {
    w.used |= axis_letters;
    if (!w.hasAny(axis_letters)) {
      addProblem(r, "zero-shift-without-axis", place, "G92 needs an axis word.", "Nothing is set.");
      return;
    }
    for (int axis = 0; axis < 3; ++axis) {
      const char letter = axis_letter[axis];
      if (!w.has(letter)) continue;
      const double value = w.value(letter) * r.state.unit();
      if (!r.known[static_cast<std::size_t>(axis)]) {
        component(r.position, axis) = value + component(r.origin, axis) + component(r.g92, axis);
        r.known[static_cast<std::size_t>(axis)] = true;
        addProblemOnce(
            r, "zero-set-by-program", place, "The program sets its zero from where the tool stands before any move.",
            "The job's zero is taken as the one meant.", "Put the tool at that place of the job before the start.");
      } else {
        component(r.g92, axis) = component(r.position, axis) - value - component(r.origin, axis);
      }
    }
    r.g92_stored = r.g92;
    r.start_known = r.known;
  }
  for (int axis = 0; axis < 3; ++axis) {
    if (code != 922) r.parameters.set(5211 + axis, component(r.g92, axis) / r.state.unit());
  }
}

// Some parameters are the machine's own data (NISTIR 6556 Table 2).
void setParameter(Reading& r, int index, double value, Place place) {
  r.parameters.set(index, value);
  r.parameters.markSet(index);
  if (index < 5211 || index > 5383) return;
  const double mm = value * r.state.unit();
  if (index >= 5221 && (index - 5201) % 20 <= 2) {
    const int system = (index - 5201) / 20;
    Vec3 origin = knownOrigin(r, system).value_or(Vec3{});
    component(origin, (index - 5201) % 20) = fromMachine(r, system, (index - 5201) % 20, mm, place);
    setOrigin(r, system, origin);
  } else if (index >= 5211 && index <= 5213) {
    component(r.g92_stored, index - 5211) = mm;  // comes into force with G92.3
  } else if (index == 5220) {
    int system = 0;
    if (nearInteger(value, system) && system >= 1 && system <= 9) {
      selectSystem(r, system, place);
    } else {
      addNotFollowed(r, "system-number", place,
                     "#5220, the number of the work offset in force, must be a whole number from 1 to 9.",
                     "The work offset in force stays.");
    }
  }
}

}  // namespace provecut::interpreter
