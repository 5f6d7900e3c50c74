#include "report/formats/text/text.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <tuple>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/shown_names.h"
#include "report/findings/problem_findings.h"
#include "report/formats/base/terminal.h"
#include "report/formats/text/summary.h"

namespace provecut {

namespace {

constexpr std::size_t label_columns = 6;                // also the line numbers' width
constexpr std::size_t text_column = label_columns + 3;  // where source lines and explanations begin

std::string placeText(const Finding& f) {
  std::string text = f.program.empty() ? "(no job file)" : f.program;
  if (f.place.line == 0) return text;
  text.append(":").append(std::to_string(f.place.line));
  if (f.place.column != 0) text.append(":").append(std::to_string(f.place.column));
  return text;
}

// "X 12.1 Y 11.8 Z -3 mm"
std::string pointText(const Job& job, WorkPoint p) {
  return "X " + positionText(job, p.x) + " Y " + positionText(job, p.y) + " " + zText(job, p.z);
}

// Where to and in which colours.
struct Terminal {
  bool colour;
  std::ostream& out;
};

std::string paint(const Terminal& t, std::string_view text, Ink ink) {
  return painted(text, ink, t.colour);
}

void writeGoingOn(const Terminal& t, const std::vector<std::string>& lines) {
  t.out << lines.front() << '\n';
  for (std::size_t i = 1; i < lines.size(); ++i) t.out << std::string(text_column, ' ') << lines[i] << '\n';
}

void writeFindingHeading(const Terminal& t, const Finding& f, bool one_line) {
  const std::string place = placeText(f);
  const std::string level = std::string(levelName(f.level)) + (f.accepted ? " (accepted)" : "");
  const std::string id = "[" + f.rule + "]";
  const std::size_t used = displayWidth(place) + level.size() + 4;
  const std::size_t room = used < terminal_columns ? terminal_columns - used : 1;
  std::vector<std::string> lines{f.message + " " + id};
  if (!one_line) lines = wrapped(lines.front(), room, terminal_columns - text_column);
  // The id is the last word, so that it is never torn.
  std::string& last = lines.back();
  last = last.substr(0, last.size() - std::min(last.size(), id.size())) + paint(t, id, Ink::faint);
  t.out << paint(t, place, Ink::strong) << ": " << paint(t, level, f.accepted ? Ink::faint : inkOf(f.level)) << ": ";
  writeGoingOn(t, lines);
}

void writeSourceLine(const Terminal& t, const Finding& f) {
  if (f.place.line == 0 || f.source_line.empty()) return;
  const std::string number = padLeft(std::to_string(f.place.line), label_columns);
  t.out << paint(t, number + " |", Ink::faint) << ' ' << f.source_line << '\n';
  if (f.mark_end <= f.mark_begin) return;
  t.out << paint(t, std::string(label_columns, ' ') + " |", Ink::faint) << ' ' << std::string(f.mark_begin, ' ')
        << paint(t, std::string(f.mark_end - f.mark_begin, '^'), inkOf(f.level)) << '\n';
}

void writeExplanation(const Terminal& t, std::string_view label, std::string_view text) {
  constexpr std::size_t room = terminal_columns - text_column;
  t.out << paint(t, padLeft(std::string(label), label_columns), Ink::faint) << "   ";
  writeGoingOn(t, wrapped(text, room, room));
}

// Work coordinates need their setup where there are several.
std::string inSetup(const Job& job, const Finding& f) {
  return job.setups.size() < 2 || f.setup.empty() ? std::string() : " in setup " + f.setup;
}

// A line of the same program is shown with its text; another file with its name.
std::string relatedPlace(const Facts& facts, const Finding& f, const Related& r) {
  const std::string line = std::to_string(r.place.line);
  if (r.file != f.program) return r.file + ":" + line;
  if (f.program_order < 0) return "line " + line;
  const ProgramFacts& program = facts.programs[f.program_order];
  return "line " + line + ": " + excerptOf(program.line(r.place.line), r.place, 48).text;
}

void writeSeeAlso(const Terminal& t, const Facts& facts, const Finding& f) {
  constexpr std::size_t most = 4;
  std::size_t shown = 0, left_out = 0;
  for (const Related& r : f.related) {
    if (r.message == same_here) continue;
    if (shown == most) {
      ++left_out;
      continue;
    }
    ++shown;
    writeExplanation(t, "see:", r.message + (r.place.line == 0 ? "" : " (" + relatedPlace(facts, f, r) + ")"));
  }
  if (left_out > 0) writeExplanation(t, "", "and " + std::to_string(left_out) + " more");
}

// "lines 12, 15, 31", each once; of a group whose lines are not all kept the first and the last.
std::string linesText(const Finding& f) {
  const std::string first = std::to_string(f.place.line);
  if (f.last_line <= f.place.line) return "on line " + first;
  std::string lines = "lines " + first;
  std::uint32_t before = f.place.line;
  for (const Related& r : f.related) {
    if (r.message != same_here || r.place.line == before) continue;
    before = r.place.line;
    lines += ", " + std::to_string(before);
  }
  const bool all_kept = before != f.place.line && f.moves - 1 <= repeats_kept;
  return all_kept ? lines : "lines " + first + "-" + std::to_string(f.last_line);
}

void writeRepeats(const Terminal& t, const Finding& f) {
  if (f.moves < 2) return;
  const bool listed =
      std::any_of(f.related.begin(), f.related.end(), [](const Related& r) { return r.message == same_here; });
  const std::string_view counted = !listed ? " moves like this, " : f.last_line > f.place.line ? " times, " : " times ";
  writeExplanation(t, "", std::to_string(f.moves).append(counted) + linesText(f));
}

// The lines of all moves of the group.
void writeAllLines(const Terminal& t, const Finding& f) {
  if (f.moves < 2 || f.lines.size() < 2) return;
  std::string lines;
  for (const LineSpan& span : f.lines) {
    lines += (lines.empty() ? "lines " : ", ") + std::to_string(span.first);
    if (span.last > span.first) lines += "-" + std::to_string(span.last);
  }
  writeExplanation(t, "all:", lines);
}

// Each move on which some part of the tool enters the hold-down that is hit.
void writeAllHits(const Terminal& t, const Facts& facts, const Finding& f) {
  if (f.program_order >= std::ssize(facts.run.programs)) return;
  for (const Contact& c : facts.run.programs[f.program_order].contacts) {
    if (shownHoldDown(facts.job, c.hold_down) != f.subject) continue;
    const Motion& m = facts.programs[f.program_order].program.motions[c.move];
    writeExplanation(t, "hit:",
                     "line " + std::to_string(m.line) + ": " + visibleText(partText(facts.job, c.part, c.attachment)) +
                         ", " + std::string(motionText(m.kind)) + ", " +
                         quantityText(facts.job, Quantity::length, c.overlap_mm) + " at " +
                         pointText(facts.job, c.entry));
  }
}

void writeFinding(const Terminal& t, const Facts& facts, const Finding& f, bool every_move) {
  writeFindingHeading(t, f, false);
  if (f.accepted) {
    writeExplanation(t, "ok:", *f.accepted);
  } else {
    writeSourceLine(t, f);
    if (f.at) writeExplanation(t, "at:", pointText(facts.job, *f.at) + inSetup(facts.job, f));
    writeSeeAlso(t, facts, f);
    if (!f.help.empty()) writeExplanation(t, "do:", f.help);
    writeRepeats(t, f);
    if (every_move && f.program_order >= 0) {
      if (f.rule == "hold-down-hit") {
        writeAllHits(t, facts, f);
      } else {
        writeAllLines(t, f);
      }
    }
  }
  t.out << '\n';
}

std::string lineRange(std::uint32_t first, std::uint32_t last) {
  return last > first ? "lines " + std::to_string(first) + "-" + std::to_string(last) : "line " + std::to_string(first);
}

// Findings of one rule in one program, at one level.
using Alike = std::vector<const Finding*>;

std::vector<Alike> gathered(const Report& report, std::size_t cause) {
  std::vector<Alike> groups;
  for (const Finding& f : report.findings) {
    if (f.likely_cause != cause) continue;
    const auto group = std::find_if(groups.begin(), groups.end(), [&](const Alike& alike) {
      const Finding& first = *alike.front();
      return std::tie(first.rule, first.level, first.program, first.setup) ==
             std::tie(f.rule, f.level, f.program, f.setup);
    });
    if (group == groups.end())
      groups.push_back({&f});
    else
      group->push_back(&f);
  }
  return groups;
}

// What is gone under the cause, in a line or two each: of many alike the first.
void writeGone(const Terminal& t, const Report& report, std::size_t cause, bool all) {
  constexpr std::size_t most_alike = 2;
  const std::vector<Alike> groups = gathered(report, cause);
  if (!groups.empty()) writeExplanation(t, "", "Gone then:");
  for (const Alike& alike : groups) {
    const std::size_t shown = all || alike.size() <= most_alike ? alike.size() : 1;
    for (std::size_t i = 0; i < shown; ++i) {
      const Finding& f = *alike[i];
      writeExplanation(t, levelName(f.level), placeText(f) + ": " + f.message + " [" + f.rule + "]");
    }
    if (shown == alike.size()) continue;
    std::uint32_t last = 0;
    for (const Finding* f : alike) last = std::max(last, f->last_line);
    const std::string lines = last == 0 ? "" : ", " + lineRange(alike[shown]->place.line, last);
    writeExplanation(t, "", "and " + std::to_string(alike.size() - shown) + " more of this rule" + lines);
  }
}

std::string_view causeHeading(const LikelyCause& cause) {
  return cause.tied ? "Likely cause, one of several: " : "Likely cause: ";
}

// "Likely cause: is Z zero on the underside of the stock? Then 14 of 14 stops are gone."
void writeLikelyCause(const Terminal& t, const Report& report, std::size_t index, bool verbose) {
  const LikelyCause& cause = report.likely_causes[index];
  constexpr std::size_t room = terminal_columns - text_column;
  t.out << paint(t, std::string(causeHeading(cause)), Ink::strong);
  writeGoingOn(t, wrapped(cause.question + " " + cause.effect, room - (cause.tied ? 21 : 5), room));
  writeExplanation(t, "do:", "If so: " + cause.change);
  for (const std::string& line : cause.lines) t.out << std::string(text_column + 2, ' ') << line << '\n';
  writeGone(t, report, index, verbose);
  t.out << '\n';
}

}  // namespace

void writeText(const Report& report, const TextStyle& style, std::ostream& out) {
  const Terminal terminal{style.colour, out};
  if (!style.quiet) {
    for (std::size_t i = 0; i < report.likely_causes.size(); ++i) writeLikelyCause(terminal, report, i, style.verbose);
    for (const Finding& f : report.findings) {
      if (!f.likely_cause) writeFinding(terminal, *report.facts, f, style.verbose);
    }
    writeSummary(report, style.colour, out);
    return;
  }
  for (const LikelyCause& cause : report.likely_causes)
    out << paint(terminal, std::string(causeHeading(cause)), Ink::strong) << cause.question << ' ' << cause.effect
        << '\n';
  for (const Finding& f : report.findings) {
    if (f.level != Level::note && !f.accepted) writeFindingHeading(terminal, f, true);
  }
  for (const std::string& what : report.not_checked) out << "not checked: " << what << '\n';
}

}  // namespace provecut
