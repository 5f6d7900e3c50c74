#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <optional>
#include <string_view>
#include <utility>

#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/hold_down_advice.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace hold_down_hit {

constexpr std::string_view page = R"(## What it finds

The cutter, shank, collet nut, spindle or a spindle attachment runs into a screw, clamp, pin or other hold-down that
is fitted for this program. Every line, arc and plunge is checked along its whole length. The check is exact and does
not depend on the cell size; a touch counts.

## Why it matters

A bit that meets a screw breaks and throws the pieces. A nut that meets a clamp shifts the stock or costs the machine
its position.

## Example

A 9 mm screw head at X 12 Y 12, its top 4.5 mm above the stock, and a 6 mm cutter:

    G0 X40 Y12 Z1.5
    G0 X12.5 Y11.8

The second rapid runs into the head.

## What to do

Move the hold-down to the spot in the finding. It is the nearest one that suits all programs of the job that the
hold-down is fitted for. X and Y count from the stock's front left corner in that setup, as `at` in the job file. Or
remove the hold-down before this program, or retract above it. Where only the collet nut or the spindle hits, more
stickout clears it too. Moves that only pass it too closely are not told again: mend them as well. The line `see:` shows where the job file has it (`related` in JSON).

## What `amount` is

The overlap in mm, the largest of the group: the part's radius at the height where they meet, less the distance from
its axis to the hold-down's outline. That distance is negative inside the outline.

## Source

Geometry.
)";

std::string message(const Facts& facts, const ProgramFacts& program, const HoldDown& hold_down,
                    const std::vector<const Contact*>& contacts, const Finding& f) {
  std::vector<std::string> parts;
  for (const Contact* c : contacts) {
    const std::string part = "the " + partText(facts.job, c->part, c->attachment);
    if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
  }
  const bool one = parts.size() == 1;
  const Contact& first = *contacts.front();
  const Motion& motion = program.program.motions[first.move];
  std::string what = fmt::format("{} {} {}", listText(parts), one ? "touches" : "touch", hold_down.name);
  if (*f.amount > clearance::contact_tolerance_mm) {
    what = fmt::format("{} {} {}{} into {}", listText(parts), one ? "runs" : "run", f.moves > 1 || !one ? "up to " : "",
                       quantityText(facts.job, Quantity::length, *f.amount), hold_down.name);
  }
  return fmt::format("{}{} {} {}{} with the tip at {}; {} reaches up to {}", what, f.moves > 1 ? ", first on" : " on",
                     isArc(motion) ? "an" : "a", motionText(motion.kind), first.plunge ? " going down" : "",
                     zText(facts.job, first.entry.z), hold_down.name,
                     zText(facts.job, holdDownTopZ(facts, *program.setup, hold_down)));
}

// The move that passes it closest without a touch, where that is too close.
void relateNearPass(const Facts& facts, std::size_t program, int hold_down, Finding& f) {
  const double min_mm = facts.job.limits.clearance_mm;
  const NearPass* nearest = nullptr;
  for (const NearPass& n : facts.run.programs[program].near_passes) {
    if (n.hold_down == hold_down && n.clearance_mm < min_mm - clearance::contact_tolerance_mm &&
        (!nearest || n.clearance_mm < nearest->clearance_mm))
      nearest = &n;
  }
  if (!nearest) return;
  const ProgramFacts& p = facts.programs[program];
  const Compared text = comparedText(facts.job, Quantity::length, nearest->clearance_mm, min_mm);
  f.related.push_back({p.entry->file, shownPlace(p, placeOf(p.program.motions[nearest->move])),
                       fmt::format("the {} also clears {} by only {} here (minimum {})",
                                   partText(facts.job, nearest->part, nearest->attachment),
                                   facts.job.hold_downs[hold_down].name, text.actual, text.limit)});
}

bool speaksOfHoldDowns(std::string_view line) {
  std::string text(line);
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  constexpr std::array<std::string_view, 4> words{"clamp", "screw", "hold-down", "hold down"};
  return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return text.find(w) != std::string::npos; });
}

// A stop before the move whose comment, there or beside it, speaks of clamps: the job file lists hold-downs by program.
std::optional<std::uint32_t> stopForHoldDowns(const ProgramFacts& program, std::uint32_t move) {
  for (const Event& e : program.program.events) {
    if ((e.kind != EventKind::stop && e.kind != EventKind::optional_stop) || e.before_motion > move) continue;
    for (std::uint32_t line = std::max(e.place.line, 2u) - 1; line <= e.place.line + 1; ++line) {
      if (speaksOfHoldDowns(program.line(line))) return e.place.line;
    }
  }
  return std::nullopt;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    std::map<int, std::vector<const Contact*>> by_hold_down;
    for (const Contact& c : facts.run.programs[i].contacts) by_hold_down[c.hold_down].push_back(&c);
    for (auto& [index, contacts] : by_hold_down) {
      const HoldDown& hold_down = facts.job.hold_downs[index];
      std::stable_sort(contacts.begin(), contacts.end(),
                       [](const Contact* a, const Contact* b) { return a->move < b->move; });
      std::vector<Occurrence> occurrences;
      std::vector<std::uint32_t> moves;
      for (const Contact* c : contacts) {
        occurrences.push_back({c->move, c->overlap_mm, c->entry});
        moves.push_back(c->move);
      }
      Finding f = groupFinding(facts, i, hold_down_hit_rule, occurrences, Worst::largest, Quantity::length);
      f.subject = hold_down.name;
      f.unit = "mm";
      f.message = message(facts, program, hold_down, contacts, f);
      HoldDownAdvice advice = holdDownAdvice(facts, i, index, moves);
      f.help = std::move(advice.text);
      f.ways = std::move(advice.ways);
      if (const auto line = stopForHoldDowns(program, moves.front())) {
        f.help = fmt::format(
            "Do you move {} at the stop on line {}? Then split the program there and list the hold-downs of each half. "
            "Otherwise: {}",
            hold_down.name, *line, f.help);
      }
      relateToJob(facts, f, hold_down.place, hold_down.name + " is defined here");
      relateNearPass(facts, i, index, f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace hold_down_hit

const Rule hold_down_hit_rule{"hold-down-hit", Level::stop, "A part of the tool runs into a hold-down.",
                              hold_down_hit::page, hold_down_hit::check};

}  // namespace provecut
