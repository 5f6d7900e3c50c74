#include "report/rules/shared/chips.h"

#include <algorithm>

#include "report/facts/measures.h"
#include "report/rules/shared/chip_load_table.h"

namespace provecut {

namespace {

constexpr double chip_rounding = 1e-4;  // loads are kept in single precision, widths come from cells
constexpr double steep_plunge_deg = 45;

}  // namespace

std::optional<double> Chips::max_mm(const ToolMove& move, const MoveCut& cut, bool plunge) {
  const std::optional<ChipRange> range = plunge ? plungeRange(move.tool, facts_.job.stock)
                                                : chipRange(move.tool, facts_.job.stock, bodies_.of(move.tool), cut);
  if (!range) return std::nullopt;
  return plunge ? range->max_mm : range->max_mm * deepShare(move.tool, cut.section_height_mm);
}

std::optional<Chip> Chips::of(const ToolMove& move) {
  const MoveLoad load = loadOf(facts_, move.program, move.index);
  if (load.max_chip_thickness_mm <= 0) return std::nullopt;
  const MoveCut cut = cutOf(facts_, move.program, move.index);
  Chip chip;
  chip.plunge =
      cut.section_mm2 <= 0 && move.tool.shape != ToolShape::drill && descentDeg(move.motion) > steep_plunge_deg;
  const std::optional<double> max = max_mm(move, cut, chip.plunge);
  if (!max) return std::nullopt;
  chip.max_mm = *max;
  chip.thickness_mm = load.max_chip_thickness_mm;
  // What a plunge only scratches makes no thicker chips.
  if (chip.plunge) chip.thickness_mm = std::min(chip.thickness_mm, double{cut.bite_mm});
  chip.too_thick = chip.thickness_mm > chip.max_mm * chipMargin(move.tool) * (1 + chip_rounding);
  return chip;
}

bool slowSpindleMakes(const Facts& facts, const Motion& motion, const Chip& chip) {
  if (!machineKnown(facts) || double{motion.rpm} >= facts.job.machine.spindle_rpm_min) return false;
  return chip.thickness_mm * double{motion.rpm} <= chip.max_mm * facts.job.machine.spindle_rpm_min;
}

}  // namespace provecut
