#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "parser/program/arc.h"
#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace part_free {

constexpr std::string_view page = R"(## What it finds

A move cuts a part loose and nothing holds it: no web, no tab, no screw through it, no clamp on it, no tape, glue or
vacuum under it (stock-unheld tells what counts). A vise holds the rim of the stock, not a part cut out of it. The
finding names the line that cuts it loose, even if the part is milled away or cut up later, and tells what the bit
does next: cut into it, or beside it. Milling away the tape or the wood under a screw's head counts too. A patch of tape
holds if it is at least 5 × 5 mm; if every bit is under 2.5 mm wide, twice the widest bit each way is enough. A dust
shoe that presses on the part does not hold it. Offcuts, under 625 mm² in plan (about 25 × 25 mm), get offcut-free instead; crumbs under 4 mm² or narrower
than 0.75 mm everywhere are left out. A loose frame of waste round a part that a screw or clamp holds gets offcut-free
too: it runs all round the stock's edge. The rest of the stock is not listed.

## Why it matters

A loose part tilts into the spinning bit, jams, breaks it and flies.

## Example

A closed outline cut to full depth in 18 mm stock, without tabs:

    G1 Z-18.2 F300
    G1 X100 F1200
    G1 Y60
    G1 X0
    G1 Y0

The last line closes the kerf and cuts the part loose.

If a lift for a tab is no longer than the bit is wide, the finding says so: that lift leaves no tab.

## What to do

Leave tabs or a thin skin. Or hold the part itself with tape, a clamp or a screw through it, fitted before the program
starts. The waste of an opening looks like a part too: clear it out as a pocket.

## What `amount` is

The area of the part in plan in mm².

## Source

The limit of 625 mm² is common practice; the patch of tape and the size of a crumb are our estimates; no published
source.
)";

// Where the tip comes up out of a through-cut and goes down again without a retract, on no longer a way than the bit
// is wide: nothing of that tab is left.
struct ShortLifts {
  std::uint32_t first_line = 0, last_line = 0;
  int count = 0;
  double longest_mm = 0, bit_mm = 0;
};

bool isAbout(const WorkBox& part, WorkPoint p, double within_mm) {
  return p.x >= part.low.x - within_mm && p.x <= part.high.x + within_mm && p.y >= part.low.y - within_mm &&
         p.y <= part.high.y + within_mm;
}

const Piece* freedOn(const Facts& facts, std::size_t program, std::uint32_t line) {
  const std::vector<Piece>& pieces = facts.run.programs[program].pieces;
  const auto part = std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) {
    return p.free && !isWaste(p) && facts.programs[program].program.motions[p.move].line == line;
  });
  return part == pieces.end() ? nullptr : &*part;
}

double planLength_mm(const Motion& m) {
  if (isArc(m)) return arcLength(m);
  return std::hypot(m.end.x - m.start.x, m.end.y - m.start.y);
}

// Those about one part only.
ShortLifts shortLifts(const Facts& facts, std::size_t program, std::uint32_t until_line, const WorkBox& part) {
  const Setup& setup = *facts.programs[program].setup;
  const double underside_z = -setup.zero_mm.z + 1e-6, top_z = stockTopZ(facts, setup);
  ShortLifts lifts;
  const Motion* from = nullptr;
  double way_mm = 0;
  for (const Motion& m : facts.programs[program].program.motions) {
    if (m.line > until_line) break;
    const Tool* tool = findTool(facts.job, m.tool);
    if (!moves(m)) continue;
    if (!tool || m.kind == MotionKind::rapid || m.end.z >= top_z) {
      from = nullptr;
      continue;
    }
    const bool deep_before = m.start.z <= underside_z, deep_after = m.end.z <= underside_z;
    const double climb = std::abs(m.end.z - m.start.z);
    const double above = std::max(m.start.z, m.end.z) - underside_z;
    const double up_mm = deep_before && deep_after                ? 0
                         : deep_before != deep_after && climb > 0 ? planLength_mm(m) * above / climb
                                                                  : planLength_mm(m);
    if (deep_before && !deep_after) {
      from = &m;
      way_mm = 0;
    }
    if (!from) continue;
    way_mm += up_mm;
    if (!deep_after) continue;
    if (way_mm <= tool->diameter_mm && isAbout(part, m.end, tool->diameter_mm)) {
      if (lifts.count++ == 0) lifts.first_line = from->line;
      lifts.last_line = m.line;
      lifts.longest_mm = std::max(lifts.longest_mm, way_mm);
      lifts.bit_mm = tool->diameter_mm;
    }
    from = nullptr;
  }
  return lifts;
}

// "The lifts on lines 705 to 709 leave no tabs: each is at most 5 mm long, but the bit is 6 mm wide."
std::string shortLiftsText(const Job& job, const ShortLifts& lifts) {
  const bool several = lifts.count > 1;
  return fmt::format(
      "The {} on lines {} to {} {}: {} {} long, but the bit is {} wide. Make {} {} plus the tab's length. ",
      several ? "lifts" : "lift", lifts.first_line, lifts.last_line, several ? "leave no tabs" : "leaves no tab",
      several ? "each is at most" : "it is only", quantityText(job, Quantity::length, lifts.longest_mm),
      dimensionWithUnit(job, lifts.bit_mm), several ? "each lift" : "it", dimensionWithUnit(job, lifts.bit_mm));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::size_t first = findings.size();
  const std::string help = fmt::format(
      "Leave at least 2 tabs of {} each. Or, before you start the program, fit tape, a clamp or a screw that "
      "holds this part. If it is waste, clear it out as a pocket.",
      atLeastText(facts.job, Quantity::area, facts.job.limits.min_tab_area_mm2));
  std::string pressed;
  for (const SpindleAttachment& a : facts.job.spindle_attachments)
    pressed += " " + sentence(a.name + " may press on it, but does not hold it");
  addLoosePieces(
      facts, part_free_rule, "part", [](const Piece& p) { return !isWaste(p); },
      [&](const Piece&) { return help + pressed; }, findings);
  for (std::size_t i = first; i < findings.size(); ++i) {
    Finding& f = findings[i];
    if (f.program_order < 0 || f.place.line == 0 || !f.help.starts_with(help)) continue;
    const auto program = static_cast<std::size_t>(f.program_order);
    const Piece* part = freedOn(facts, program, f.place.line);
    if (!part) continue;
    const ShortLifts lifts = shortLifts(facts, program, f.place.line, part->bounds);
    if (lifts.count > 0) f.help = shortLiftsText(facts.job, lifts) + f.help;
  }
}

}  // namespace part_free

const Rule part_free_rule{"part-free", Level::stop, "A move cuts a part loose; nothing holds it.", part_free::page,
                          part_free::check};

}  // namespace provecut
