// Programs in the other unit, or with arc centres that are places instead of distances from the arc's start.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "parser/base/units.h"
#include "parser/job_file/job_file.h"
#include "report/base/wording.h"
#include "report/causes/candidate.h"
#include "report/causes/program_words.h"
#include "report/facts/measures.h"
#include "sim/path/setup_frame.h"

namespace provecut::causes {

namespace {

// What cuts of the right size would at least fill of the stock, and how far they may lie beside it: wide, so that only
// a factor like 25.4 meets it. Our own choice, no source.
constexpr double least_share = 0.15, margin_share = 0.2, margin_tools = 2;

// True if the cuts, times `factor`, fill a fair share of the stock and stay by it.
bool fits(const Job& job, const Setup& setup, const WorkBox& cuts, double factor) {
  const Vec3 size = stockSizeInSetup(job.stock, setup);
  constexpr WorkPoint zero;
  const SetupPoint low = workToSetup(setup, zero + (cuts.low - zero) * factor),
                   high = workToSetup(setup, zero + (cuts.high - zero) * factor);
  // Facing runs over the edges.
  double largest_mm = 0;
  for (const Tool& tool : job.tools) largest_mm = std::max(largest_mm, tool.diameter_mm);
  const double overrun_mm = margin_tools * largest_mm;
  const double x = margin_share * size.x + overrun_mm, y = margin_share * size.y + overrun_mm;
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
    std::vector<std::string> files;
    for (const std::size_t i : programs) files.push_back(facts.programs[i].entry->file);
    c.question = programs.size() == facts.programs.size()
                     ? fmt::format("Are all {} programs in {}?", programs.size(), unit)
                     : fmt::format("Are {} in {}?", listText(files), unit);
    c.change = unitChangeOfAll(facts, programs, to_inch);
  }
  return c;
}

// The job file with its `units` said or changed; lines stay lines.
std::string inOtherUnits(std::string_view toml, bool inches) {
  const std::string said = fmt::format("units = \"{}\"", inches ? "in" : "mm");
  std::string text;
  bool done = false, in_section = false;
  for (std::size_t at = 0; at < toml.size();) {
    const std::size_t end = std::min(toml.find('\n', at), toml.size());
    const std::string_view line = toml.substr(at, end - at);
    in_section = in_section || line.starts_with("[");
    const bool replaced = !done && !in_section && line.starts_with("units");
    text += replaced ? said : std::string(line);
    text += "\n";
    done = done || replaced;
    at = end + 1;
  }
  return done ? text : said + "\n" + text;
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

// A line "units = ..." above the first section.
bool namesUnit(std::string_view job_text) {
  std::size_t at = 0;
  while (at < job_text.size()) {
    const std::size_t end = std::min(job_text.find('\n', at), job_text.size());
    std::string_view line = job_text.substr(at, end - at);
    line.remove_prefix(std::min(line.find_first_not_of(" \t"), line.size()));
    if (line.starts_with('[')) return false;
    if (line.starts_with("units")) return true;
    at = end + 1;
  }
  return false;
}

void addJobUnit(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  if (facts.job.file.empty() || facts.said_thickness_mm) return;
  const JobReading reading = readJob(inOtherUnits(facts.job_text, !facts.job_file_in_inches), facts.job.file);
  if (!reading.job) return;
  const auto all_fit = [&](const Job& job) {
    bool any = false;
    for (std::size_t s = 0; s < job.setups.size(); ++s) {
      if (suspect.cuts[s].empty) continue;
      if (!fits(job, job.setups[s], suspect.cuts[s], 1)) return false;
      any = true;
    }
    return any;
  };
  if (all_fit(facts.job) || !all_fit(*reading.job)) return;
  const std::string_view unit = facts.job_file_in_inches ? "mm" : "in";
  Candidate c;
  c.kind = "unit";
  c.question = fmt::format("Did you write the job file in {}?", facts.job_file_in_inches ? "mm" : "inches");
  c.description = sameDescription(facts);
  c.description.job = *reading.job;
  c.description.job.inches = facts.job.inches;
  for (ProgramSource& p : c.description.programs) p.read_again = true;
  c.said_by_finding = hasFinding(suspect, -1, {"units-doubt", "tool-differs"});
  const bool names_unit = namesUnit(facts.job_text);
  c.change = names_unit ? "Change the `units` line of the job file to:"
                        : "At the top of the job file, before the first [section], write:";
  c.lines = {fmt::format("units = \"{}\"", unit)};
  candidates.push_back(std::move(c));
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
