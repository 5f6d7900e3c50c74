#include "report/rules/shared/chip_load_table.h"

#include <algorithm>
#include <array>
#include <limits>

#include "sim/tool/cutting_load.h"

namespace provecut {

namespace {

constexpr std::array<double, 4> diameters_mm{3.175, 6.35, 9.525, 12.7};

struct Row {
  std::array<double, 4> low, high;  // mm per tooth at those diameters
};

// One range for both kinds of shop. `high`: bit makers' charts for rigid machines, as sellers' pages print them. `low`:
// what desktop and bench routers are run at; common practice, no source (polycarbonate: the charts'). A second seller's
// chart lies in between; the two differ by a factor of 1.6 to 1.8 for one bit. Not in the charts, so the nearest that
// is: other boards as MDF, solid surface as acrylic, HDPE as polycarbonate (the softest plastic there), brass as
// aluminium.
std::optional<Row> row(Material material) {
  switch (material) {
    case Material::softwood:
    case Material::plywood:
      return Row{{0.05, 0.10, 0.13, 0.15}, {0.15, 0.33, 0.51, 0.58}};
    case Material::hardwood:
      return Row{{0.04, 0.08, 0.10, 0.13}, {0.13, 0.28, 0.46, 0.53}};
    case Material::mdf:
    case Material::board:
      return Row{{0.05, 0.10, 0.15, 0.18}, {0.18, 0.41, 0.58, 0.69}};
    case Material::acrylic:
    case Material::solid_surface:
      return Row{{0.05, 0.08, 0.12, 0.15}, {0.13, 0.25, 0.30, 0.38}};
    case Material::polycarbonate:
    case Material::hdpe:
      return Row{{0.08, 0.18, 0.25, 0.30}, {0.15, 0.25, 0.30, 0.41}};
    case Material::aluminium:
    case Material::brass:
      return Row{{0.02, 0.05, 0.05, 0.06}, {0.10, 0.18, 0.20, 0.25}};
    case Material::foam:
      break;
  }
  return std::nullopt;
}

// Surfacing bits run at less than other cutters of their diameter; those from 40 mm on, with inserts and a 1/2 in
// shank, take more than the small ones. Our own estimate.
std::optional<ChipRange> surfacingRange(Material material, double diameter_mm) {
  constexpr double large_mm = 40;
  const bool large = diameter_mm >= large_mm;
  switch (material) {
    case Material::hardwood:
      return ChipRange{0.05, large ? 0.25 : 0.15};
    case Material::softwood:
    case Material::plywood:
    case Material::mdf:
    case Material::board:
      return ChipRange{0.08, large ? 0.4 : 0.25};
    case Material::acrylic:
    case Material::polycarbonate:
    case Material::hdpe:
    case Material::solid_surface:
    case Material::aluminium:
    case Material::brass:
    case Material::foam:
      break;
  }
  return std::nullopt;
}

// Straight between the charts' diameters, in proportion below the smallest (our own estimate), level above the largest.
double at(const std::array<double, 4>& values, double diameter_mm) {
  if (diameter_mm <= diameters_mm.front()) return values.front() * diameter_mm / diameters_mm.front();
  for (std::size_t i = 1; i < diameters_mm.size(); ++i) {
    if (diameter_mm > diameters_mm[i]) continue;
    const double t = (diameter_mm - diameters_mm[i - 1]) / (diameters_mm[i] - diameters_mm[i - 1]);
    return values[i - 1] + t * (values[i] - values[i - 1]);
  }
  return values.back();
}

bool pointed(ToolShape shape) {
  return shape == ToolShape::vee || shape == ToolShape::ball || shape == ToolShape::taper_ball;
}

// Below it wood and plastics give dust and heat: several sellers' pages. Small cutters: in proportion, our own
// estimate.
constexpr double rubbing_floor_mm = 0.025;

double rubbingFloor(const Tool& tool, Material material, double diameter_mm) {
  if (pointed(tool.shape) || material == Material::aluminium || material == Material::brass) return 0;
  return rubbing_floor_mm * std::min(1.0, diameter_mm / diameters_mm.front());
}

// No chart covers drills. What rubs in a turn burns wood and melts plastic, whatever the edges: our own estimate.
constexpr double drill_rubs_mm_per_turn = 0.02;

std::optional<ChipRange> drillRange(const Tool& tool, const Stock& stock) {
  const bool burns = stock.material != Material::aluminium && stock.material != Material::foam;
  if (!stock.material_given || !burns) return std::nullopt;
  const double least = drill_rubs_mm_per_turn * std::min(1.0, tool.diameter_mm / diameters_mm.front());
  return ChipRange{least / std::max(1, tool.flutes), std::numeric_limits<double>::infinity()};
}

}  // namespace

std::optional<ChipRange> chipRange(const Tool& tool, const Stock& stock, double width_mm) {
  if (tool.chip_load_mm) return ChipRange{tool.chip_load_mm->x, tool.chip_load_mm->y};
  if (!stock.material_given || tool.shape == ToolShape::drill || tool.shape == ToolShape::form) return std::nullopt;
  // Down to half of what is usual there is nothing to say.
  if (tool.shape == ToolShape::surfacing) {
    std::optional<ChipRange> range = surfacingRange(stock.material, tool.diameter_mm);
    if (range) range->rubs_below_mm = std::max(range->rubs_below_mm / 2, rubbing_floor_mm);
    return range;
  }
  const std::optional<Row> r = row(stock.material);
  if (!r) return std::nullopt;
  // The charts begin at 1/8 in: a point is not blamed for the little that it cuts there.
  const double wide = pointed(tool.shape) ? std::max(width_mm, diameters_mm.front()) : width_mm;
  return ChipRange{std::max(at(r->low, width_mm) / 2, rubbingFloor(tool, stock.material, width_mm)), at(r->high, wide)};
}

std::optional<ChipRange> chipRange(const Tool& tool, const Stock& stock, const ToolBody& body, const MoveCut& cut) {
  if (tool.shape == ToolShape::drill && !tool.chip_load_mm) return drillRange(tool, stock);
  if (cut.section_mm2 <= 0 && tool.shape != ToolShape::drill) return std::nullopt;
  return chipRange(tool, stock, diameterAt_mm(body, cut.section_height_mm));
}

std::optional<ChipRange> plungeRange(const Tool& tool, const Stock& stock) {
  if (tool.shape == ToolShape::drill || pointed(tool.shape)) return std::nullopt;
  return chipRange(tool, stock, tool.diameter_mm);
}

double chipMargin(const Tool& tool) {
  return tool.chip_load_mm ? 1 : 1.1;
}

double deepShare(const Tool& tool, double depth_mm) {
  if (tool.chip_load_mm) return 1;
  // A quarter less at two diameters, half at three: several sellers' pages.
  return 1 - 0.25 * std::clamp(depth_mm / tool.diameter_mm - 1, 0.0, 2.0);
}

}  // namespace provecut
