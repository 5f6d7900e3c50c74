#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/feed_slips.h"
#include "report/rules/shared/tried_loads.h"

namespace provecut {

namespace feed_slip {

constexpr std::string_view page = R"(## What it finds

A feed that was hardly meant.

- Far too slow: the chip load is a small part of what the bit needs to cut at all, or the same tool runs eight times as
  fast elsewhere in the program, and the slow moves cost a minute or more. An F25 for F2500, an F1 left by a form, inches
  per minute read as millimetres.
- Far too fast for a tiny tip: a vee, ball or tapered ball that is less than 1 mm wide at the depth it cuts, and takes
  more than two fifths of that width per tooth. A vee needs its `tip_diameter` for that.

## Why it matters

At a hundredth of its feed a bit rubs until it glows, and the job takes days. A tip of 0.2 mm that is fed 0.1 mm per
tooth is gone in the first corner.

## Example

    S18000 M3
    G1 Z-3 F300
    G1 X180 F25
    G1 Y80 F2500

The pass along X takes seven minutes in place of four seconds.

## What to do

Set the feed that the finding names: one that the program uses elsewhere, or the same digits with the point moved, as far
as they fit the bit. If the slow feed is meant, accept the finding.

## What `amount` is

The feed found in mm/min.

## Source

Chip load: Machinery's Handbook, 31st ed. Where a bit begins to rub: see chip-thin. The limits are our own estimates.
)";

// "F2500"; for a program in inches in inches per minute. A program that uses both units gets none.
std::string feedWord(const Program& program, double feed_mm_min) {
  const ModalUse& modal = program.modal;
  if (modal.ever_inch && modal.ever_mm) return {};
  const double unit = modal.ever_inch ? mm_per_inch : 1;
  return "F" + shortNumber(feed_mm_min / unit, modal.ever_inch ? 2 : 1);
}

std::string setFeedText(const Facts& facts, std::size_t program, double feed_mm_min) {
  const std::string word = feedWord(facts.programs[program].program, feed_mm_min);
  const std::string text = quantityText(facts.job, Quantity::feed, feed_mm_min);
  return word.empty() ? fmt::format("set the feed to {}", text) : fmt::format("set {} ({})", word, text);
}

void addSlow(const Facts& facts, std::size_t program, const FeedSlip& slip, std::vector<Finding>& findings) {
  Finding f = toolFinding(facts, program, feed_slip_rule, slip.tool, slip.moves, Worst::smallest, Quantity::feed);
  const std::string feed = quantityText(facts.job, Quantity::feed, *f.amount);
  const std::string chip =
      slip.chip_mm > 0 ? fmt::format(" ({} per tooth)", quantityText(facts.job, Quantity::fine_length, slip.chip_mm))
                       : "";
  f.message = fmt::format("{} moves at only {}{} for {}", f.subject, feed, chip, durationText(slip.seconds));
  if (slip.meant_mm_min) {
    const double meant_s = slip.seconds * double{slip.feed_mm_min} / *slip.meant_mm_min;
    f.message += fmt::format("; at {} it is {}", quantityText(facts.job, Quantity::feed, *slip.meant_mm_min),
                             durationText(meant_s));
    f.help = sentence(fmt::format("{} here{}", setFeedText(facts, program, *slip.meant_mm_min),
                                  slip.used_elsewhere ? ": this program uses it elsewhere" : ", if that was meant"));
    const AdvisedChange meant{ChangeKind::feed, *slip.meant_mm_min, {}, slip.tool, -1, {}};
    if (provenByLoads(facts, f, {meant})) f.ways.push_back({meant});
  } else {
    f.help = "Set the feed that was meant.";
  }
  findings.push_back(std::move(f));
}

// Tips that break, by tool.
void addTips(const Facts& facts, std::size_t program, ToolBodies& bodies, std::vector<Finding>& findings) {
  const Judge judge = [&](const ToolMove& move) -> std::optional<double> {
    if (!breaksTip(facts, bodies, move)) return {};
    return double{loadOf(facts, program, move.index).top_speed_mm_min};
  };
  for (const auto& [number, fast] : movesByTool(facts, program, judge)) {
    const Tool& tool = *findTool(facts.job, number);
    Finding f = toolFinding(facts, program, feed_slip_rule, number, fast, Worst::largest, Quantity::feed);
    ChipSettings settings;
    settings.feed_mm_min = std::numeric_limits<double>::infinity();
    TipChip worst;
    for (const Occurrence& o : fast) {
      const Motion& motion = facts.programs[program].program.motions[o.move];
      const TipChip chip = *breaksTip(facts, bodies, {program, o.move, motion, tool});
      settings.feed_mm_min = std::min(settings.feed_mm_min, o.amount * chip.max_mm / chip.chip_mm);
      settings.rpm = std::max(settings.rpm, double{motion.rpm} * chip.chip_mm / chip.max_mm);
      if (chip.chip_mm * worst.max_mm >= worst.chip_mm * chip.max_mm) worst = chip;
    }
    const Compared chip = comparedText(facts.job, Quantity::fine_length, worst.chip_mm, worst.max_mm);
    f.message = fmt::format("{} takes {}{} per tooth where it is {} wide (maximum {}): its tip breaks", f.subject,
                            upTo(f), chip.actual,
                            quantityText(facts.job, Quantity::fine_length, worst.max_mm / max_tip_share), chip.limit);
    adviseThinnerChips(facts, tool, settings, f);
    f.help += " If this bit can take more, set its chip_load in the job file.";
    findings.push_back(std::move(f));
  }
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  ToolBodies bodies(facts.job);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const FeedSlip& slip : feedSlips(facts, i)) addSlow(facts, i, slip, findings);
    addTips(facts, i, bodies, findings);
  }
}

}  // namespace feed_slip

const Rule feed_slip_rule{"feed-slip", Level::look, "A feed is off by a factor: hardly the one that was meant.",
                          feed_slip::page, feed_slip::check};

}  // namespace provecut
