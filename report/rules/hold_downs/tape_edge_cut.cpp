#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace tape_edge_cut {

constexpr std::string_view page = R"(## What it finds

A sideways move below the stock's underside runs into the edge of a tape that lies under the stock. A bit that comes
down into the tape, or stays in it, is not told. Neither is tape from `held_by`: nobody said where its edges are.

## Why it matters

The bit catches the free edge, rolls the tape up and pulls it from under the part. What is left holds less, and glue
packs the flutes.

## Example

    [[hold_down]]
    name = "tape 1"
    kind = "tape"
    at = [60, 40]
    size = [40, 25]

on 18 mm stock, and an outline that crosses its edge:

    G1 Z-18.3 F300
    G1 X60 F1200

## What to do

Lay the tape wholly inside the part, clear of the path. Or cut no deeper than the underside there.

## What `amount` is

How far the cut goes below the stock's underside in mm. For a group, the largest.

## Source

Common practice; no published source. Cuts less than 0.01 mm below the underside are left out.
)";

// It meets the tape on its way, not as it goes down, and not from where it starts: there the bit is in it already.
// Where it comes down aslant into the tape's face it meets no edge.
bool runsIn(const Motion& motion, const Contact& contact, double underside) {
  constexpr double on_its_way_mm = 0.01;
  if (contact.entry.z > underside - on_its_way_mm) return false;
  if (contact.part != ToolPart::cutter || contact.plunge || motion.kind == MotionKind::rapid) return false;
  return length(flat(contact.entry) - flat(motion.start)) > on_its_way_mm;
}

// A setup's `held_by` says tape, and not where its edges are.
bool edgesUnknown(const HoldDown& tape, const Setup& setup) {
  return tape.place.line > 0 && tape.place.line == setup.place.line;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const ProgramFacts& program = facts.programs[i];
    const double underside = setupToWork(*program.setup, SetupPoint{}).z;
    std::vector<Occurrence> into;
    std::set<int> tapes;
    for (const Contact& c : facts.run.programs[i].tape_contacts) {
      const Motion& motion = program.program.motions[c.move];
      if (!runsIn(motion, c, underside)) continue;
      if (edgesUnknown(facts.job.hold_downs[c.hold_down], *program.setup)) continue;
      into.push_back({c.move, underside - lowestTip(motion).z, c.entry});
      tapes.insert(c.hold_down);
    }
    if (into.empty()) continue;
    Finding f = groupFinding(facts, i, tape_edge_cut_rule, into, Worst::largest, Quantity::length);
    std::vector<std::string> names;
    for (const int h : tapes) names.push_back(facts.job.hold_downs[h].name);
    if (names.size() == 1) f.subject = names.front();
    f.message = fmt::format("the cutter runs into the edge of {}, {} below the stock", listText(names),
                            quantityText(facts.job, Quantity::length, *f.amount));
    f.help = fmt::format("Lay the tape inside the part, clear of the path. Or cut no deeper than {} there.",
                         heightText(facts, i, underside));
    for (const int h : tapes)
      relateToJob(facts, f, facts.job.hold_downs[h].place, facts.job.hold_downs[h].name + " is defined here");
    findings.push_back(std::move(f));
  }
}

}  // namespace tape_edge_cut

const Rule tape_edge_cut_rule{"tape-edge-cut", Level::look, "The cutter runs into the edge of a tape.",
                              tape_edge_cut::page, tape_edge_cut::check};

}  // namespace provecut
