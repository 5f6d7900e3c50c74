#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "parser/base/units.h"
#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace units_doubt {

// How far cuts may run beyond the stock before that looks wrong, and what a program of the right size would at least
// fill of it. Our own choice, no source: wide, so that only a factor like 25.4 meets it.
constexpr double margin_tools = 2, margin_share = 0.15;
constexpr double far_out_share = 2;
constexpr double min_share = 0.3;
constexpr double tools_across = 4;
constexpr double slow_feed_mm_min = 500;

constexpr std::string_view page = R"(## What it finds

A program whose cuts make sense only in the other unit. Read in inches they run far beyond the stock, and in mm they
would fit. Or read in mm they are a speck of a few tool diameters, and in inches they would fill the stock. Also a
program that sets no unit, in a job whose other programs are in inches. A job may mix inch and metric programs, each
with its own G20 or G21.

## Why it matters

In the wrong unit everything is 25.4 times too large or too small, the first plunge too.

## Example

Stock of 420 × 130 mm and

    G90
    G0 X1 Y1
    G1 Z-0.25 F60
    G1 X15.5 Y4

Read in mm the cut is 14.5 mm wide; in inches it fills the stock.

## What to do

Change the program's G20 or G21, or add one at its top if it has none. Or correct `stock.size` or `units` in the job
file.

## What `amount` is

The longer side of the cuts along X or Y in mm, as the program was read.

## Source

Geometry; the thresholds are our own choice.
)";

struct Extent {
  WorkBox box;  // of the cutting moves
  float highest_feed_mm_min = 0;
  double largest_tool_mm = 0;
};

Extent cuttingExtent(const Facts& facts, const Program& program) {
  Extent e;
  const Tool* tool = nullptr;
  for (const Motion& m : program.motions) {
    if (!feeds(m)) continue;
    if (m.flags & motion_height_unknown) continue;
    if (!(m.flags & motion_start_unknown)) e.box.add(m.start);
    e.box.add(m.end);
    if (isArc(m)) e.box.add(motionExtent(m));
    e.highest_feed_mm_min = std::max(e.highest_feed_mm_min, m.feed_mm_min);
    if (!tool || tool->number != m.tool) tool = findTool(facts.job, m.tool);
    if (tool) e.largest_tool_mm = std::max(e.largest_tool_mm, tool->diameter_mm);
  }
  return e;
}

bool within(double low, double high, double from, double to, double margin) {
  return low >= from - margin && high <= to + margin;
}

// True if the cuts, times `factor`, stay by the stock and above the bed.
bool fits(const Facts& facts, const Setup& setup, const Extent& extent, double factor) {
  const Vec3 size = stockSizeInSetup(facts.job.stock, setup);
  const auto scaled = [&](WorkPoint p) {
    constexpr WorkPoint zero;
    return workToSetup(setup, zero + (p - zero) * factor);
  };
  const SetupPoint low = scaled(extent.box.low), high = scaled(extent.box.high);
  const auto margin = [&](double side) { return margin_tools * extent.largest_tool_mm + margin_share * side; };
  return within(low.x, high.x, 0, size.x, margin(size.x)) && within(low.y, high.y, 0, size.y, margin(size.y)) &&
         low.z >= -setup.lift_mm - facts.job.spoilboard.thickness_mm;
}

// "15.85 × 3.35 mm", whatever unit the job is in: the unit is what is in doubt.
std::string spanText(double x_mm, double y_mm) {
  return fmt::format("{} × {} mm", shortNumber(x_mm), shortNumber(y_mm));
}

std::optional<std::uint32_t> firstCut(const Program& program) {
  for (std::uint32_t i = 0; i < program.motions.size(); ++i) {
    if (feeds(program.motions[i])) return i;
  }
  return std::nullopt;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const auto inch = std::find_if(facts.programs.begin(), facts.programs.end(),
                                 [](const ProgramFacts& p) { return p.program.modal.ever_inch; });
  const std::string_view in_job_file = facts.job.file.empty() ? "" : " in the job file";
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    const ModalUse& modal = p.program.modal;
    const auto first = firstCut(p.program);
    if (!first) continue;
    const Extent extent = cuttingExtent(facts, p.program);
    if (extent.box.empty) continue;
    const Vec3 size = stockSizeInSetup(facts.job.stock, *p.setup);
    const double x = extent.box.high.x - extent.box.low.x, y = extent.box.high.y - extent.box.low.y;
    const Motion& motion = p.program.motions[*first];

    std::string message, help;
    if (modal.ever_inch && !modal.ever_mm) {
      const bool far_out = x > far_out_share * size.x || y > far_out_share * size.y;
      if (far_out && !fits(facts, *p.setup, extent, 1) && fits(facts, *p.setup, extent, 1 / mm_per_inch)) {
        message =
            fmt::format("wrong units? Read in inches, the cut spans {}. Read in mm, it spans {} and fits the {} stock",
                        spanText(x, y), spanText(x / mm_per_inch, y / mm_per_inch), spanText(size.x, size.y));
        help = fmt::format("If the program is in mm, change G20 to G21. Otherwise correct the stock's size{}.",
                           in_job_file);
      }
    } else if (!modal.ever_inch && fits(facts, *p.setup, extent, mm_per_inch)) {
      const double filled = std::max(x / size.x, y / size.y) * mm_per_inch;
      const bool speck = std::max(x, y) <= tools_across * extent.largest_tool_mm;
      if (filled >= min_share && extent.highest_feed_mm_min <= static_cast<float>(slow_feed_mm_min) &&
          (speck || !modal.units_set)) {
        message =
            fmt::format("wrong units? Read in mm, the cut spans {}. Read in inches, it spans {} and fits the {} stock",
                        spanText(x, y), spanText(x * mm_per_inch, y * mm_per_inch), spanText(size.x, size.y));
        help = fmt::format("If the program is in inches, {}. Otherwise correct the stock's size{}.",
                           modal.units_set ? "change G21 to G20" : "add G20 at its top", in_job_file);
      }
    }
    std::optional<Related> other;
    if (message.empty() && !modal.units_set && inch != facts.programs.end() && !modal.ever_inch) {
      message = "this program sets no unit and was read in mm, but another one of this job sets inches";
      help = "Put G21 at the top of this program, or G20 if it is in inches.";
      other = Related{inch->entry ? inch->entry->file : std::string(), {}, "this program sets inches"};
    }
    if (message.empty()) continue;
    Finding f = placeFinding(facts, i, units_doubt_rule, placeOf(motion));
    f.at = motion.end;
    f.amount = std::max(x, y);
    f.unit = "mm";
    f.message = std::move(message);
    f.help = std::move(help);
    if (other) f.related.push_back(std::move(*other));
    findings.push_back(std::move(f));
  }
}

}  // namespace units_doubt

const Rule units_doubt_rule{"units-doubt", Level::look,
                            "The cuts make sense only in the other unit, or the programs disagree.", units_doubt::page,
                            units_doubt::check};

}  // namespace provecut
