// Cells of the stock that one segment from floor to top cannot describe: those under an overhang, and those
// that the wall of a form cutter goes through. Each is held as seventeen sample dexels of its own, exact in height.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "parser/base/geometry.h"

namespace provecut::cutting {

// Material on a dexel, without a gap.
struct DexelSegment {
  float low = 0, high = 0;  // mm above the underside of the stock in its setup
  bool operator==(const DexelSegment&) const = default;
};

// Seventeen points form a square lattice turned against the cell (17 = 4² + 1²): no two share an x or a y, so that a
// wall along an axis is placed to a seventeenth of the cell. The first is the centre.
inline constexpr std::size_t samples_per_cell = 17;

// Where a sample lies, in cells from the centre. A flip of the stock mirrors the lattice.
Vec2 sampleOffset(std::size_t sample, bool mirrored);

struct UndercutCell {
  std::int32_t x = 0;                                   // its dexel in the raster
  std::array<std::uint8_t, samples_per_cell> counts{};  // segments of each sample
  std::vector<DexelSegment> segments;                   // sample by sample, each from below

  std::span<const DexelSegment> atCentre() const { return {segments.data(), counts[0]}; }
  bool operator==(const UndercutCell&) const = default;
};

// Rows own their cells, so that bands of rows can be cut side by side.
struct UndercutCells {
  std::vector<std::int32_t> slot;  // per cell of the field: its place in its row, or -1; empty: no such cells
  std::vector<std::vector<UndercutCell>> rows;
  bool mirrored = false;

  void prepare(std::size_t cells, int ny) {
    if (!slot.empty()) return;
    slot.assign(cells, -1);
    rows.resize(ny);
  }
  bool holds(std::size_t cell) const { return !slot.empty() && slot[cell] >= 0; }
  const UndercutCell& at(std::size_t cell, int row) const { return rows[row][slot[cell]]; }
  UndercutCell& add(std::size_t cell, int x, int row);
  void remove(std::size_t cell, int row, std::size_t row_start);
};

// The samples of `cell` in their new places when the plan is mapped by (x, y) -> x * across + y * up, whole steps along
// the axes, and the stock of `thickness_mm` is turned upside down where `flipped` is true.
UndercutCell mapped(const UndercutCell& cell, bool mirrored, Vec2 across, Vec2 up, bool flipped, float thickness_mm);

}  // namespace provecut::cutting
