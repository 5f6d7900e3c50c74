#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>

#include "report/facts/measures.h"
#include "report/facts/tool_changer.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/lift_advice.h"
#include "report/rules/shared/touching.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace first_move {

constexpr std::string_view page = R"(## What it finds

The first sideways move of a program comes before any Z height is set, comes down aslant itself, or runs at a height
that does not clear the highest hold-down by `limits.clearance`. Nobody knows where the tool is when the program starts, so
this move may hit any of them. A machine that changes its bits itself (`tool_change_s` below 60) leaves the tool at the
top after M6.

## Why it matters

After zeroing, or after the last program, the bit is often left low. The first rapid then drags it through a clamp.

## Example

    G21 G90
    G0 X20 Y20
    G0 Z40

## What to do

Put a rapid up to the height in the finding on its own line, after G90 and the unit and before the first sideways move.
Start an incremental program (G91) with the tool at that height.

## What `amount` is

The height of the first sideways move above the highest obstacle in mm. There is none if no height is set.

## Source

Common practice; no published source.
)";

// True where the move's own line says where X or Y shall be.
bool namesXOrY(std::string_view line) {
  bool comment = false;
  for (const char c : line) {
    if (c == ';') break;
    if (c == '(' || c == ')') comment = c == '(';
    if (!comment && (c == 'X' || c == 'x' || c == 'Y' || c == 'y')) return true;
  }
  return false;
}

// How the first sideways move begins.
struct FirstMove {
  std::uint32_t index = 0;
  bool height_set = false;  // by a move before it
  bool comes_down = false;  // it sets its height itself, aslant
};

// A machine that changes its bits itself leaves the tool at the top.
bool changerLifts(const Job& job, const Program& program, std::uint32_t move) {
  return changesBitsItself(job.machine) &&
         std::any_of(program.events.begin(), program.events.end(),
                     [&](const Event& e) { return e.kind == EventKind::tool_change && e.before_motion <= move; });
}

std::optional<FirstMove> firstSideways(const Job& job, const ProgramFacts& p) {
  const std::vector<Motion>& motions = p.program.motions;
  FirstMove first;
  for (; first.index < motions.size(); ++first.index) {
    const Motion& m = motions[first.index];
    if (!(m.flags & motion_start_unknown)) break;
    if (!moves(m)) continue;
    const bool names_height = m.start.z != m.end.z;
    if (m.flags & motion_machine_frame) {
      first.height_set |= names_height || (m.flags & motion_height_unknown);
      continue;
    }
    // A move to X0 Y0 ends where the start was assumed: it goes sideways all the same.
    if (goesSideways(m) || !names_height || namesXOrY(p.line(m.line))) {
      first.height_set = first.height_set || changerLifts(job, p.program, first.index);
      first.comes_down = !first.height_set && names_height;
      return first;
    }
    first.height_set = true;
  }
  return std::nullopt;
}

void advise(const Facts& facts, std::size_t program, const FirstMove& first, double wanted_z, Finding& f) {
  const Motion& m = facts.programs[program].program.motions[first.index];
  const double up_z = wanted_z + reachBelowTip(facts, m.tool);
  if (facts.programs[program].program.modal.first_incremental) {
    f.help = fmt::format(
        "Before you start, jog to the place the program counts from, at {} or higher. (A rapid up before this line "
        "would lift all that follows: it is in increments, G91.)",
        heightText(facts, program, up_z));
    return;
  }
  const bool low = m.end.z < wanted_z - clearance::contact_tolerance_mm;
  f.help = fmt::format("Put {} or higher on its own line before this one{}.", rapidUpText(facts, program, up_z),
                       m.start.z == m.end.z || !low ? ""
                       : m.end.z < stockTopZ(facts, *facts.programs[program].setup) + touching_mm
                           ? ", and go down only after it, at the plunge feed"
                           : ", and go down only after it");
  f.ways.push_back({{ChangeKind::cross_at, up_z, {m.line}, 0, -1, {}}});
}

void addTooLow(const Facts& facts, const Highest& highest, double z, Finding& f) {
  f.subject = highest.hold_down->name;
  f.amount = z - highest.z;
  f.unit = "mm";
  const Compared height =
      comparedText(facts.job, Quantity::length, std::fabs(*f.amount), facts.job.limits.clearance_mm);
  f.message = fmt::format("the first move is sideways from wherever the tool happens to be, {} {} the top of {}",
                          height.actual, *f.amount < 0 ? "below" : "above", f.subject);
  if (*f.amount >= 0) f.message += fmt::format(" (minimum {})", height.limit);
  relateToJob(facts, f, highest.hold_down->place, f.subject + " is defined here");
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const std::optional<FirstMove> first = firstSideways(facts.job, p);
    if (!first) continue;
    const Motion& m = p.program.motions[first->index];
    const Highest highest = highestStanding(facts, p);
    const double wanted_z = highest.z + facts.job.limits.clearance_mm;
    const bool low = m.end.z < wanted_z - clearance::contact_tolerance_mm;
    const bool at_unknown_height = !first->height_set && !first->comes_down;
    if (!at_unknown_height && (!low || (!highest.hold_down && !first->comes_down))) continue;
    Finding f = placeFinding(facts, i, first_move_rule, placeOf(m));
    f.moves = 1;
    f.at = m.end;
    if (at_unknown_height) {
      f.message = "the first move is sideways from wherever the tool happens to be; no height is set yet";
    } else if (first->comes_down) {
      f.message = fmt::format("the first move slants down from wherever the tool happens to be, to {}",
                              heightText(facts, i, m.end.z));
    } else {
      addTooLow(facts, highest, m.end.z, f);
    }
    advise(facts, i, *first, wanted_z, f);
    findings.push_back(std::move(f));
  }
}

}  // namespace first_move

const Rule first_move_rule{"first-move", Level::look, "The first sideways move is at an unknown height, or too low.",
                           first_move::page, first_move::check};

}  // namespace provecut
