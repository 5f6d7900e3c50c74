#include "report/findings/report.h"

#include <algorithm>
#include <iterator>
#include <tuple>
#include <utility>

#include "report/base/visible_text.h"
#include "report/findings/accept.h"
#include "report/findings/not_checked.h"
#include "report/findings/problem_findings.h"
#include "report/rules/rule.h"

namespace provecut {

namespace {

// A source line, its number and the gutter between them fit in 100 columns.
constexpr std::size_t source_line_cells = 88;

std::string_view lineOf(const Facts& facts, const Finding& f) {
  if (f.program_order < 0) return lineOfText(facts.job_text, f.place.line);
  return facts.programs[f.program_order].line(f.place.line);
}

void fillPlace(const Facts& facts, Finding& f) {
  if (f.program_order >= 0) {
    const ProgramFacts& program = facts.programs[f.program_order];
    f.setup = program.setup->name;
    f.program = program.entry->file;
  } else if (f.program.empty()) {
    f.program = facts.job.file;
  }
  for (Related& r : f.related) {
    if (r.file.empty()) r.file = f.program;
  }
  f.last_line = std::max(f.last_line, f.place.line);
  Excerpt excerpt = excerptOf(lineOf(facts, f), f.place, source_line_cells);
  f.source_line = std::move(excerpt.text);
  f.mark_begin = excerpt.mark_begin;
  f.mark_end = excerpt.mark_end;
}

void makeVisible(Finding& f) {
  for (std::string* text : {&f.setup, &f.program, &f.subject, &f.message, &f.help}) *text = visibleText(*text);
  if (f.accepted) *f.accepted = visibleText(*f.accepted);
  for (Related& r : f.related) {
    r.file = visibleText(r.file);
    r.message = visibleText(r.message);
  }
}

void runRules(const Facts& facts, std::vector<Finding>& findings) {
  for (const Rule* rule : allRules()) {
    if (!rule->check) continue;
    const std::size_t before = findings.size();
    rule->check(facts, findings);
    for (std::size_t i = before; i < findings.size(); ++i) findings[i].rule = rule->id;
  }
  std::vector<Finding> problems = problemFindings(facts);
  std::move(problems.begin(), problems.end(), std::back_inserter(findings));
}

Verdict verdictOf(const Report& report) {
  Verdict verdict = Verdict::clear;
  for (const Finding& f : report.findings) {
    if (f.accepted) continue;
    const Verdict own = f.level == Level::stop ? Verdict::stop : f.level == Level::look ? Verdict::look : Verdict::note;
    verdict = std::max(verdict, own);
  }
  // What was not looked at may hide anything.
  return report.complete ? verdict : std::max(verdict, Verdict::look);
}

}  // namespace

std::string_view levelName(Level level) {
  switch (level) {
    case Level::note:
      return "note";
    case Level::look:
      return "look";
    case Level::stop:
      return "stop";
  }
  return {};
}

std::string_view verdictName(Verdict verdict) {
  switch (verdict) {
    case Verdict::clear:
      return "clear";
    case Verdict::note:
      return "note";
    case Verdict::look:
      return "look";
    case Verdict::stop:
      return "stop";
  }
  return {};
}

Report makeReport(const Facts& facts) {
  Report report;
  report.facts = &facts;
  runRules(facts, report.findings);
  for (Finding& f : report.findings) fillPlace(facts, f);

  std::vector<Finding> unused = applyAccepts(facts, report.findings);
  for (Finding& f : unused) fillPlace(facts, f);
  std::move(unused.begin(), unused.end(), std::back_inserter(report.findings));

  for (Finding& f : report.findings) makeVisible(f);
  std::stable_sort(report.findings.begin(), report.findings.end(), [](const Finding& a, const Finding& b) {
    return std::tuple(-static_cast<int>(a.level), a.program_order, a.place.line, a.place.column) <
           std::tuple(-static_cast<int>(b.level), b.program_order, b.place.line, b.place.column);
  });

  report.not_checked = whatWasNotChecked(facts);
  report.complete = report.not_checked.empty();
  report.verdict = verdictOf(report);
  return report;
}

}  // namespace provecut
