#include "sim/stock/undercut_cells.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace provecut::cutting {

namespace {

constexpr int points = samples_per_cell;

// 0 … points - 1.
int wrapped(int i) {
  return ((i % points) + points) % points;
}

int centred(int i) {
  const int r = wrapped(i);
  return r <= points / 2 ? r : r - points;
}

std::size_t sampleAt(Vec2 offset) {
  // The x alone names the sample.
  return wrapped(static_cast<int>(std::lround(offset.x * points)));
}

}  // namespace

Vec2 sampleOffset(std::size_t sample, bool mirrored) {
  const int i = static_cast<int>(sample);
  const double x = centred(i), y = centred(4 * i);
  return {x / points, (mirrored ? -y : y) / points};
}

UndercutCell& UndercutCells::add(std::size_t cell, int x, int row) {
  auto& cells = rows[row];
  slot[cell] = static_cast<std::int32_t>(cells.size());
  cells.emplace_back();
  cells.back().x = x;
  return cells.back();
}

void UndercutCells::remove(std::size_t cell, int row, std::size_t row_start) {
  auto& cells = rows[row];
  const std::int32_t at = slot[cell];
  slot[row_start + cells.back().x] = at;
  std::swap(cells[at], cells.back());
  cells.pop_back();
  slot[cell] = -1;
}

UndercutCell mapped(const UndercutCell& cell, bool mirrored, Vec2 across, Vec2 up, bool flipped, float thickness_mm) {
  std::array<std::pair<std::size_t, std::size_t>, samples_per_cell> came_from;  // first segment and how many
  std::size_t first = 0;
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    const Vec2 p = sampleOffset(k, mirrored);
    came_from[sampleAt(across * p.x + up * p.y)] = {first, cell.counts[k]};
    first += cell.counts[k];
  }
  UndercutCell out;
  out.segments.reserve(cell.segments.size());
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    const auto [from, count] = came_from[k];
    out.counts[k] = static_cast<std::uint8_t>(count);
    for (std::size_t i = 0; i < count; ++i) {
      const DexelSegment& s = cell.segments[flipped ? from + count - 1 - i : from + i];
      out.segments.push_back(flipped ? DexelSegment{thickness_mm - s.high, thickness_mm - s.low} : s);
    }
  }
  return out;
}

}  // namespace provecut::cutting
