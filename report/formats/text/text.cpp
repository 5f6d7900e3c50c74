#include "report/formats/text/text.h"

#include <algorithm>
#include <ostream>
#include <string>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/findings/problem_findings.h"
#include "report/formats/base/terminal.h"
#include "report/formats/text/summary.h"

namespace provecut {

namespace {

constexpr std::size_t label_columns = 6;                // also the line numbers' width
constexpr std::size_t text_column = label_columns + 3;  // where source lines and explanations begin

std::string placeText(const Finding& f) {
  std::string text = f.program.empty() ? "job" : f.program;
  if (f.place.line == 0) return text;
  text.append(":").append(std::to_string(f.place.line));
  if (f.place.column != 0) text.append(":").append(std::to_string(f.place.column));
  return text;
}

// "X 12.1 Y 11.8 Z -3.0"
std::string pointText(const Job& job, WorkPoint p) {
  return "X " + positionText(job, p.x, 1) + " Y " + positionText(job, p.y, 1) + " Z " + positionText(job, p.z, 1);
}

class Writer {
 public:
  Writer(const Report& report, const TextStyle& style, std::ostream& out) : report_(report), style_(style), out_(out) {}

  void write(const Finding& f) {
    heading(f);
    if (style_.quiet) return;
    if (f.accepted) {
      explanation("ok:", "accepted: " + *f.accepted);
    } else {
      source(f);
      if (f.at) explanation("at:", pointText(report_.facts->job, *f.at) + inSetup(f));
      seeAlso(f);
      if (!f.help.empty()) explanation("do:", f.help);
      repeats(f);
      if (style_.verbose) everyMove(f);
    }
    out_ << '\n';
  }

 private:
  std::string paint(std::string_view text, Ink ink) const { return painted(text, ink, style_.colour); }

  void heading(const Finding& f) {
    const std::string place = placeText(f);
    const std::string level = std::string(levelName(f.level)) + (f.accepted ? " (accepted)" : "");
    const std::string id = "[" + f.rule + "]";
    const std::size_t used = displayWidth(place) + level.size() + 4;
    const std::size_t room = used < terminal_columns ? terminal_columns - used : 1;
    std::vector<std::string> lines;
    if (style_.quiet) {
      lines.push_back(f.message + " " + id);
    } else {
      lines = wrapped(f.message + " " + id, room, terminal_columns - text_column);
    }
    // The id is the last word, so that it is never torn.
    std::string& last = lines.back();
    last = last.substr(0, last.size() - std::min(last.size(), id.size())) + paint(id, Ink::faint);
    out_ << paint(place, Ink::strong) << ": " << paint(level, f.accepted ? Ink::faint : inkOf(f.level)) << ": "
         << lines.front() << '\n';
    for (std::size_t i = 1; i < lines.size(); ++i) out_ << std::string(text_column, ' ') << lines[i] << '\n';
  }

  void source(const Finding& f) {
    if (f.place.line == 0 || f.source_line.empty()) return;
    const std::string number = padLeft(std::to_string(f.place.line), label_columns);
    out_ << paint(number + " |", Ink::faint) << ' ' << f.source_line << '\n';
    if (f.mark_end <= f.mark_begin) return;
    out_ << paint(std::string(label_columns, ' ') + " |", Ink::faint) << ' ' << std::string(f.mark_begin, ' ')
         << paint(std::string(f.mark_end - f.mark_begin, '^'), inkOf(f.level)) << '\n';
  }

  void explanation(std::string_view label, std::string_view text) {
    const std::size_t room = terminal_columns - text_column;
    const std::vector<std::string> lines = wrapped(text, room, room);
    out_ << paint(padLeft(std::string(label), label_columns), Ink::faint) << "   " << lines.front() << '\n';
    for (std::size_t i = 1; i < lines.size(); ++i) out_ << std::string(text_column, ' ') << lines[i] << '\n';
  }

  // Work coordinates need their setup where there are several.
  std::string inSetup(const Finding& f) const {
    return report_.facts->job.setups.size() < 2 || f.setup.empty() ? std::string() : " in setup " + f.setup;
  }

  void seeAlso(const Finding& f) {
    constexpr std::size_t max_related = 4;
    std::size_t shown = 0, left_out = 0;
    for (const Related& r : f.related) {
      if (r.message == same_here) continue;
      if (shown == max_related) {
        ++left_out;
        continue;
      }
      ++shown;
      explanation("see:", r.message + (r.place.line == 0 ? "" : " (" + relatedPlace(f, r) + ")"));
    }
    if (left_out > 0) explanation("", "and " + std::to_string(left_out) + " more");
  }

  // A line of the same program is shown with its text; another file with its name.
  std::string relatedPlace(const Finding& f, const Related& r) const {
    const std::string line = std::to_string(r.place.line);
    if (r.file != f.program) return r.file + ":" + line;
    if (f.program_order < 0) return "line " + line;
    const ProgramFacts& program = report_.facts->programs[static_cast<std::size_t>(f.program_order)];
    return "line " + line + ": " + excerptOf(program.line(r.place.line), r.place, 48).text;
  }

  // The lines of all moves of the group; of a hit each move on which some part of the tool enters the hold-down.
  void everyMove(const Finding& f) {
    if (f.program_order < 0) return;
    if (f.rule != "hold-down-hit") {
      if (f.moves < 2 || f.lines.size() < 2) return;
      std::string lines;
      for (const LineSpan& span : f.lines) {
        lines += (lines.empty() ? "lines " : ", ") + std::to_string(span.first);
        if (span.last > span.first) lines += "-" + std::to_string(span.last);
      }
      explanation("all:", lines);
      return;
    }
    const auto i = static_cast<std::size_t>(f.program_order);
    const Facts& facts = *report_.facts;
    if (i >= facts.run.programs.size()) return;
    for (const Contact& c : facts.run.programs[i].contacts) {
      if (visibleText(facts.job.hold_downs[static_cast<std::size_t>(c.hold_down)].name) != f.subject) continue;
      const Motion& m = facts.programs[i].program.motions[c.move];
      explanation("hit:",
                  "line " + std::to_string(m.line) + ": " + visibleText(partText(facts.job, c.part, c.attachment)) +
                      ", " + std::string(motionText(m.kind)) + ", " +
                      quantityText(facts.job, Quantity::length, c.overlap_mm) + " at " + pointText(facts.job, c.entry));
    }
  }

  void repeats(const Finding& f) {
    if (f.moves < 2) return;
    std::string lines;
    for (const Related& r : f.related) {
      if (r.message == same_here) lines += ", " + std::to_string(r.place.line);
    }
    const std::string span = f.last_line > f.place.line
                                 ? "lines " + std::to_string(f.place.line) + "-" + std::to_string(f.last_line)
                                 : "all on this line";
    if (lines.empty()) {
      explanation("", std::to_string(f.moves) + " moves like this, " + span);
    } else if (f.moves - 1 > repeats_kept) {
      explanation("", std::to_string(f.moves) + " times, " + span);
    } else {
      explanation("", std::to_string(f.moves) + " times, lines " + std::to_string(f.place.line) + lines);
    }
  }

  const Report& report_;
  const TextStyle& style_;
  std::ostream& out_;
};

}  // namespace

void writeText(const Report& report, const TextStyle& style, std::ostream& out) {
  Writer writer(report, style, out);
  for (const Finding& f : report.findings) {
    if (style.quiet && (f.level == Level::note || f.accepted)) continue;
    writer.write(f);
  }
  if (style.quiet) {
    for (const std::string& what : report.not_checked) out << "not checked: " << what << '\n';
  } else {
    writeSummary(report, style.colour, out);
  }
}

}  // namespace provecut
