#include "report/rules/shared/grouping.h"

#include <algorithm>

namespace provecut {

ShownPlace shownPlace(const ProgramFacts& program, Place bytes) {
  return shownPlace(program.line(bytes.line), bytes);
}

Finding placeFinding(const Facts& facts, std::size_t program, const Rule& rule, Place bytes) {
  const ProgramFacts& p = facts.programs[program];
  Finding f;
  f.rule = rule.id;
  f.level = rule.level;
  f.program_order = static_cast<int>(program);
  if (p.setup) f.setup = p.setup->name;
  if (p.entry) f.program = p.entry->file;
  f.place = shownPlace(p, bytes);
  f.last_line = bytes.line;
  return f;
}

Finding jobFinding(const Facts& facts, const Rule& rule, Place bytes) {
  Finding f;
  f.rule = rule.id;
  f.level = rule.level;
  f.program = facts.job.file;
  f.place = shownPlace(lineOfText(facts.job_text, bytes.line), bytes);
  f.last_line = bytes.line;
  return f;
}

namespace {

// Moves need not come in the order of their lines: subprograms and loops go back.
std::vector<LineSpan> lineSpans(const std::vector<Motion>& motions, const std::vector<Occurrence>& occurrences) {
  std::vector<std::uint32_t> lines;
  for (const Occurrence& o : occurrences) lines.push_back(motions[o.move].line);
  std::sort(lines.begin(), lines.end());
  std::vector<LineSpan> spans;
  for (const std::uint32_t line : lines) {
    if (spans.empty() || line > spans.back().last + 1) {
      spans.push_back({line, line});
    } else {
      spans.back().last = line;
    }
  }
  return spans;
}

bool lessAmount(const Occurrence& a, const Occurrence& b) {
  return a.amount < b.amount;
}

}  // namespace

const Occurrence& worstOf(const std::vector<Occurrence>& occurrences, Worst worst) {
  return worst == Worst::largest ? *std::max_element(occurrences.begin(), occurrences.end(), lessAmount)
                                 : *std::min_element(occurrences.begin(), occurrences.end(), lessAmount);
}

Finding groupFinding(const Facts& facts, std::size_t program, const Rule& rule, std::vector<Occurrence> occurrences) {
  const ProgramFacts& p = facts.programs[program];
  const std::vector<Motion>& motions = p.program.motions;
  std::stable_sort(occurrences.begin(), occurrences.end(),
                   [](const Occurrence& a, const Occurrence& b) { return a.move < b.move; });
  const Occurrence& first = occurrences.front();
  Finding f = placeFinding(facts, program, rule, placeOf(motions[first.move]));
  f.at = first.at;
  std::uint32_t before = first.move;
  f.moves = 1;
  for (const Occurrence& o : occurrences) {
    f.last_line = std::max(f.last_line, motions[o.move].line);
    if (o.move != before) ++f.moves;
    before = o.move;
  }
  f.lines = lineSpans(motions, occurrences);
  return f;
}

Finding groupFinding(const Facts& facts, std::size_t program, const Rule& rule, std::vector<Occurrence> occurrences,
                     Worst worst, Quantity quantity) {
  const ProgramFacts& p = facts.programs[program];
  std::stable_sort(occurrences.begin(), occurrences.end(),
                   [](const Occurrence& a, const Occurrence& b) { return a.move < b.move; });
  const Occurrence& extreme = worstOf(occurrences, worst);
  Finding f = groupFinding(facts, program, rule, occurrences);
  f.amount = extreme.amount;
  f.unit = unitOf(quantity);
  f.amount_text = quantityText(facts.job, quantity, extreme.amount);
  const Motion& at_worst = p.program.motions[extreme.move];
  if (at_worst.line != f.place.line) {
    f.related.push_back({p.entry ? p.entry->file : std::string(), shownPlace(p, placeOf(at_worst)),
                         "the worst: " + quantityText(facts.job, quantity, extreme.amount)});
  }
  return f;
}

std::string upTo(const Finding& finding) {
  return finding.moves > 1 ? "up to " : "";
}

void relateToJob(const Facts& facts, Finding& finding, Place bytes, std::string message) {
  if (facts.job.file.empty() || bytes.line == 0) return;
  const ShownPlace place = shownPlace(lineOfText(facts.job_text, bytes.line), bytes);
  finding.related.push_back({facts.job.file, place, std::move(message)});
}

}  // namespace provecut
