#include "report/facts/resume.h"

#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

std::string systemWord(int system) {
  return system <= 6 ? "G" + std::to_string(53 + system) : "G59." + std::to_string(system - 6);
}

std::string wordsOf(const ResumePoint& p) {
  std::string words = p.inch ? "G20" : "G21";
  words += p.incremental ? " G91" : " G90";
  words += p.plane == Plane::xy ? " G17" : p.plane == Plane::zx ? " G18" : " G19";
  words += p.inverse_time ? " G93" : " G94";
  words += " " + systemWord(p.system);
  if (p.arc_centre_absolute) words += " G90.1";
  if (p.length_offset) words += " G43 H" + std::to_string(p.tool);
  if (p.spindle != Spindle::off) {
    words += " S" + shortNumber(static_cast<double>(p.rpm), 4) + (p.spindle == Spindle::cw ? " M3" : " M4");
  }
  if (p.feed > 0 && !p.inverse_time) words += " F" + shortNumber(p.feed, 4);
  if (!p.names_motion) words += " G0";
  return words;
}

}  // namespace

ProgramResumes resumesOf(const Facts& facts, std::size_t program, std::optional<std::uint32_t> before) {
  const ProgramFacts& p = facts.programs[program];
  ProgramResumes out;
  const double clear_z = highestStanding(facts, p).z + facts.job.limits.clearance_mm;
  for (const ResumePoint& point : p.program.resumes) {
    const WorkPoint at = p.program.motions[point.before_motion].start;
    if (at.z < clear_z - clearance::contact_tolerance_mm) continue;
    if (before && point.place.line > *before) continue;
    if (before) out.lines.clear();
    out.lines.push_back({&point, at, wordsOf(point)});
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
