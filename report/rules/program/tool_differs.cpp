#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/base/dimension_text.h"
#include "report/base/tool_comment.h"
#include "report/facts/lost_tool_change.h"
#include "report/rules/list.h"
#include "report/rules/shared/commented_tools.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace tool_differs {

constexpr double angle_slack_deg = 1;

constexpr std::string_view page = R"(## What it finds

A comment in a program describes its tool differently from the job file. The diameters differ by more than 2 % and
0.05 mm, or the angles by more than 1°. Or the comment names another kind of bit: a vee where the job file has a flat
one. Words that may also say what the bit is for (engraving, chamfer, surfacing, drill) do not count. For a tapered bit
and a vee the comment may give the tip's diameter.

A message just before a tool change counts even without a tool number: "Change tool bit to mill diameter 2 mm".

Or the program's comments describe one tool, and the program calls another number that they do not mention.

## Why it matters

Either the job file is wrong, and this whole check is about another bit. Or the wrong bit is going into the collet.

## Example

    (T1 D=3.175 flat end mill)

but tool 1 of the job file has a diameter of 6 mm.

## What to do

Look at the bit itself, and correct the one that is wrong.

## What `amount` is

The diameter in the comment in mm, or the angle in degrees. There is none if the kinds differ.

## Source

What CAM programs write into comments: common practice, no published source.
)";

std::string_view kindText(ToolShape shape) {
  switch (shape) {
    case ToolShape::flat:
      return "a flat bit";
    case ToolShape::ball:
      return "a ball nose";
    case ToolShape::bull:
      return "a bull nose";
    case ToolShape::vee:
      return "a vee bit";
    case ToolShape::taper_ball:
      return "a tapered ball nose";
    case ToolShape::drill:
      return "a drill";
    case ToolShape::surfacing:
      return "a surfacing bit";
    case ToolShape::form:
      return "a form bit";
  }
  return {};
}

// Much is drilled with flat bits, and comments call both a drill; a form may be anything.
bool judged(ToolShape shape) {
  return shape != ToolShape::drill && shape != ToolShape::form;
}

// What a comment may call the tool's diameter: of a tapered bit it is often the tip's.
bool differsFromTool(double said, const Tool& tool) {
  const double tip = tool.shape == ToolShape::taper_ball ? 2 * tool.tip_radius_mm : tool.tip_diameter_mm;
  return !sameDiameter(said, tool.diameter_mm) && !(tip > 0 && sameDiameter(said, tip));
}

// The number that the comment speaks of: its own where the program changes tools, else what is in the spindle.
int numberOf(const Program& program, const Event& comment, const ToolComment& said) {
  const bool changes = std::any_of(program.events.begin(), program.events.end(),
                                   [](const Event& e) { return e.kind == EventKind::tool_change; });
  if (changes && said.number) return *said.number;
  return comment.before_motion < program.motions.size() ? program.motions[comment.before_motion].tool : 0;
}

// "Change tool bit to mill diameter 2 mm", where the bit is changed: the comment asks for it, with no number and no
// shape.
bool asksForBit(const Program& program, const Event& comment, const ToolComment& said) {
  return said.names_tool && saidDiameter_mm(said) &&
         std::any_of(program.events.begin(), program.events.end(), [&](const Event& e) {
           return e.kind == EventKind::tool_change && e.before_motion == comment.before_motion;
         });
}

// A tool that the job file lacks is tool-unknown's.
void checkNumbers(const Facts& facts, std::size_t i, std::vector<Finding>& findings) {
  const ProgramFacts& p = facts.programs[i];
  const auto mismatch = numberMismatch(p.program);
  if (!mismatch || !findTool(facts.job, mismatch->called)) return;
  Finding f = placeFinding(facts, i, tool_differs_rule, mismatch->call);
  f.subject = toolText(facts.job, mismatch->called);
  f.message = fmt::format("the program calls tool {}, but its comments describe tool {}", mismatch->called,
                          mismatch->described);
  f.help = fmt::format("Check which bit belongs here. Then change the T word to T{}, or correct the comment.",
                       mismatch->described);
  f.related.push_back(
      {p.entry ? p.entry->file : std::string(), shownPlace(p, mismatch->comment), "the comment is here"});
  findings.push_back(std::move(f));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::string_view source = facts.job.file.empty() ? "--tool" : "the job file";
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    checkNumbers(facts, i, findings);
    const ProgramFacts& p = facts.programs[i];
    const std::vector<LostToolChange> lost = lostToolChanges(facts, i);  // tool-not-called's
    const auto isLost = [&](const Event& comment) {
      return std::any_of(lost.begin(), lost.end(), [&](const LostToolChange& l) { return l.comment == &comment; });
    };
    std::vector<int> said_already;
    for (const Event& comment : p.program.events) {
      if (comment.kind != EventKind::comment_tool || isLost(comment)) continue;
      // A number without a unit may be meant in either.
      const ToolComment said = readToolComment(comment.text, false),
                        said_in_inches = readToolComment(comment.text, true);
      if (!said.number && !said.shape && !asksForBit(p.program, comment, said)) continue;
      const int number = numberOf(p.program, comment, said);
      const Tool* tool = findTool(facts.job, number);
      if (!tool || std::find(said_already.begin(), said_already.end(), number) != said_already.end()) continue;
      std::optional<double> amount;
      std::string unit, text;
      const bool may_be_number = said.drill_number == number;
      const std::optional<double> said_mm = may_be_number ? std::nullopt : saidDiameter_mm(said),
                                  inches_mm = saidDiameter_mm(said_in_inches);
      if (said_mm && inches_mm && tool->diameter_mm > 0 && differsFromTool(*said_mm, *tool) &&
          differsFromTool(*inches_mm, *tool)) {
        const bool inch = p.program.modal.ever_inch && !p.program.modal.ever_mm;
        amount = inch ? *inches_mm : *said_mm;
        unit = "mm";
        text = fmt::format("gives tool {} a diameter of {}; {} says {}", number, dimensionWithUnit(facts.job, *amount),
                           source, dimensionWithUnit(facts.job, tool->diameter_mm));
      } else if (said.angle_deg && tool->angle_deg > 0 &&
                 std::fabs(*said.angle_deg - tool->angle_deg) > angle_slack_deg) {
        amount = *said.angle_deg;
        unit = "deg";
        text =
            fmt::format("gives tool {} an angle of {:.0f}°; {} says {:.0f}°", number, *amount, source, tool->angle_deg);
      } else if (said.shape_named && judged(*said.shape) && judged(tool->shape) &&
                 !sameKind(*said.shape, tool->shape)) {
        text =
            fmt::format("calls tool {} {}; {} says {}", number, kindText(*said.shape), source, kindText(tool->shape));
      }
      if (text.empty()) continue;
      said_already.push_back(number);
      Finding f = placeFinding(facts, i, tool_differs_rule, comment.place);
      f.subject = toolText(facts.job, number);
      f.amount = amount;
      f.unit = unit;
      f.message = "the program's comment " + text;
      f.help = "Look at the bit itself, and correct the one that is wrong.";
      relateToJob(facts, f, tool->place, f.subject + " is defined here");
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace tool_differs

const Rule tool_differs_rule{"tool-differs", Level::look,
                             "A program's comment and the job file describe different tools.", tool_differs::page,
                             tool_differs::check};

}  // namespace provecut
