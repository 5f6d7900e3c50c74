// The tool that a program's comment names, in place of the one that the job file gives it.
#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/tool_comment.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/causes/candidate.h"
#include "report/causes/program_words.h"
#include "report/facts/lost_tool_change.h"
#include "report/rules/shared/commented_tools.h"

namespace provecut::causes {

namespace {

// A bit that is first named in mid-program is not the one that the cuts before it run with.
bool cutsBefore(const Program& program, const Event& comment) {
  return std::any_of(program.motions.begin(), program.motions.begin() + comment.before_motion,
                     [](const Motion& m) { return m.kind == MotionKind::feed || isArc(m); });
}

bool changesTools(const Program& program) {
  return std::any_of(program.events.begin(), program.events.end(),
                     [](const Event& e) { return e.kind == EventKind::tool_change; });
}

// What a comment says of a tool that the job knows.
struct Said {
  std::size_t program = 0;
  ToolComment comment;
  const Tool* tool = nullptr;
};

// A comment with a number speaks of that one where the program changes tools, else of what is in the spindle.
std::vector<Said> saidOfTools(const Facts& facts) {
  std::vector<Said> all;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const Program& program = facts.programs[i].program;
    for (const Event& e : program.events) {
      if (e.kind != EventKind::comment_tool || (!changesTools(program) && cutsBefore(program, e))) continue;
      const ToolComment comment = readToolComment(e.text, program.modal.ever_inch);
      const Tool* in_spindle = e.before_motion < program.motions.size()
                                   ? findTool(facts.job, program.motions[e.before_motion].tool)
                                   : nullptr;
      const Tool* tool = comment.number && changesTools(program) ? findTool(facts.job, *comment.number) : in_spindle;
      if (tool) all.push_back({i, comment, tool});
    }
  }
  return all;
}

// A finding asks about that bit as well.
bool isAsked(const Suspect& suspect, const Tool& tool) {
  return std::any_of(suspect.report.findings.begin(), suspect.report.findings.end(), [&](const Finding& f) {
    return f.rule == "tool-differs" && !f.accepted &&
           f.subject == visibleText(toolText(suspect.facts.job, tool.number));
  });
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
  const Tool* now = findTool(suspect.facts.job, p.entry->tool);
  c.said_by_finding = now && isAsked(suspect, *now);
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
  c.said_by_finding = isAsked(suspect, tool);
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

// "number = 2  # 6 mm flat, was 1"
std::string numberLine(const Tool& tool, int number) {
  return fmt::format("number = {}  # {}was {}", number, tool.name.empty() ? "" : tool.name + ", ", tool.number);
}

// The numbers of the job's tools, changed about so that each is what the comments say of it.
std::optional<Candidate> withNumbersMixedUp(const Suspect& suspect, const std::vector<Said>& all) {
  const Facts& facts = suspect.facts;
  std::map<int, double> said_mm, wrong_mm;
  for (const Said& said : all) {
    const bool of_other = said.comment.number && *said.comment.number != said.tool->number;
    if (!of_other && said.comment.diameter_mm && *said.comment.diameter_mm > 0)
      said_mm.try_emplace(said.tool->number, *said.comment.diameter_mm);
  }
  for (const auto& [number, mm] : said_mm) {
    if (!sameDiameter(mm, findTool(facts.job, number)->diameter_mm)) wrong_mm.emplace(number, mm);
  }
  const auto may_be_renumbered = [&](int number) { return !said_mm.contains(number) || wrong_mm.contains(number); };
  std::map<int, int> now;  // new number by old one
  std::set<int> taken;
  for (const auto& [number, mm] : wrong_mm) {
    const auto fits = std::find_if(facts.job.tools.begin(), facts.job.tools.end(), [&](const Tool& tool) {
      return may_be_renumbered(tool.number) && !now.contains(tool.number) && sameDiameter(mm, tool.diameter_mm);
    });
    if (fits == facts.job.tools.end()) return std::nullopt;
    now[fits->number] = number;
    taken.insert(number);
  }
  if (now.empty()) return std::nullopt;
  // A bit that no comment speaks of gets the number that is left.
  std::vector<int> left;
  for (const auto& [old, number] : now) {
    if (!taken.contains(old)) left.push_back(old);
  }
  for (const int number : taken) {
    if (now.contains(number)) continue;
    now[number] = left.back();
    left.pop_back();
  }
  Candidate c;
  c.kind = "tool-number";
  std::vector<std::string> names;
  c.description = sameDescription(facts);
  readAgain(c.description);
  for (const auto& [old, number] : now) {
    const Tool& tool = *findTool(facts.job, old);
    c.said_by_finding = c.said_by_finding || isAsked(suspect, tool);
    names.push_back(fmt::format("{}", old));
    c.lines.push_back(numberLine(tool, number));
    if (c.place.line == 0) c.place = tool.place;
  }
  for (Tool& tool : c.description.job.tools) {
    if (const auto renumbered = now.find(tool.number); renumbered != now.end()) tool.number = renumbered->second;
  }
  c.question = fmt::format("Are the numbers of tools {} {} in the job file?", listText(names),
                           names.size() == 2 ? "swapped" : "mixed up");
  c.change = "Check the bits, then change the numbers in their [[tool]] sections of the job file to:";
  return c;
}

Candidate withToolCall(const Facts& facts, std::size_t i, const Tool& tool, std::uint32_t before) {
  const ProgramFacts& p = facts.programs[i];
  Candidate c;
  c.kind = "tool-number";
  c.file = p.entry->file;
  c.question =
      fmt::format("Is {} in the spindle from line {} of {}?", toolText(facts.job, tool.number), before, c.file);
  c.lines = {fmt::format("T{} M6", tool.number)};
  c.description = withText(facts, i, withLineBefore(p, before, c.lines.front()));
  c.place = {before, 0, 0};
  c.change = fmt::format("Before line {} of the program, add:", before);
  return c;
}

// The one T word of a program that calls another tool than its comments describe.
std::optional<Candidate> withToolOfComments(const Facts& facts, std::size_t i) {
  const ProgramFacts& p = facts.programs[i];
  const auto mismatch = numberMismatch(p.program);
  const Tool* described = mismatch ? findTool(facts.job, mismatch->described) : nullptr;
  if (!described) return std::nullopt;
  std::vector<WordAt> calls = wordsOf(p, "T");
  std::erase_if(calls, [&](const WordAt& t) { return t.word.value != mismatch->called; });
  if (calls.size() != 1) return std::nullopt;
  const std::uint32_t line = calls.front().line;
  Candidate c;
  c.kind = "tool-number";
  c.said_by_finding = true;
  c.file = p.entry->file;
  c.question =
      fmt::format("Is {} in the spindle from line {} of {}?", toolText(facts.job, described->number), line, c.file);
  c.lines = {lineWith(p, line, calls, mismatch->described)};
  std::string text = p.text;
  text.replace(p.line_starts[line - 1], p.line(line).size(), c.lines.front());
  c.description = withText(facts, i, std::move(text));
  c.place = {line, calls.front().word.column, calls.front().word.end_column};
  c.change = fmt::format("Change line {} of the program to:", line);
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
  const std::vector<Said> all = saidOfTools(facts);
  if (std::optional<Candidate> mixed = withNumbersMixedUp(suspect, all)) candidates.push_back(std::move(*mixed));
  for (const Said& said : all) {
    const bool own_call = changesTools(facts.programs[said.program].program);
    const bool other_number = said.comment.number && *said.comment.number != said.tool->number && !own_call;
    const Tool* named = other_number ? findTool(facts.job, *said.comment.number) : nullptr;
    if (named) addOnce(withEntryTool(suspect, said.program, *named), candidates);
    const std::optional<double> diameter_mm = said.comment.diameter_mm;
    if (!diameter_mm || *diameter_mm <= 0 || sameDiameter(*diameter_mm, said.tool->diameter_mm)) continue;
    bool in_job = false;
    for (const Tool& tool : facts.job.tools) {
      if (own_call || tool.number == said.tool->number || !sameDiameter(*diameter_mm, tool.diameter_mm)) continue;
      in_job = true;
      if (&tool != named) addOnce(withEntryTool(suspect, said.program, tool), candidates);
    }
    if (!other_number && !in_job) addOnce(withDiameter(suspect, *said.tool, *diameter_mm), candidates);
  }
}

void addToolCalls(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    for (const LostToolChange& lost : lostToolChanges(facts, i)) {
      if (lost.named) candidates.push_back(withToolCall(facts, i, *lost.named, lost.comment->place.line + 1));
    }
    if (std::optional<Candidate> described = withToolOfComments(facts, i)) candidates.push_back(std::move(*described));
    const auto& problems = p.program.problems;
    const auto problem = std::find_if(problems.begin(), problems.end(), [](const Problem& found) {
      return found.kind == ProblemKind::length_of_other_tool;
    });
    if (problem == problems.end()) continue;
    const std::vector<WordAt> lengths = wordsOf(p, "H"), functions = wordsOf(p, "M");
    const auto length =
        std::find_if(lengths.begin(), lengths.end(), [&](const WordAt& h) { return h.line == problem->place.line; });
    const Tool* tool = length == lengths.end() ? nullptr : findTool(facts.job, static_cast<int>(length->word.value));
    if (!tool) continue;
    if (!changesTools(p.program)) {
      addOnce(withEntryTool(suspect, i, *tool), candidates);
      continue;
    }
    // The change belongs before the spindle starts for it.
    constexpr std::uint32_t near = 5;
    std::uint32_t before = length->line;
    for (const WordAt& m : functions) {
      if (m.line < length->line && m.line + near >= length->line && (m.word.value == 3 || m.word.value == 4))
        before = m.line;
    }
    candidates.push_back(withToolCall(facts, i, *tool, before));
  }
}

}  // namespace provecut::causes
