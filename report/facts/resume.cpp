#include "report/facts/resume.h"

#include <algorithm>
#include <string_view>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr int word_decimals = 6;
constexpr int parameter_decimals = 12;

// `tenths`: ten times the G code.
std::string codeWord(int tenths) {
  const std::string whole = "G" + std::to_string(tenths / 10);
  return tenths % 10 == 0 ? whole : whole + "." + std::to_string(tenths % 10);
}

std::string unitsWord(const ResumePoint& p) {
  if (p.older_unit_code) return p.inch ? "G70" : "G71";
  return p.inch ? "G20" : "G21";
}

std::string lengthWords(const ResumePoint& p) {
  if (!p.length_offset) return "G49";
  return p.length_of >= 0 ? "G43 H" + std::to_string(p.length_of) : "G43";
}

std::string pathWords(const ResumePoint& p) {
  if (p.path_control == PathControl::exact_path) return "G61";
  if (p.path_control == PathControl::exact_stop) return "G61.1";
  if (p.path_control == PathControl::as_set) return "G64";
  return "G64 P" + shortNumber(p.tolerance_mm / (p.inch ? mm_per_inch : 1), word_decimals);
}

std::string coolantWords(const ResumePoint& p) {
  if (!p.mist) return p.flood ? "M8" : "M9";
  return p.flood ? "M7 M8" : "M7";
}

std::string spindleWord(const ResumePoint& p) {
  return p.spindle == Spindle::off ? "M5" : p.spindle == Spindle::cw ? "M3" : "M4";
}

// Why the program cannot be resumed at the line that was asked for, after "Line 40: ".
std::string_view reasonOf(ResumeBar bar) {
  switch (bar) {
    case ResumeBar::position_unknown:
      return "the program does not say where the tool is before it";
    case ResumeBar::in_subprogram:
      return "it is part of a subprogram";
    case ResumeBar::in_loop:
      return "it is part of a loop";
    case ResumeBar::in_branch:
      return "it is part of an O if block";
    case ResumeBar::compensation_on:
      return "cutter compensation (G41 or G42) is on";
    case ResumeBar::in_cycle:
      return "it is in the middle of a drilling cycle";
    case ResumeBar::motion_unset:
      return "it moves without G0 or G1 after G80";
    case ResumeBar::measured:
      return "the rest needs what the probe measured before it";
    case ResumeBar::zero_moved:
      return "the rest needs the zero that the program moved before it (G92 or G10)";
    case ResumeBar::subprogram_behind:
      return "the rest calls a subprogram written before it";
    case ResumeBar::none:
      break;
  }
  return "the tool is not safely up, or the line does not begin with G0";
}

}  // namespace

std::string systemWord(int system) {
  return system <= 6 ? "G" + std::to_string(53 + system) : "G59." + std::to_string(system - 6);
}

std::string wordsToSet(const ResumePoint& p) {
  std::string words;
  const auto add = [&](const std::string& word) { words += (words.empty() ? "" : " ") + word; };
  const auto set = [&](Mode mode, const std::string& word) {
    if ((p.needs & modeSet(mode)) != 0) add(word);
  };
  for (const ParameterValue& v : p.parameters)
    add("#" + std::to_string(v.number) + "=" + shortNumber(v.value, parameter_decimals));
  set(Mode::units, unitsWord(p));
  set(Mode::distance, p.incremental ? "G91" : "G90");
  set(Mode::plane, p.plane == Plane::xy ? "G17" : p.plane == Plane::zx ? "G18" : "G19");
  set(Mode::feed_mode, p.inverse_time ? "G93" : p.feed_per_turn ? "G95" : "G94");
  set(Mode::arc_centre, p.arc_centre_absolute ? "G90.1" : "G91.1");
  set(Mode::work_offset, systemWord(p.system));
  set(Mode::compensation, "G40");
  set(Mode::length_offset, lengthWords(p));
  set(Mode::path_control, pathWords(p));
  set(Mode::cycle_return, p.retract_to_r ? "G99" : "G98");
  set(Mode::overrides, p.overrides_off ? "M49" : "M48");
  if (p.selected_tool >= 0) set(Mode::selected_tool, "T" + std::to_string(p.selected_tool));
  set(Mode::speed, "S" + shortNumber(p.rpm, word_decimals));
  set(Mode::spindle, spindleWord(p));
  set(Mode::coolant, coolantWords(p));
  // Under G93 each move has its own.
  if (p.feed >= 0 && !p.inverse_time) set(Mode::feed, "F" + shortNumber(p.feed, word_decimals));
  set(Mode::motion, codeWord(p.motion));
  return words;
}

ProgramResumes resumesOf(const Facts& facts, std::size_t program, std::optional<std::uint32_t> before) {
  const ProgramFacts& p = facts.programs[program];
  const std::vector<ResumePoint>& points = p.program.resumes;
  ProgramResumes out;
  const double clear_z = highestStanding(facts, p).z + facts.job.limits.clearance_mm;
  for (const ResumePoint& point : points) {
    if (point.bar != ResumeBar::none || !point.lifted || point.at.z < clear_z - clearance::contact_tolerance_mm)
      continue;
    if (before && point.line > *before) continue;
    if (before) out.lines.clear();
    out.lines.push_back({&point, point.at - point.shift, wordsToSet(point)});
  }
  if (before && (out.lines.empty() || out.lines.back().point->line != *before)) {
    const auto asked = std::find_if(points.begin(), points.end(), [&](const auto& r) { return r.line == *before; });
    if (asked != points.end()) out.why_not = reasonOf(asked->bar);
  }
  const ModalUse& m = p.program.modal;
  const auto rely = [&](bool used, const char* what) {
    if (used) out.relies_on.emplace_back(what);
  };
  rely(m.units_used, "units (G20 or G21)");
  rely(m.distance_used, "distances (G90 or G91)");
  rely(m.plane_used, "plane of arcs (G17, G18 or G19)");
  rely(!m.work_offset_set, "work offset (G54 to G59.3)");
  return out;
}

}  // namespace provecut
