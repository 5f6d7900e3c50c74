#include "report/formats/text/resume_text.h"

#include <algorithm>
#include <array>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/resume.h"
#include "report/facts/setup_words.h"
#include "report/formats/base/table.h"

namespace provecut {

namespace {

constexpr std::size_t max_lines = 12;  // of one program; --before finds the others

// Units and work offset come into force before anything is typed that depends on them.
constexpr std::array<std::string_view, 6> steps{
    "1. If the machine may have lost its position, set X, Y and Z zero again.",
    "2. Put in the tool and set Z zero for it.",
    "3. Raise Z clear of stock and hold-downs.",
    "4. Enter the words under \"set first\", in that order. If they start the spindle, wait until it is up to speed. "
    "If there is no M3 or M4 among them, nor on a line before the next cut, the program cuts with the "
    "spindle off: do not resume.",
    "5. Move to the start point: X and Y first, then Z. Jog the last of Z slowly, a hand on the E-stop.",
    "6. Run from that line. Everything before it must already be cut."};

// "X14.6161 Y1.2598 Z0.4 in", "X10 Y20 mm (G55), Z fully up"
std::string startText(const ResumeLine& l) {
  const double unit_mm = l.point->inch ? mm_per_inch : 1;
  const auto axis = [&](double mm) { return shortNumber(mm / unit_mm, l.point->inch ? 4 : 3); };
  std::string text = "X" + axis(l.shown.x) + " Y" + axis(l.shown.y);
  if (!l.point->height_unknown) text += " Z" + axis(l.shown.z);
  text += l.point->inch ? " in" : " mm";
  if (l.point->system > 1) text += " (" + systemWord(l.point->system) + ")";
  return l.point->height_unknown ? text + ", Z fully up" : text;
}

// Why the line that was asked for is not the one in the table.
std::string whyNotText(const ProgramResumes& resumes, std::uint32_t line) {
  const std::string number = std::to_string(line);
  const std::string text = "cannot be resumed at line " + number + ": " + resumes.why_not;
  return resumes.lines.empty() ? text : text + "; the last line before it is";
}

void writeProgram(const ProgramFacts& p, const ProgramResumes& resumes, std::optional<std::uint32_t> before,
                  bool colour, std::ostream& out) {
  writeHeading(visibleText(setupText(*p.setup) + ": " + p.entry->file), colour, out);
  writeWrapped(resumes.relies_on.empty() ? std::string("sets all its own modes")
                                         : "relies on what was set before: " + listText(resumes.relies_on),
               2, out);
  if (before && !resumes.why_not.empty()) writeWrapped(whyNotText(resumes, *before), 2, out);
  if (resumes.lines.empty()) {
    const std::string where = before ? " up to line " + std::to_string(*before) : "";
    writeWrapped("has no line to resume at" + where + ": run it from the start", 2, out);
    return;
  }
  Table table{{true, false, true, false}, {{"line", "start from", "tool", "set first"}}};
  for (std::size_t k = 0; k < std::min(resumes.lines.size(), max_lines); ++k) {
    const ResumeLine& l = resumes.lines[k];
    table.rows.push_back({std::to_string(l.point->line), startText(l), std::to_string(l.point->tool),
                          l.words.empty() ? "nothing" : l.words});
  }
  writeTable(table, colour, out);
  if (resumes.lines.size() > max_lines)
    out << "  and " << resumes.lines.size() - max_lines
        << " more; --before LINE shows the last one at or before LINE\n";
}

}  // namespace

void writeResumeText(const Facts& facts, std::optional<std::uint32_t> before, bool colour, std::ostream& out) {
  bool incremental = false;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramResumes resumes = resumesOf(facts, i, before);
    writeProgram(facts.programs[i], resumes, before, colour, out);
    out << '\n';
    incremental = incremental || std::any_of(resumes.lines.begin(), resumes.lines.end(),
                                             [](const ResumeLine& l) { return l.point->incremental; });
  }
  writeHeading("To resume", colour, out);
  for (const std::string_view step : steps) writeWrapped(std::string(step), 2, out);
  if (incremental)
    writeWrapped("With G91 under \"set first\", jog to the start point: typed numbers would be added to the position.",
                 2, out);
}

}  // namespace provecut
