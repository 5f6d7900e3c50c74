#include "sim/stock/undercut.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "sim/tool/swept_piece.h"

namespace provecut::cutting {

namespace {

// Lines nearer to a wall than this are cut, but say nothing of depth: two passes along one wall differ by rounding.
constexpr double rim_guard_mm = 0.02;
constexpr double least_depth_mm = 1e-3;
constexpr float level_mm = 1e-3F;
constexpr std::size_t max_runs = 250;  // of one sample; the thinnest goes first
constexpr std::size_t many_cells = 1'000'000;

using Samples = std::array<std::vector<DexelSegment>, samples_per_cell>;

struct Rows {
  int begin, end;
};

// A wall that the kernel left in a cell is known by the mean alone: it is put back across the way that the heights of
// the cells around fall.
void spreadHeights(const DexelField& f, const std::vector<float>& height, float mean, int x, int y, Rows rows,
                   std::array<float, samples_per_cell>& out) {
  const std::size_t c = f.index(x, y);
  const float own = height[c];
  out.fill(own);
  if (std::abs(mean - own) <= no_material_mm) return;
  const auto beside = [&](int nx, int ny) {
    return f.inside(nx, ny) && ny >= rows.begin && ny < rows.end ? height[f.index(nx, ny)] : own;
  };
  const float west = beside(x - 1, y), east = beside(x + 1, y), south = beside(x, y - 1), north = beside(x, y + 1);
  const float high = std::max({own, west, east, south, north, mean}),
              low = std::min({own, west, east, south, north, mean});
  const Vec2 uphill{static_cast<double>(east - west), static_cast<double>(north - south)};
  std::array<std::size_t, samples_per_cell> order;
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto up = [&](std::size_t k) { return dot(sampleOffset(k, f.undercut.mirrored), uphill); };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return up(a) > up(b); });
  // In heights of the wall; the centre's is known.
  const float wall = std::max(high - low, 1e-9F);
  float left = (mean - low) / wall * static_cast<float>(samples_per_cell) - (own - low) / wall;
  for (const std::size_t k : order) {
    if (k == 0) continue;
    out[k] = low + std::clamp(left, 0.0F, 1.0F) * (high - low);
    left -= 1;
  }
}

void readCell(const DexelField& f, int x, int y, Rows rows, Samples& samples) {
  const std::size_t c = f.index(x, y);
  for (auto& s : samples) s.clear();
  if (f.undercut.holds(c)) {
    const UndercutCell& cell = f.undercut.at(c, y);
    auto run = cell.runs.begin();
    for (std::size_t k = 0; k < samples_per_cell; ++k) {
      samples[k].assign(run, run + cell.counts[k]);
      run += cell.counts[k];
    }
    return;
  }
  if (f.top_mean[c] - f.floor_mean[c] <= no_material_mm && f.thickness(c) <= no_material_mm) return;
  std::array<float, samples_per_cell> top, floor;
  spreadHeights(f, f.top, f.top_mean[c], x, y, rows, top);
  spreadHeights(f, f.floor, f.floor_mean[c], x, y, rows, floor);
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    if (top[k] - floor[k] > no_material_mm) samples[k].push_back({floor[k], top[k]});
  }
}

float solidMean(const Samples& samples) {
  double sum = 0;
  for (const auto& s : samples) {
    for (const DexelSegment& r : s) sum += static_cast<double>(r.high - r.low);
  }
  return static_cast<float>(sum / static_cast<double>(samples_per_cell));
}

// One run from one floor to one level all over, or nothing.
bool isPlain(const Samples& samples) {
  const std::size_t runs = samples[0].size();
  if (runs > 1) return false;
  return std::all_of(samples.begin(), samples.end(), [&](const auto& s) {
    return s.size() == runs &&
           (runs == 0 || (s[0].low == samples[0][0].low && std::abs(s[0].high - samples[0][0].high) <= level_mm));
  });
}

void writeCell(DexelField& f, int x, int y, const Samples& samples) {
  const std::size_t c = f.index(x, y);
  if (samples[0].empty()) {
    f.top[c] = f.floor[c];
  } else {
    f.floor[c] = samples[0].front().low;
    f.top[c] = samples[0].back().high;
  }
  f.floor_mean[c] = f.floor[c];
  f.top_mean[c] = f.floor[c] + solidMean(samples);
  const bool held = f.undercut.holds(c);
  if (isPlain(samples)) {
    if (held) f.undercut.remove(c, y, f.index(0, y));
    return;
  }
  UndercutCell& cell = held ? f.undercut.rows[static_cast<std::size_t>(y)][static_cast<std::size_t>(f.undercut.slot[c])]
                            : f.undercut.add(c, x, y);
  cell.runs.clear();
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    cell.counts[k] = static_cast<std::uint8_t>(samples[k].size());
    cell.runs.insert(cell.runs.end(), samples[k].begin(), samples[k].end());
  }
}

// Takes [low, high] out of the runs.
bool take(std::vector<DexelSegment>& runs, HeightRange range) {
  const float low = static_cast<float>(range.low), high = static_cast<float>(range.high);
  bool any = false;
  for (std::size_t i = runs.size(); i-- > 0;) {
    const DexelSegment r = runs[i];
    if (high <= r.low || low >= r.high) continue;
    any = true;
    runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(i));
    if (r.high - high > no_material_mm) runs.insert(runs.begin() + static_cast<std::ptrdiff_t>(i), {high, r.high});
    if (low - r.low > no_material_mm) runs.insert(runs.begin() + static_cast<std::ptrdiff_t>(i), {r.low, low});
  }
  while (runs.size() > max_runs) {
    runs.erase(std::min_element(runs.begin(), runs.end(),
                                [](DexelSegment a, DexelSegment b) { return a.high - a.low < b.high - b.low; }));
  }
  return any;
}

// The line as seen from a cutter that is thinner by the guard.
SeenLine fartherOff(SeenLine line, const SweepLine& sweep) {
  line.aside += line.aside < 0 ? -rim_guard_mm : rim_guard_mm;
  if (line.way < 0) line.way -= rim_guard_mm;
  if (line.way > sweep.length_mm) line.way += rim_guard_mm;
  line.distance = std::hypot(line.way - std::clamp(line.way, 0.0, sweep.length_mm), line.aside);
  return line;
}

class PieceCut {
 public:
  PieceCut(DexelField& field, const Cutter& cutter, const Sweep& sweep, Rows rows)
      : field_(field),
        cutter_(cutter),
        sweep_(sweep),
        line_(sweep),
        rows_(rows),
        reach_(cutter.body.cutter_radius_mm),
        rises_(sweep.b_tip > sweep.a_tip),
        sinks_(sweep.b_tip < sweep.a_tip) {}

  SweepCut cut(bool only_undercut, bool watch_overhang) {
    watch_overhang_ = watch_overhang;
    const double rx = reach_ + field_.cell_x_mm, ry = reach_ + field_.cell_y_mm;
    const int y0 = at(std::min(sweep_.ay, sweep_.by) - ry, field_.cell_y_mm, rows_.begin, rows_.end);
    const int y1 = at(std::max(sweep_.ay, sweep_.by) + ry, field_.cell_y_mm, rows_.begin, rows_.end);
    const int x0 = at(std::min(sweep_.ax, sweep_.bx) - rx, field_.cell_x_mm, 0, field_.nx);
    const int x1 = at(std::max(sweep_.ax, sweep_.bx) + rx, field_.cell_x_mm, 0, field_.nx);
    const double near = reach_ + std::hypot(field_.cell_x_mm, field_.cell_y_mm) / 2;
    const float lowest = std::min(sweep_.a_tip, sweep_.b_tip);
    for (int y = y0; y < y1; ++y) {
      if (only_undercut && field_.undercut.rows[static_cast<std::size_t>(y)].empty()) continue;
      for (int x = x0; x < x1; ++x) {
        const std::size_t c = field_.index(x, y);
        const bool held = field_.undercut.holds(c);
        if (!held && (only_undercut || field_.top[c] <= lowest)) continue;
        const SetupPoint2 centre = field_.centre(x, y);
        if (seen(line_, centre).distance <= near) cutCell(x, y, centre);
      }
    }
    return cut_;
  }

 private:
  static int at(double mm, double cell, int low, int high) {
    return static_cast<int>(std::clamp(std::floor(mm / cell), static_cast<double>(low), static_cast<double>(high)));
  }

  void cutCell(int x, int y, SetupPoint2 centre) {
    readCell(field_, x, y, rows_, samples_);
    chooseNear(centre);
    if (near_.empty()) return;
    bool any = false;
    for (std::size_t k = 0; k < samples_per_cell; ++k) {
      if (samples_[k].empty()) continue;
      const Vec2 o = sampleOffset(k, field_.undercut.mirrored);
      const SetupPoint2 p{centre.x + o.x * field_.cell_x_mm, centre.y + o.y * field_.cell_y_mm};
      const SeenLine line = seen(line_, p);
      if (line.distance > reach_) continue;
      before_ = samples_[k];
      bool taken = false;
      for (const BodyPiece* piece : near_) {
        if (const auto range = takenFrom(line_, line, *piece)) taken = take(samples_[k], *range) || taken;
      }
      if (!taken) continue;
      any = true;
      measure(line, p);
    }
    if (!any) return;
    const std::size_t c = field_.index(x, y);
    const double was = static_cast<double>(field_.top_mean[c] - field_.floor_mean[c]);
    writeCell(field_, x, y, samples_);
    // A wall known by its mean alone may have been put back a little too thick.
    field_.top_mean[c] = std::min(field_.top_mean[c], field_.floor_mean[c] + static_cast<float>(was));
    cut_.removed_mm += was - static_cast<double>(field_.top_mean[c] - field_.floor_mean[c]);
  }

  // The pieces that may reach the material of the cell in `samples_`: a form may have a hundred of them.
  void chooseNear(SetupPoint2 centre) {
    float low = std::numeric_limits<float>::infinity(), high = -low;
    for (const auto& s : samples_) {
      if (s.empty()) continue;
      low = std::min(low, s.front().low);
      high = std::max(high, s.back().high);
    }
    near_.clear();
    const double nearest = seen(line_, centre).distance - std::hypot(field_.cell_x_mm, field_.cell_y_mm) / 2;
    for (const BodyPiece& piece : cutter_.pieces) {
      const bool beside = std::max(piece.r0, piece.r1) < nearest;
      const bool above = std::min(line_.a_tip, line_.b_tip) + piece.z0 >= static_cast<double>(high);
      const bool below = std::max(line_.a_tip, line_.b_tip) + piece.z1 <= static_cast<double>(low);
      if (!beside && !above && !below) near_.push_back(&piece);
    }
  }

  // What the cutter met on a line with the runs `before_`.
  void measure(const SeenLine& line, SetupPoint2 p) {
    const SeenLine guarded = fartherOff(line, line_);
    double taken = 0, hanging = 0, high = 0, low = std::numeric_limits<double>::infinity();
    bool goes_on_below = false;
    for (const BodyPiece* piece : near_) {
      const auto range = takenFrom(line_, guarded, *piece);
      if (!range) continue;
      for (std::size_t i = 0; i < before_.size(); ++i) {
        const double from = std::max(range->low, static_cast<double>(before_[i].low)),
                     to = std::min(range->high, static_cast<double>(before_[i].high));
        if (to <= from) continue;
        taken += to - from;
        if (i > 0) hanging += to - from;
        high = std::max(high, to);
        if (from < low) {
          low = from;
          goes_on_below = from > static_cast<double>(before_[i].low) + least_depth_mm;
        }
      }
    }
    // Pieces of a sweep up or down overlap: no more is gone than stood there.
    taken = std::min(taken, high - std::min(low, high));
    if (taken <= least_depth_mm) return;
    cut_.bite_mm = std::max(cut_.bite_mm, static_cast<float>(taken));
    if (goes_on_below) low = std::min(low, tipAt(line));
    cut_.axial_depth_mm = std::max(cut_.axial_depth_mm, static_cast<float>(high - low));
    if (!watch_overhang_) return;
    // What stood over the cutter where it began to rise, and what hung over a hollow where it sank to.
    const bool over_start = rises_ && length(p - SetupPoint2{sweep_.ax, sweep_.ay}) <= reach_ - rim_guard_mm;
    const bool over_end = sinks_ && length(p - SetupPoint2{sweep_.bx, sweep_.by}) <= reach_ - rim_guard_mm;
    if (over_start) cut_.broken_mm = std::max(cut_.broken_mm, static_cast<float>(taken));
    if (over_end) cut_.broken_mm = std::max(cut_.broken_mm, static_cast<float>(std::min(hanging, taken)));
  }

  double tipAt(const SeenLine& line) const {
    if (line_.length_mm == 0) return std::min(line_.a_tip, line_.b_tip);
    return line_.a_tip + (line_.b_tip - line_.a_tip) * std::clamp(line.way / line_.length_mm, 0.0, 1.0);
  }

  DexelField& field_;
  const Cutter& cutter_;
  const Sweep& sweep_;
  SweepLine line_;
  Rows rows_;
  double reach_;
  bool rises_, sinks_, watch_overhang_ = false;
  Samples samples_;
  std::vector<const BodyPiece*> near_;
  std::vector<DexelSegment> before_;
  SweepCut cut_;
};

// Undercut cells in the way of a sweep, kept from the kernel: to it they look as if nothing could be taken.
class Hidden {
 public:
  Hidden(DexelField& field, const Sweep& sweep, double reach, int row_begin, int row_end) : field_(field) {
    const auto cellAt = [](double mm, double cell, int n) {
      return static_cast<int>(std::clamp(std::floor(mm / cell), 0.0, static_cast<double>(n)));
    };
    const int x0 = cellAt(std::min(sweep.ax, sweep.bx) - reach - field.cell_x_mm, field.cell_x_mm, field.nx);
    const int x1 = cellAt(std::max(sweep.ax, sweep.bx) + reach + 2 * field.cell_x_mm, field.cell_x_mm, field.nx);
    const int y0 =
        std::max(row_begin, cellAt(std::min(sweep.ay, sweep.by) - reach - field.cell_y_mm, field.cell_y_mm, field.ny));
    const int y1 = std::min(
        row_end, cellAt(std::max(sweep.ay, sweep.by) + reach + 2 * field.cell_y_mm, field.cell_y_mm, field.ny));
    for (int y = y0; y < y1; ++y) {
      if (field.undercut.rows[static_cast<std::size_t>(y)].empty()) continue;
      // Whole groups of lanes: the kernel works in those.
      const int from = x0 / DexelField::lanes * DexelField::lanes, to = std::min(field.nx, x1 + DexelField::lanes);
      for (int x = from; x < to; ++x) {
        const std::size_t c = field.index(x, y);
        if (!field.undercut.holds(c)) continue;
        kept_.push_back({c, field.floor[c], field.top_mean[c]});
        field.floor[c] = field.top_mean[c] = field.top[c];
      }
    }
  }
  ~Hidden() {
    for (const Kept& k : kept_) {
      field_.floor[k.cell] = k.floor;
      field_.top_mean[k.cell] = k.top_mean;
    }
  }
  Hidden(const Hidden&) = delete;
  Hidden& operator=(const Hidden&) = delete;
  bool any() const { return !kept_.empty(); }

 private:
  struct Kept {
    std::size_t cell;
    float floor, top_mean;
  };
  DexelField& field_;
  std::vector<Kept> kept_;
};

void add(SweepCut& sum, const SweepCut& more) {
  sum.removed_mm += more.removed_mm;
  sum.axial_depth_mm = std::max(sum.axial_depth_mm, more.axial_depth_mm);
  sum.bite_mm = std::max(sum.bite_mm, more.bite_mm);
  sum.broken_mm = std::max(sum.broken_mm, more.broken_mm);
}

}  // namespace

bool mayUndercut(const Cutter& cutter) {
  return cutter.by_pieces || cutter.pieces_on_slopes || std::isfinite(cutter.neck_from);
}

SweepCut cutSweep(DexelField& field, const Cutter& cutter, const Sweep& sweep, int row_begin, int row_end,
                  bool& by_pieces) {
  const float lowest = std::min(sweep.a_tip, sweep.b_tip);
  const float stock_top = static_cast<float>(field.thickness_mm);
  by_pieces = false;
  if (lowest >= stock_top) return {};
  const bool hangs =
      lowest + cutter.neck_from < stock_top &&
      materialAbove(field, sweep, cutter.shape.radius, cutter.neck_from, row_begin, row_end) > no_material_mm;
  const bool slopes = sweep.a_tip != sweep.b_tip && (sweep.ax != sweep.bx || sweep.ay != sweep.by);
  by_pieces = cutter.by_pieces || hangs || (slopes && cutter.pieces_on_slopes);
  const auto cutPieces = [&](bool only_undercut, bool watch_overhang) {
    return PieceCut(field, cutter, sweep, {row_begin, row_end}).cut(only_undercut, watch_overhang);
  };
  if (by_pieces) return cutPieces(false, cutter.undercut || hangs);
  if (field.undercut.slot.empty()) return cutRows(field, cutter.shape, sweep, row_begin, row_end);
  SweepCut cut;
  bool met = false;
  {
    const Hidden hidden(field, sweep, static_cast<double>(cutter.shape.radius), row_begin, row_end);
    met = hidden.any();
    cut = cutRows(field, cutter.shape, sweep, row_begin, row_end);
  }
  if (met) add(cut, cutPieces(true, false));
  return cut;
}

void closePlainCells(DexelField& field) {
  std::size_t cells = 0;
  for (const auto& row : field.undercut.rows) cells += row.size();
  if (cells <= many_cells) return;
  for (int y = 0; y < field.ny; ++y) {
    for (int x = 0; x < field.nx; ++x) {
      const std::size_t c = field.index(x, y);
      if (!field.undercut.holds(c)) continue;
      const UndercutCell& cell = field.undercut.at(c, y);
      const bool overhang = std::any_of(cell.counts.begin(), cell.counts.end(), [](std::uint8_t n) { return n > 1; });
      const bool one_floor =
          std::all_of(cell.runs.begin(), cell.runs.end(), [&](DexelSegment r) { return r.low == field.floor[c]; });
      if (!overhang && one_floor) field.undercut.remove(c, y, field.index(0, y));
    }
  }
}

}  // namespace provecut::cutting
