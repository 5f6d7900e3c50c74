#include <algorithm>

#include "report/base/visible_text.h"
#include "report/causes/candidate.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"

namespace provecut::causes {

namespace {

bool cutting(const Motion& m) {
  return moves(m) && m.kind != MotionKind::rapid && !(m.flags & motion_height_unknown);
}

}  // namespace

Suspect suspectOf(const Report& report) {
  const Facts& facts = *report.facts;
  Suspect suspect{facts, report, std::vector<WorkBox>(facts.job.setups.size())};
  for (const ProgramFacts& p : facts.programs) {
    WorkBox& box = suspect.cuts[static_cast<std::size_t>(p.setup - facts.job.setups.data())];
    for (const Motion& m : p.program.motions) {
      if (!cutting(m)) continue;
      if (m.flags & motion_start_unknown)
        box.add(m.end);
      else
        box.add(motionExtent(m));
    }
  }
  return suspect;
}

bool ofSetup(const Suspect& suspect, const Finding& f, int setup) {
  if (setup < 0) return true;
  const Setup& asked = suspect.facts.job.setups[static_cast<std::size_t>(setup)];
  if (f.program_order < 0) return !f.setup.empty() && f.setup == visibleText(asked.name);
  return suspect.facts.programs[f.program_order].setup == &asked;
}

bool hasFinding(const Suspect& suspect, int setup, std::initializer_list<std::string_view> rules) {
  return std::any_of(suspect.report.findings.begin(), suspect.report.findings.end(), [&](const Finding& f) {
    return !f.accepted && f.level > Level::note && ofSetup(suspect, f, setup) &&
           std::find(rules.begin(), rules.end(), f.rule) != rules.end();
  });
}

std::size_t countFindings(const Suspect& suspect, int setup, Level level) {
  return static_cast<std::size_t>(
      std::count_if(suspect.report.findings.begin(), suspect.report.findings.end(),
                    [&](const Finding& f) { return !f.accepted && f.level == level && ofSetup(suspect, f, setup); }));
}

double besideStock_mm(const Job& job, const Setup& setup, const WorkBox& cuts) {
  if (cuts.empty) return 0;
  const Vec3 size = stockSizeInSetup(job.stock, setup);
  const SetupBox box = workToSetup(setup, cuts);
  return std::max(0.0, -box.low.x) + std::max(0.0, box.high.x - size.x) + std::max(0.0, -box.low.y) +
         std::max(0.0, box.high.y - size.y);
}

bool notTooDeep(const Job& job, const Setup& setup, double lowest_mm) {
  constexpr double slack_mm = 1.5;  // our own choice, no source
  return lowest_mm >= -setup.lift_mm - job.spoilboard.allowed_cut_mm - slack_mm;
}

OtherDescription sameDescription(const Facts& facts) {
  OtherDescription same{facts.job, {}};
  for (std::size_t i = 0; i < facts.programs.size(); ++i) same.programs.push_back({.of = i, .text = {}});
  return same;
}

std::string inSetup(const Facts& facts, const Setup& setup) {
  return facts.job.setups.size() < 2 || setup.name.empty() ? "the setup" : "setup " + setup.name;
}

}  // namespace provecut::causes
