// The tool that a program's comment names, in place of the one that the job file gives it.
#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "report/base/dimension_text.h"
#include "report/base/tool_comment.h"
#include "report/base/wording.h"
#include "report/causes/candidate.h"

namespace provecut::causes {

namespace {

// The tool of the program's first feed move after the comment; null: none that the job knows.
const Tool* toolAfter(const Facts& facts, const Program& program, const Event& comment) {
  return comment.before_motion < program.motions.size()
             ? findTool(facts.job, program.motions[comment.before_motion].tool)
             : nullptr;
}

// A bit that is first named in mid-program is not the one that the cuts before it run with.
bool cutsBefore(const Program& program, const Event& comment) {
  return std::any_of(program.motions.begin(), program.motions.begin() + comment.before_motion,
                     [](const Motion& m) { return m.kind == MotionKind::feed || isArc(m); });
}

bool changesTools(const Program& program) {
  return std::any_of(program.events.begin(), program.events.end(),
                     [](const Event& e) { return e.kind == EventKind::tool_change; });
}

void readAgain(OtherDescription& description) {
  for (ProgramSource& p : description.programs) p.read_again = true;
}

std::string placeOfProgram(const ProgramFacts& p) {
  return fmt::format("In the [[setup.program]] section of {} in the job file, write:", p.entry->file);
}

Candidate withEntryTool(const Suspect& suspect, std::size_t i, const Tool& tool) {
  const ProgramFacts& p = suspect.facts.programs[i];
  Candidate c;
  c.kind = "tool-number";
  c.question = fmt::format("Is {} in the spindle for {}?", toolText(suspect.facts.job, tool.number), p.entry->file);
  c.description = sameDescription(suspect.facts);
  readAgain(c.description);
  const auto s = static_cast<std::size_t>(p.setup - suspect.facts.job.setups.data());
  const auto e = static_cast<std::size_t>(p.entry - p.setup->programs.data());
  c.description.job.setups[s].programs[e].tool = tool.number;
  c.place = p.entry->place;
  c.change = placeOfProgram(p);
  c.lines = {fmt::format("tool = {}", tool.number)};
  return c;
}

Candidate withDiameter(const Suspect& suspect, const Tool& tool, double diameter_mm) {
  const Facts& facts = suspect.facts;
  Candidate c;
  c.kind = "tool-diameter";
  c.question =
      fmt::format("Is {} a {} bit?", toolText(facts.job, tool.number), dimensionWithUnit(facts.job, diameter_mm));
  c.description = sameDescription(facts);
  readAgain(c.description);
  for (Tool& t : c.description.job.tools) {
    if (t.number == tool.number) t.diameter_mm = diameter_mm;
  }
  c.place = tool.place;
  c.change = fmt::format("Measure it, and write in the [[tool]] section with number {} of the job file:", tool.number);
  Job file_job;
  file_job.inches = facts.job_file_in_inches;
  c.lines = {"diameter = " + dimensionText(file_job, diameter_mm)};
  return c;
}

// Programs that say the same of one tool ask one question.
void addOnce(Candidate candidate, std::vector<Candidate>& candidates) {
  const auto asked = [&](const Candidate& c) {
    return c.question == candidate.question && c.change == candidate.change;
  };
  if (std::none_of(candidates.begin(), candidates.end(), asked)) candidates.push_back(std::move(candidate));
}

}  // namespace

void addTools(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    for (const Event& comment : p.program.events) {
      if (comment.kind != EventKind::comment_tool || cutsBefore(p.program, comment)) continue;
      const ToolComment said = readToolComment(comment.text, p.program.modal.ever_inch);
      const Tool* now = toolAfter(facts, p.program, comment);
      if (!now) continue;
      const bool other_number = said.number && *said.number != now->number && !changesTools(p.program);
      if (const Tool* named = other_number ? findTool(facts.job, *said.number) : nullptr)
        addOnce(withEntryTool(suspect, i, *named), candidates);
      if (!said.diameter_mm || *said.diameter_mm <= 0 || sameDiameter(*said.diameter_mm, now->diameter_mm)) continue;
      for (const Tool& tool : facts.job.tools) {
        if (!changesTools(p.program) && tool.number != now->number &&
            sameDiameter(*said.diameter_mm, tool.diameter_mm) && !(other_number && tool.number == *said.number))
          addOnce(withEntryTool(suspect, i, tool), candidates);
      }
      if (!other_number) addOnce(withDiameter(suspect, *now, *said.diameter_mm), candidates);
    }
  }
}

}  // namespace provecut::causes
