// Programs in the other unit, or with arc centres that are places instead of distances from the arc's start.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "parser/base/units.h"
#include "report/causes/candidate.h"
#include "report/causes/program_words.h"
#include "report/facts/measures.h"
#include "sim/path/setup_frame.h"

namespace provecut::causes {

namespace {

// What cuts of the right size would at least fill of the stock, and how far they may lie beside it: wide, so that only
// a factor like 25.4 meets it. Our own choice, no source.
constexpr double least_share = 0.15, margin_share = 0.2;

// True if the cuts, times `factor`, fill a fair share of the stock and stay by it.
bool fits(const Job& job, const Setup& setup, const WorkBox& cuts, double factor) {
  const Vec3 size = stockSizeInSetup(job.stock, setup);
  constexpr WorkPoint zero;
  const SetupPoint low = workToSetup(setup, zero + (cuts.low - zero) * factor),
                   high = workToSetup(setup, zero + (cuts.high - zero) * factor);
  const double x = margin_share * size.x, y = margin_share * size.y;
  const bool by_it =
      low.x > -x && high.x < size.x + x && low.y > -y && high.y < size.y + y && notTooDeep(job, setup, low.z);
  return by_it && std::max((high.x - low.x) / size.x, (high.y - low.y) / size.y) > least_share;
}

bool readsInOneUnit(const Program& program) {
  return !(program.modal.ever_inch && program.modal.ever_mm);
}

std::string unitChange(const ProgramFacts& p, bool to_inch) {
  const std::string_view code = to_inch ? "G20" : "G21", other = to_inch ? "G21" : "G20";
  if (p.program.modal.units_set) return fmt::format("In the program, write {} in place of {}.", code, other);
  return fmt::format("Put {} at the top of the program.", code);
}

// What does nothing where the program sets the unit itself is not told.
std::string unitChangeOfAll(const Facts& facts, std::span<const std::size_t> programs, bool to_inch) {
  const std::string_view code = to_inch ? "G20" : "G21", other = to_inch ? "G21" : "G20";
  std::string replaced, added;
  for (const std::size_t i : programs) {
    const ProgramFacts& p = facts.programs[i];
    std::string& list = p.program.modal.units_set ? replaced : added;
    list += (list.empty() ? "" : ", ") + p.entry->file;
    if (!p.program.modal.units_set) continue;
    const std::uint32_t line = std::max(lineWithCode(p, to_inch ? 21 : 20), lineWithCode(p, to_inch ? 71 : 70));
    list += fmt::format(" line {}", line);
  }
  std::string change;
  if (!replaced.empty()) change = fmt::format("Write {} in place of each {}: {}.", code, other, replaced);
  if (!added.empty()) change += fmt::format("{}Put {} at the top of {}.", change.empty() ? "" : " ", code, added);
  return change;
}

Candidate inOtherUnit(const Suspect& suspect, std::span<const std::size_t> programs) {
  const Facts& facts = suspect.facts;
  const bool to_inch = !facts.programs[programs.front()].program.modal.ever_inch;
  Candidate c;
  c.kind = "unit";
  c.description = sameDescription(facts);
  for (const std::size_t i : programs) c.description.programs[i].other_unit = true;
  c.said_by_finding = std::any_of(programs.begin(), programs.end(), [&](std::size_t i) {
    const auto& findings = suspect.report.findings;
    return std::any_of(findings.begin(), findings.end(), [&](const Finding& f) {
      return f.rule == "units-doubt" && !f.accepted && f.program_order == static_cast<int>(i);
    });
  });
  const ProgramFacts& first = facts.programs[programs.front()];
  const std::string_view unit = to_inch ? "inches" : "mm";
  if (programs.size() == 1) {
    c.question = fmt::format("Is {} in {}?", first.entry->file, unit);
    c.change = unitChange(first, to_inch);
    c.file = first.entry->file;
  } else {
    c.question = fmt::format("Are all {} programs in {}?", programs.size(), unit);
    c.change = unitChangeOfAll(facts, programs, to_inch);
  }
  return c;
}

bool hasArcs(const Program& program) {
  return std::any_of(program.motions.begin(), program.motions.end(), [](const Motion& m) { return isArc(m); });
}

}  // namespace

void addUnits(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  std::vector<std::size_t> in_mm, in_inches;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    if (!readsInOneUnit(p.program) || i >= facts.run.programs.size()) continue;
    const double factor = p.program.modal.ever_inch ? 1 / mm_per_inch : mm_per_inch;
    const WorkBox& cuts = facts.run.programs[i].bounds;
    if (cuts.empty || !fits(facts.job, *p.setup, cuts, factor)) continue;
    (p.program.modal.ever_inch ? in_inches : in_mm).push_back(i);
  }
  for (const std::vector<std::size_t>& programs : {in_mm, in_inches}) {
    if (programs.size() > 1) candidates.push_back(inOtherUnit(suspect, programs));
    for (const std::size_t i : programs) candidates.push_back(inOtherUnit(suspect, std::span(&i, 1)));
  }
}

void addArcCentres(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  if (!hasFinding(suspect, -1, {"arc-radius", "arc-faulty"})) return;
  Candidate c;
  c.description = sameDescription(facts);
  std::size_t programs = 0;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    if (!hasArcs(facts.programs[i].program) && facts.programs[i].program.problems.empty()) continue;
    c.description.programs[i].arc_centres_absolute = true;
    if (programs++ == 0) c.file = facts.programs[i].entry->file;
  }
  if (programs == 0) return;
  c.kind = "arc-centres";
  c.question = "Are I and J of the arcs absolute positions, not distances from the arc's start?";
  if (programs > 1) c.file.clear();
  c.change = programs == 1 ? "Put G90.1 at the top of the program, and check that the machine takes it."
                           : "Put G90.1 at the top of each program, and check that the machine takes it.";
  candidates.push_back(std::move(c));
}

}  // namespace provecut::causes
