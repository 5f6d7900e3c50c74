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

A feed that looks like a slip.

- Far too slow: the chip load is a small part of what the bit needs to cut at all, or below 0.0012 mm, where no edge
  cuts; or the same tool runs eight times as fast elsewhere in the program, or goes down twice as fast as it then cuts;
  and the slow moves cost minutes. Examples: F25 for F2500, an F1 that nobody filled in, inches per minute read
  as millimetres. All slow feeds of a tool are one finding, and chip-thin says nothing of that tool.
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

Set the feed that the finding names: one that the program uses elsewhere and at which the bit cuts, or the same digits
with the point moved, as far as they fit the bit and the material. If the slow feed is meant, accept the finding.

## What `amount` is

The feed found in mm/min.

## Source

Chip load: Machinery's Handbook, 31st ed. Where a bit begins to rub: see chip-thin. An edge is rounded by some
thousandths of a millimetre and cuts nothing below about a third of that: textbooks, from memory. The limits are our own
estimates.
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

// "set F300 in place of F3 and F7200 in place of F72"
std::string setFeedsText(const Facts& facts, std::size_t program, const FeedSlip& slip) {
  std::vector<std::string> changes;
  for (const SlippedFeed& f : slip.feeds) {
    std::string from = feedWord(facts.programs[program].program, f.feed_mm_min),
                to = feedWord(facts.programs[program].program, *f.meant_mm_min);
    if (from.empty()) {
      from = quantityText(facts.job, Quantity::feed, f.feed_mm_min);
      to = quantityText(facts.job, Quantity::feed, *f.meant_mm_min);
    }
    changes.push_back(to + " in place of " + from);
  }
  return "set " + listText(changes);
}

std::vector<AdvisedChange> changesFor(const Facts& facts, std::size_t program, const FeedSlip& slip) {
  std::vector<AdvisedChange> changes;
  for (const SlippedFeed& f : slip.feeds) {
    AdvisedChange change{ChangeKind::feed, *f.meant_mm_min, {}, slip.tool, -1, {}};
    for (const Occurrence& o : slip.moves) {
      const Motion& m = facts.programs[program].program.motions[o.move];
      if (slip.feeds.size() > 1 && m.feed_mm_min == f.feed_mm_min) change.lines.push_back(m.line);
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

// All slower cuts of the tool.
AdvisedChange raisedTo(const Facts& facts, std::size_t program, int tool, double feed_mm_min) {
  AdvisedChange change{ChangeKind::feed, feed_mm_min, {}, tool, -1, {}};
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  for (std::size_t m = 0; m < motions.size(); ++m) {
    if (feeds(motions[m]) && motions[m].tool == tool && motions[m].feed_mm_min < feed_mm_min &&
        cutsMaterial(cutOf(facts, program, m)))
      change.lines.push_back(motions[m].line);
  }
  return change;
}

void addSlow(const Facts& facts, std::size_t program, const FeedSlip& slip, std::vector<Finding>& findings) {
  Finding f = toolFinding(facts, program, feed_slip_rule, slip.tool, slip.moves, Worst::smallest, Quantity::feed);
  std::vector<std::string> feeds, meant;
  double seconds = 0, meant_s = 0;
  for (const SlippedFeed& one : slip.feeds) {
    feeds.push_back(quantityText(facts.job, Quantity::feed, one.feed_mm_min));
    seconds += one.seconds;
    if (!one.meant_mm_min) continue;
    meant.push_back(quantityText(facts.job, Quantity::feed, *one.meant_mm_min));
    meant_s += one.seconds * double{one.feed_mm_min} / *one.meant_mm_min;
  }
  const double chip_mm = slip.feeds.back().chip_mm;  // of the fastest
  const std::string chip = chip_mm > 0 ? fmt::format(" ({}{} per tooth)", slip.feeds.size() > 1 ? "up to " : "",
                                                     quantityText(facts.job, Quantity::fine_length, chip_mm))
                                       : "";
  f.message = fmt::format("{} moves at only {}{} for {}", f.subject, listText(feeds), chip, durationText(seconds));
  if (meant.size() != feeds.size()) {
    f.help = "Correct the feed here.";
    findings.push_back(std::move(f));
    return;
  }
  std::vector<AdvisedChange> way = changesFor(facts, program, slip);
  bool everywhere = false;
  if (!provenByLoads(facts, f, way, &chip_thin_rule) && slip.feeds.front().least) {
    way = {raisedTo(facts, program, slip.tool, *slip.feeds.front().meant_mm_min)};
    everywhere = true;
  }
  if (!provenByLoads(facts, f, way, &chip_thin_rule)) {
    f.help = "Correct the feed here.";
    findings.push_back(std::move(f));
    return;
  }
  f.ways.push_back(way);
  f.message += fmt::format("; at {} that takes {}", listText(meant), durationText(meant_s));
  const bool elsewhere = slip.feeds.front().used_elsewhere;
  const std::string_view why = everywhere                 ? " or more for all cuts of this bit: below it the bit rubs"
                               : slip.feeds.front().least ? " or more here: below it the bit rubs"
                               : elsewhere                ? " here: this program uses it elsewhere"
                                                          : " here, if you meant that";
  f.help = slip.feeds.size() > 1
               ? sentence(setFeedsText(facts, program, slip) + ", if you meant that")
               : sentence(setFeedText(facts, program, *slip.feeds.front().meant_mm_min) + std::string(why));
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

const Rule feed_slip_rule{"feed-slip", Level::look,
                          "A feed looks like a slip: far too slow, or far too fast for a tiny tip.", feed_slip::page,
                          feed_slip::check};

}  // namespace provecut
