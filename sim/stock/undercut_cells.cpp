#include "sim/stock/undercut_cells.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace provecut::cutting {

namespace {

constexpr int points = static_cast<int>(samples_per_cell);

int centred(int i) {
  const int r = ((i % points) + points) % points;
  return r <= points / 2 ? r : r - points;
}

std::size_t sampleAt(Vec2 offset) {
  // The x alone names the sample.
  const int i = static_cast<int>(std::lround(offset.x * points));
  return static_cast<std::size_t>(((i % points) + points) % points);
}

}  // namespace

Vec2 sampleOffset(std::size_t sample, bool mirrored) {
  const int i = static_cast<int>(sample);
  const double y = static_cast<double>(centred(4 * i)) / points;
  return {static_cast<double>(centred(i)) / points, mirrored ? -y : y};
}

UndercutCell& UndercutCells::add(std::size_t cell, int x, int row) {
  auto& cells = rows[static_cast<std::size_t>(row)];
  slot[cell] = static_cast<std::int32_t>(cells.size());
  cells.emplace_back();
  cells.back().x = x;
  return cells.back();
}

void UndercutCells::remove(std::size_t cell, int row, std::size_t row_start) {
  auto& cells = rows[static_cast<std::size_t>(row)];
  const std::int32_t at = slot[cell];
  slot[row_start + static_cast<std::size_t>(cells.back().x)] = at;
  std::swap(cells[static_cast<std::size_t>(at)], cells.back());
  cells.pop_back();
  slot[cell] = -1;
}

UndercutCell turned(const UndercutCell& cell, bool mirrored, Vec2 across, Vec2 up, bool over, float thickness) {
  std::array<std::pair<std::size_t, std::size_t>, samples_per_cell> came_from;  // first run and number of runs
  std::size_t first = 0;
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    const Vec2 p = sampleOffset(k, mirrored);
    came_from[sampleAt(across * p.x + up * p.y)] = {first, cell.counts[k]};
    first += cell.counts[k];
  }
  UndercutCell out;
  out.runs.reserve(cell.runs.size());
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    const auto [from, count] = came_from[k];
    out.counts[k] = static_cast<std::uint8_t>(count);
    for (std::size_t i = 0; i < count; ++i) {
      const DexelSegment& r = over ? cell.runs[from + count - 1 - i] : cell.runs[from + i];
      out.runs.push_back(over ? DexelSegment{thickness - r.high, thickness - r.low} : r);
    }
  }
  return out;
}

}  // namespace provecut::cutting
