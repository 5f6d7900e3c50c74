#include <algorithm>
#include <cmath>

#include "report/base/visible_text.h"
#include "report/causes/candidate.h"
#include "report/causes/program_words.h"
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

bool deepestAreSlips(const Suspect& suspect, std::size_t setup) {
  constexpr double same_depth_mm = 0.5;  // these three are our own choice, no source
  constexpr std::size_t few = 3, many = 20;
  const Setup& asked = suspect.facts.job.setups[setup];
  const double deepest_mm = suspect.cuts[setup].low.z;
  std::size_t deepest = 0, others = 0;
  for (const ProgramFacts& p : suspect.facts.programs) {
    if (p.setup != &asked) continue;
    // One slip among increments moves all that comes after it.
    if (p.program.modal.ever_incremental && cutsInIncrements(p)) return true;
    for (const Motion& m : p.program.motions) {
      if (!cutting(m)) continue;
      const double low_mm = m.flags & motion_start_unknown ? m.end.z : motionExtent(m).low.z;
      if (low_mm <= deepest_mm + same_depth_mm)
        ++deepest;
      else if (workToSetup(asked, WorkPoint{0, 0, low_mm}).z < suspect.facts.job.stock.size_mm.z)
        ++others;
    }
  }
  return deepest <= few && others >= many;
}

bool notTooDeep(const Job& job, const Setup& setup, double lowest_mm) {
  constexpr double slack_mm = 1.5;  // our own choice, no source
  return lowest_mm >= -setup.lift_mm - job.spoilboard.allowed_cut_mm - slack_mm;
}

double throughStock_mm(const Job& job, double deepest_mm) {
  // Stock is mostly a whole number of mm thick, and a through cut goes half a mm into the board at most: our own
  // choice, no source.
  constexpr double most_beyond_mm = 0.5, exact_mm = 1e-3;
  const double whole = std::floor(deepest_mm + exact_mm);
  if (whole > 0 && deepest_mm - whole <= std::max(most_beyond_mm, job.spoilboard.allowed_cut_mm)) return whole;
  return std::round((deepest_mm - job.spoilboard.allowed_cut_mm / 2) * 10) / 10;
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
