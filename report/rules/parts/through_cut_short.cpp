#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/height_advice.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/stickout.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace through_cut_short {

constexpr std::string_view page = R"(## What it finds

Through-cuts end just above the underside of the stock. With `--thickness`: cuts that go through stock as thick as the
job file says, but not through the stock as measured. Without it: cuts that leave less than 0.2 mm, and cuts that leave
up to 1 mm between a part's tabs. A program with `through = false` is left out.

## Why it matters

Every part stays in the sheet, and every hole stays shut under a skin. A skin thinner than 0.2 mm tears anywhere. A part
held by a skin all round needs no tabs. If you leave tabs, you want to cut through between them.

## Example

Zero on top, `G1 Z-18.3` in a job for 18 mm stock. The sheet measures 18.4 mm:

    provecut check job.toml --thickness 18.4

leaves 0.1 mm under every outline.

## What to do

Cut deeper: by the skin, plus what you want into the spoilboard. Or set Z zero on the spoilboard; then the thickness
does not matter.

## What `amount` is

The thickest skin left in mm.

## Source

Geometry. A skin that is left on purpose to hold a part has 0.2 mm or more: common practice, no published source.
)";

constexpr double usual_overcut_mm = 0.3;  // common practice, no published source

bool isLeftOnSkin(const Piece& piece) {
  return !piece.free && std::any_of(piece.tabs.begin(), piece.tabs.end(), [](const Tab& t) { return t.onion_skin; });
}

bool hasTabsInSkin(const Piece& piece) {
  return std::any_of(piece.tabs.begin(), piece.tabs.end(), [](const Tab& t) { return t.tabs_in_skin; });
}

std::string attachedText(const ProgramRun& run) {
  const auto parts = static_cast<std::size_t>(std::count_if(run.pieces.begin(), run.pieces.end(), isLeftOnSkin));
  if (parts == 0) return {};
  const auto tabbed = static_cast<std::size_t>(std::count_if(
      run.pieces.begin(), run.pieces.end(), [](const Piece& p) { return isLeftOnSkin(p) && hasTabsInSkin(p); }));
  if (tabbed > 0)
    return plural(tabbed, "part is held by a skin all round, not by its tabs: ",
                  "parts are held by a skin all round, not by their tabs: ");
  return plural(parts, "part stays attached: ", "parts stay attached: ");
}

bool flutesReach(const Facts& facts, std::size_t program, const std::vector<Occurrence>& cuts, double depth_mm) {
  return std::all_of(cuts.begin(), cuts.end(), [&](const Occurrence& o) {
    const Tool* tool = findTool(facts.job, facts.programs[program].program.motions[o.move].tool);
    return tool && tool->flute_length_mm >= depth_mm;
  });
}

// What of the tool above its cutter a deeper cut would bring down to a hold-down; null: nothing.
const NearPass* comesDownOnto(const ProgramRun& run, double deeper_mm) {
  const auto pass = std::find_if(run.near_passes.begin(), run.near_passes.end(), [&](const NearPass& p) {
    return p.part != ToolPart::cutter && p.clearance_mm <= deeper_mm;
  });
  return pass == run.near_passes.end() ? nullptr : &*pass;
}

void advise(const Facts& facts, std::size_t program, const std::vector<Occurrence>& cuts, double below_mm, double z,
            Finding& f) {
  const Job& job = facts.job;
  if (!std::all_of(cuts.begin(), cuts.end(), [&](const Occurrence& o) { return hasLevelTip(facts, program, o); })) {
    f.help = "Cut deeper: it leaves a rim until the whole tip of the bit is below the stock.";
    return;
  }
  if (!flutesReach(facts, program, cuts, job.stock.size_mm.z + below_mm)) {
    f.help = "Cut deeper, with a bit whose flutes are longer than the stock is thick.";
    return;
  }
  if (!goesThroughSurely(facts, below_mm)) {
    f.help = "Cut deeper, and set `spoilboard.allowed_cut` to how far the bit may go into the spoilboard.";
    return;
  }
  f.help = fmt::format("Cut {} deeper, plus what you want below the stock: {} goes {} below it.",
                       atLeastText(job, Quantity::length, *f.amount), heightText(facts, program, z),
                       quantityText(job, Quantity::length, below_mm));
  const std::vector<Piece>& pieces = facts.run.programs[program].pieces;
  const auto comesLoose = [](const Piece& p) { return isLeftOnSkin(p) && heldByTabsAlone(p) && !hasTabsInSkin(p); };
  const auto loose = std::count_if(pieces.begin(), pieces.end(), comesLoose);
  if (loose > 0) {
    f.help += loose == 1 ? " The part then comes loose: leave tabs, or hold it with tape."
                         : " The parts then come loose: leave tabs, or hold them with tape.";
  } else if (const NearPass* pass = comesDownOnto(facts.run.programs[program], *f.amount + below_mm)) {
    f.help += fmt::format(" First give the bit more stickout: the {} passes {} by only {} now.",
                          partText(job, pass->part, pass->attachment), shownHoldDown(job, pass->hold_down),
                          quantityText(job, Quantity::length, pass->clearance_mm));
  } else {
    AdvisedChange deeper{ChangeKind::down_to, z, {}, 0, -1, {}};
    for (const Occurrence& o : cuts) deeper.lines.push_back(facts.programs[program].program.motions[o.move].line);
    f.ways.push_back({deeper});
  }
}

void word(const Facts& facts, std::size_t program, const std::vector<Occurrence>& cuts, Finding& f) {
  const double skin_mm = *f.amount;
  const Job& job = facts.job;
  const Setup& setup = *facts.programs[program].setup;
  const double t = job.stock.size_mm.z;
  const std::string skin = quantityText(job, Quantity::length, skin_mm);
  f.amount_text = skin;
  const std::string attached = attachedText(facts.run.programs[program]);
  if (facts.said_thickness_mm && *facts.said_thickness_mm < t) {
    f.message =
        fmt::format("{}the cuts end {} above the underside; the stock measures {}, the job file says {}", attached,
                    skin, dimensionWithUnit(job, t), dimensionWithUnit(job, *facts.said_thickness_mm));
  } else {
    f.message =
        fmt::format("{}the cuts end {} above the underside of the {} stock", attached, skin, dimensionWithUnit(job, t));
  }
  const double below_mm =
      setup.lift_mm > 0 ? usual_overcut_mm : std::min(job.spoilboard.allowed_cut_mm, usual_overcut_mm);
  // Down to a thousandth, so that it is deep enough.
  const double z = std::floor((setupToWork(setup, SetupPoint{0, 0, -below_mm}).z) * 1000 + 1e-6) / 1000;
  advise(facts, program, cuts, below_mm, z, f);
  if (setup.zero_z_on_top) f.help += " Or set Z zero on the spoilboard.";
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Occurrence> cuts = cutsThatFallShort(facts, i);
    if (cuts.empty()) continue;
    const Finding group = groupFinding(facts, i, through_cut_short_rule, cuts, Worst::largest, Quantity::length);
    // It stands before all that follows from it.
    Finding f = placeFinding(facts, i, through_cut_short_rule, Place{});
    f.at = group.at;
    f.amount = group.amount;
    f.unit = group.unit;
    word(facts, i, cuts, f);
    f.related.push_back(
        {{},
         group.place,
         group.moves == 1 ? "this cut falls short" : fmt::format("the first of {} cuts that fall short", group.moves)});
    findings.push_back(std::move(f));
  }
}

}  // namespace through_cut_short

const Rule through_cut_short_rule{"through-cut-short", Level::look,
                                  "Through-cuts end just above the underside of the stock.", through_cut_short::page,
                                  through_cut_short::check};

}  // namespace provecut
