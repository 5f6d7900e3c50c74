// Programs in another order, or one that the job file leaves out.
#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "parser/interpreter/interpreter.h"
#include "report/base/text_file.h"
#include "report/base/tool_comment.h"
#include "report/causes/candidate.h"

namespace provecut::causes {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t max_orders = 4, max_files = 3;

// What a cut says that meets more material than was meant to be there.
bool meetsTooMuch(const Finding& f) {
  constexpr std::string_view rules[] = {
      "pass-too-deep", "flute-too-short",   "rapid-in-stock", "nut-hit",    "chip-load",
      "power",         "cutter-deflection", "pin-blocked",    "shank-grip", "plunge-not-center"};
  return !f.accepted && f.level > Level::note &&
         std::find(std::begin(rules), std::end(rules), f.rule) != std::end(rules);
}

// What a cut says that meets a part which is no longer held.
bool comesTooLate(const Finding& f) {
  constexpr std::string_view rules[] = {"part-free", "cut-in-tabbed-part", "tabs-overloaded", "offcut-free",
                                        "cuts-nothing"};
  return !f.accepted && f.level > Level::note &&
         std::find(std::begin(rules), std::end(rules), f.rule) != std::end(rules);
}

bool overlap(const WorkBox& a, const WorkBox& b) {
  return !a.empty && !b.empty && a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

struct Slot {
  std::size_t setup = 0, entry = 0;
};

Slot slotOf(const Facts& facts, std::size_t i) {
  const ProgramFacts& p = facts.programs[i];
  return {static_cast<std::size_t>(p.setup - facts.job.setups.data()),
          static_cast<std::size_t>(p.entry - p.setup->programs.data())};
}

// Program `from` run just before or just after program `to` of the same setup.
Candidate movedTo(const Suspect& suspect, std::size_t from, std::size_t to) {
  const Facts& facts = suspect.facts;
  const std::string &moved = facts.programs[from].entry->file, &other = facts.programs[to].entry->file;
  const std::string_view side = from > to ? "before" : "after";
  Candidate c;
  c.kind = "order";
  c.question = fmt::format("Should {} run {} {}?", moved, side, other);
  c.description = sameDescription(facts);
  const Slot a = slotOf(facts, from), b = slotOf(facts, to);
  std::vector<ProgramEntry>& entries = c.description.job.setups[a.setup].programs;
  std::vector<ProgramSource>& sources = c.description.programs;
  const auto turn = [](auto first, std::size_t f, std::size_t t) {
    const auto at = [&](std::size_t i) { return first + static_cast<std::ptrdiff_t>(i); };
    if (f > t)
      std::rotate(at(t), at(f), at(f + 1));
    else
      std::rotate(at(f), at(f + 1), at(t + 1));
  };
  turn(entries.begin(), a.entry, b.entry);
  listHoldDownsAgain(c.description.job.setups[a.setup]);
  turn(sources.begin(), from, to);
  for (ProgramSource& p : sources) p.read_again = true;
  c.place = facts.programs[from].entry->place;
  c.change =
      fmt::format("In the job file, move the [[setup.program]] section of {} {} that of {}.", moved, side, other);
  return c;
}

bool sameSetup(const Facts& facts, std::size_t a, std::size_t b) {
  return facts.programs[a].setup == facts.programs[b].setup;
}

// Files beside the job file that look like its programs and are none of them, by name.
std::vector<fs::path> otherFiles(const Facts& facts) {
  std::vector<fs::path> found;
  if (facts.job.file.empty()) return found;
  std::error_code error;
  const fs::path folder = fs::path(facts.job.file).parent_path();
  const auto used = [&](const fs::path& file, bool whole_name) {
    return std::any_of(facts.programs.begin(), facts.programs.end(), [&](const ProgramFacts& p) {
      const fs::path entry = fs::path(p.entry->file);
      return whole_name ? entry.filename() == file.filename() : entry.extension() == file.extension();
    });
  };
  for (fs::directory_iterator at(folder.empty() ? "." : folder, error), end; !error && at != end; at.increment(error)) {
    if (at->is_regular_file(error) && used(at->path(), false) && !used(at->path(), true)) found.push_back(at->path());
  }
  std::sort(found.begin(), found.end());
  // Many other files are a folder of programs, not a program forgotten.
  if (found.size() > max_files) found.clear();
  return found;
}

// The tool that the program's first comment about one names, of the job; 0: none.
int toolNamed(const Facts& facts, const Program& program) {
  for (const Event& e : program.events) {
    if (e.kind != EventKind::comment_tool) continue;
    const ToolComment said = readToolComment(e.text, program.modal.ever_inch);
    if (said.number && findTool(facts.job, *said.number)) return *said.number;
    if (!said.diameter_mm) continue;
    for (const Tool& tool : facts.job.tools) {
      if (sameDiameter(*said.diameter_mm, tool.diameter_mm)) return tool.number;
    }
  }
  return 0;
}

// The text as one more program, the first of a setup.
Candidate withProgram(const Suspect& suspect, const fs::path& file, const std::string& text, std::size_t setup) {
  const Facts& facts = suspect.facts;
  const std::string name = file.filename().string();
  std::size_t before = 0;
  for (std::size_t s = 0; s < setup; ++s) before += facts.job.setups[s].programs.size();
  Candidate c;
  c.kind = "missing-program";
  c.question = fmt::format("Should {} run first in {}?", name, inSetup(facts, facts.job.setups[setup]));
  c.description = sameDescription(facts);
  Setup& changed = c.description.job.setups[setup];
  ProgramEntry entry;
  entry.file = name;
  entry.hold_downs = changed.hold_downs;
  entry.tool = toolNamed(facts, interpret(text));
  if (entry.tool == 0 && !changed.programs.empty()) entry.tool = changed.programs.front().tool;
  changed.programs.insert(changed.programs.begin(), entry);
  std::vector<ProgramSource>& sources = c.description.programs;
  for (ProgramSource& p : sources) p.read_again = true;
  sources.insert(sources.begin() + static_cast<std::ptrdiff_t>(before), {.text = text});
  c.place = facts.job.setups[setup].place;
  c.change = fmt::format("In the job file, add as the first program of {}:", inSetup(facts, changed));
  c.lines = {"[[setup.program]]", fmt::format("file = \"{}\"", name)};
  if (entry.tool != 0) c.lines.push_back(fmt::format("tool = {}", entry.tool));
  return c;
}

}  // namespace

void addOrders(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  std::vector<std::pair<std::size_t, std::size_t>> tried;
  const auto add = [&](std::size_t from, std::size_t to) {
    if (tried.size() == max_orders || std::find(tried.begin(), tried.end(), std::pair(from, to)) != tried.end()) return;
    tried.emplace_back(from, to);
    candidates.push_back(movedTo(suspect, from, to));
  };
  for (const Finding& f : suspect.report.findings) {
    if (f.program_order < 0) continue;
    const auto a = static_cast<std::size_t>(f.program_order);
    for (std::size_t b = 0; b < facts.run.programs.size(); ++b) {
      if (b == a || !sameSetup(facts, a, b)) continue;
      if (!overlap(facts.run.programs[a].bounds, facts.run.programs[b].bounds)) continue;
      if (b > a && meetsTooMuch(f)) add(b, a);
      if (b > a && comesTooLate(f)) add(a, b);
      if (b < a && comesTooLate(f)) add(a, b);
    }
  }
}

void addMissingPrograms(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const auto first = std::find_if(suspect.report.findings.begin(), suspect.report.findings.end(), meetsTooMuch);
  if (first == suspect.report.findings.end()) return;
  std::size_t last = 0;
  while (last + 1 < suspect.facts.job.setups.size() && !ofSetup(suspect, *first, static_cast<int>(last))) ++last;
  for (const fs::path& file : otherFiles(suspect.facts)) {
    const TextFile text = readTextFile(file.string());
    if (!text.error.empty() || text.bytes.empty()) continue;
    for (std::size_t s = 0; s <= last; ++s) candidates.push_back(withProgram(suspect, file, text.bytes, s));
  }
}

}  // namespace provecut::causes
