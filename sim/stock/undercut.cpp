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
constexpr float level_mm = 1e-3F;
constexpr std::size_t max_segments = 250;  // of one sample; the thinnest goes first
constexpr std::size_t many_cells = 1'000'000;

using Samples = std::array<std::vector<DexelSegment>, samples_per_cell>;

struct Rows {
  int begin, end;
};

// A wall that the kernel left in a cell is known by the mean alone: it is put back across the way that the heights of
// the cells around fall.
void spreadHeights(const DexelField& f, const std::vector<float>& height, float mean, int x, int y, Rows rows,
                   std::array<float, samples_per_cell>& out) {
  const Cell c = f.index(x, y);
  const float own = height[c];
  out.fill(own);
  if (std::abs(mean - own) <= no_material_mm) return;
  const auto beside = [&](int nx, int ny) {
    return f.inside(nx, ny) && ny >= rows.begin && ny < rows.end ? height[f.index(nx, ny)] : own;
  };
  const float west = beside(x - 1, y), east = beside(x + 1, y), south = beside(x, y - 1), north = beside(x, y + 1);
  const float high = std::max({own, west, east, south, north, mean}),
              low = std::min({own, west, east, south, north, mean});
  const Vec2 uphill{east - west, north - south};
  std::array<std::size_t, samples_per_cell> order;
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto up = [&](std::size_t k) { return dot(sampleOffset(k, f.undercut.mirrored), uphill); };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return up(a) > up(b); });
  // In heights of the wall; the centre's is known.
  const float wall = std::max(high - low, 1e-9F);
  float left = (mean - low) / wall * samples_per_cell - (own - low) / wall;
  for (const std::size_t k : order) {
    if (k == 0) continue;
    out[k] = low + std::clamp(left, 0.0F, 1.0F) * (high - low);
    left -= 1;
  }
}

void readCell(const DexelField& f, int x, int y, Rows rows, Samples& samples) {
  const Cell c = f.index(x, y);
  for (auto& s : samples) s.clear();
  if (f.undercut.holds(c)) {
    const UndercutCell& cell = f.undercut.at(c, y);
    auto segment = cell.segments.begin();
    for (std::size_t k = 0; k < samples_per_cell; ++k) {
      samples[k].assign(segment, segment + cell.counts[k]);
      segment += cell.counts[k];
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

// True where all samples of the cell are as high as they are read: the kernel knows the heights at the centre alone, so
// on its slopes and walls the others are a guess.
bool samplesKnown(const DexelField& f, int x, int y, Rows rows) {
  const Cell c = f.index(x, y);
  if (f.undercut.holds(c)) return true;
  if (std::abs(f.top_mean[c] - f.top[c]) > level_mm || std::abs(f.floor_mean[c] - f.floor[c]) > level_mm) return false;
  const auto asHigh = [&](int nx, int ny) {
    if (!f.inside(nx, ny) || ny < rows.begin || ny >= rows.end) return true;
    const Cell n = f.index(nx, ny);
    return std::abs(f.top[n] - f.top[c]) <= level_mm && std::abs(f.floor[n] - f.floor[c]) <= level_mm;
  };
  return asHigh(x - 1, y) && asHigh(x + 1, y) && asHigh(x, y - 1) && asHigh(x, y + 1);
}

float solidMean(const Samples& samples) {
  double sum = 0;
  for (const auto& s : samples) {
    for (const DexelSegment& segment : s) sum += segment.high - segment.low;
  }
  return static_cast<float>(sum / samples_per_cell);
}

// One segment from one floor to one level all over, or nothing.
bool isPlain(const Samples& samples) {
  const std::size_t segments = samples[0].size();
  if (segments > 1) return false;
  return std::all_of(samples.begin(), samples.end(), [&](const auto& s) {
    return s.size() == segments &&
           (segments == 0 || (s[0].low == samples[0][0].low && std::abs(s[0].high - samples[0][0].high) <= level_mm));
  });
}

void writeCell(DexelField& f, int x, int y, const Samples& samples) {
  const Cell c = f.index(x, y);
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
  UndercutCell& cell = held ? f.undercut.rows[y][f.undercut.slot[c]] : f.undercut.add(c, x, y);
  cell.segments.clear();
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    cell.counts[k] = static_cast<std::uint8_t>(samples[k].size());
    cell.segments.insert(cell.segments.end(), samples[k].begin(), samples[k].end());
  }
}

// Takes [low, high] out of the segments.
bool take(std::vector<DexelSegment>& segments, HeightRange range) {
  const float low = static_cast<float>(range.low), high = static_cast<float>(range.high);
  bool any = false;
  for (std::size_t i = segments.size(); i-- > 0;) {
    const DexelSegment s = segments[i];
    if (high <= s.low || low >= s.high) continue;
    any = true;
    const auto place = segments.erase(segments.begin() + i);
    const auto above = s.high - high > no_material_mm ? segments.insert(place, {high, s.high}) : place;
    if (low - s.low > no_material_mm) segments.insert(above, {s.low, low});
  }
  while (segments.size() > max_segments) {
    segments.erase(std::min_element(segments.begin(), segments.end(),
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

// Cells in one direction of the raster up to a place, within [low, high].
int cellsUpTo(double mm, double cell_mm, int low, int high) {
  return static_cast<int>(std::clamp<double>(std::floor(mm / cell_mm), low, high));
}

// A sweep on its way through the cells, the cutter taken piece by piece.
struct PieceCut {
  DexelField& field;
  const Cutter& cutter;
  const Sweep& sweep;
  SweepLine line;
  Rows rows;
  bool watch_overhang = false;
  SweepCut cut;
  // Of the cell at work.
  Samples samples;
  std::vector<const BodyPiece*> near;
  std::vector<DexelSegment> before;  // of the sample at work
};

// The pieces that may reach the material of the cell at work: a form may have a hundred of them.
void chooseNear(PieceCut& c, SetupPoint2 centre) {
  float low = std::numeric_limits<float>::infinity(), high = -low;
  for (const auto& s : c.samples) {
    if (s.empty()) continue;
    low = std::min(low, s.front().low);
    high = std::max(high, s.back().high);
  }
  c.near.clear();
  const double nearest = seen(c.line, centre).distance - std::hypot(c.field.cell_x_mm, c.field.cell_y_mm) / 2;
  for (const BodyPiece& piece : c.cutter.pieces) {
    const bool beside = std::max(piece.r0, piece.r1) < nearest;
    const bool above = std::min(c.line.a_tip, c.line.b_tip) + piece.z0 >= high;
    const bool below = std::max(c.line.a_tip, c.line.b_tip) + piece.z1 <= low;
    if (!beside && !above && !below) c.near.push_back(&piece);
  }
}

double tipAt(const SweepLine& sweep, const SeenLine& line) {
  if (sweep.length_mm == 0) return std::min(sweep.a_tip, sweep.b_tip);
  return sweep.a_tip + (sweep.b_tip - sweep.a_tip) * std::clamp(line.way / sweep.length_mm, 0.0, 1.0);
}

// What the cutter met on a line.
struct Met {
  double taken = 0, hanging = 0;  // hanging: above the lowest segment
  double high = 0, low = std::numeric_limits<double>::infinity();
  bool goes_on_below = false;
};

Met metOn(const PieceCut& c, const SeenLine& guarded) {
  Met m;
  for (const BodyPiece* piece : c.near) {
    const auto range = takenFrom(c.line, guarded, *piece);
    if (!range) continue;
    for (std::size_t i = 0; i < c.before.size(); ++i) {
      const double from = std::max<double>(range->low, c.before[i].low),
                   to = std::min<double>(range->high, c.before[i].high);
      if (to <= from) continue;
      m.taken += to - from;
      if (i > 0) m.hanging += to - from;
      m.high = std::max(m.high, to);
      if (from < m.low) {
        m.low = from;
        m.goes_on_below = from > c.before[i].low + least_depth_mm;
      }
    }
  }
  // Pieces of a sweep up or down overlap: no more is gone than stood there.
  m.taken = std::min(m.taken, m.high - std::min(m.low, m.high));
  return m;
}

// Adds what the cutter met on a line at p with the segments `before`.
void measure(PieceCut& c, const SeenLine& line, SetupPoint2 p) {
  Met m = metOn(c, fartherOff(line, c.line));
  if (m.taken <= least_depth_mm) return;
  SweepCut& cut = c.cut;
  cut.bite_mm = std::max(cut.bite_mm, static_cast<float>(m.taken));
  if (m.goes_on_below) m.low = std::min(m.low, tipAt(c.line, line));
  cut.axial_depth_mm = std::max(cut.axial_depth_mm, static_cast<float>(m.high - m.low));
  if (!c.watch_overhang) return;
  // What stood over the cutter where it began to rise, and what hung over a hollow where it sank to.
  const double inner = c.cutter.body.cutter_radius_mm - rim_guard_mm;
  const bool rises = c.sweep.b_tip > c.sweep.a_tip, sinks = c.sweep.b_tip < c.sweep.a_tip;
  const bool over_start = rises && length(p - SetupPoint2{c.sweep.ax, c.sweep.ay}) <= inner;
  const bool over_end = sinks && length(p - SetupPoint2{c.sweep.bx, c.sweep.by}) <= inner;
  if (over_start) cut.broken_mm = std::max(cut.broken_mm, static_cast<float>(m.taken));
  if (over_end) cut.broken_mm = std::max(cut.broken_mm, static_cast<float>(std::min(m.hanging, m.taken)));
}

void cutCell(PieceCut& c, int x, int y, SetupPoint2 centre) {
  DexelField& f = c.field;
  readCell(f, x, y, c.rows, c.samples);
  chooseNear(c, centre);
  if (c.near.empty()) return;
  bool any = false;
  const bool known = samplesKnown(f, x, y, c.rows);
  for (std::size_t k = 0; k < samples_per_cell; ++k) {
    if (c.samples[k].empty()) continue;
    const Vec2 o = sampleOffset(k, f.undercut.mirrored);
    const SetupPoint2 p{centre.x + o.x * f.cell_x_mm, centre.y + o.y * f.cell_y_mm};
    const SeenLine line = seen(c.line, p);
    if (line.distance > c.cutter.body.cutter_radius_mm) continue;
    c.before = c.samples[k];
    bool taken = false;
    for (const BodyPiece* piece : c.near) {
      if (const auto range = takenFrom(c.line, line, *piece)) taken = take(c.samples[k], *range) || taken;
    }
    if (!taken) continue;
    any = true;
    if (known || k == 0) measure(c, line, p);
  }
  if (!any) return;
  const Cell cell = f.index(x, y);
  const double was = f.top_mean[cell] - f.floor_mean[cell];
  writeCell(f, x, y, c.samples);
  // A wall known by its mean alone may have been put back a little too thick.
  f.top_mean[cell] = std::min(f.top_mean[cell], f.floor_mean[cell] + static_cast<float>(was));
  c.cut.removed_mm += was - double{f.top_mean[cell] - f.floor_mean[cell]};
}

// Which cells: all in the way, or those alone that are undercut already.
void cutCells(PieceCut& c, bool only_undercut) {
  const DexelField& f = c.field;
  const Sweep& sweep = c.sweep;
  const double reach = c.cutter.body.cutter_radius_mm, rx = reach + f.cell_x_mm, ry = reach + f.cell_y_mm;
  const int y0 = cellsUpTo(std::min(sweep.ay, sweep.by) - ry, f.cell_y_mm, c.rows.begin, c.rows.end);
  const int y1 = cellsUpTo(std::max(sweep.ay, sweep.by) + ry, f.cell_y_mm, c.rows.begin, c.rows.end);
  const int x0 = cellsUpTo(std::min(sweep.ax, sweep.bx) - rx, f.cell_x_mm, 0, f.nx);
  const int x1 = cellsUpTo(std::max(sweep.ax, sweep.bx) + rx, f.cell_x_mm, 0, f.nx);
  const double near = reach + std::hypot(f.cell_x_mm, f.cell_y_mm) / 2;
  const float lowest = std::min(sweep.a_tip, sweep.b_tip);
  for (int y = y0; y < y1; ++y) {
    if (only_undercut && f.undercut.rows[y].empty()) continue;
    for (int x = x0; x < x1; ++x) {
      const Cell cell = f.index(x, y);
      if (!f.undercut.holds(cell) && (only_undercut || f.top[cell] <= lowest)) continue;
      const SetupPoint2 centre = f.centre(x, y);
      if (seen(c.line, centre).distance <= near) cutCell(c, x, y, centre);
    }
  }
}

// Undercut cells in the way of a sweep, kept from the kernel: to it they look as if nothing could be taken.
class Hidden {
 public:
  Hidden(DexelField& field, const Sweep& sweep, double reach, int row_begin, int row_end) : field_(field) {
    const double cx = field.cell_x_mm, cy = field.cell_y_mm;
    const int x0 = cellsUpTo(std::min(sweep.ax, sweep.bx) - reach - cx, cx, 0, field.nx);
    const int x1 = cellsUpTo(std::max(sweep.ax, sweep.bx) + reach + 2 * cx, cx, 0, field.nx);
    const int y0 = std::max(row_begin, cellsUpTo(std::min(sweep.ay, sweep.by) - reach - cy, cy, 0, field.ny));
    const int y1 = std::min(row_end, cellsUpTo(std::max(sweep.ay, sweep.by) + reach + 2 * cy, cy, 0, field.ny));
    for (int y = y0; y < y1; ++y) {
      if (field.undercut.rows[y].empty()) continue;
      // Whole groups of lanes: the kernel works in those.
      const int from = x0 / DexelField::lanes * DexelField::lanes, to = std::min(field.nx, x1 + DexelField::lanes);
      for (int x = from; x < to; ++x) {
        const Cell c = field.index(x, y);
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
    Cell cell;
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
    PieceCut pieces{field, cutter, sweep, SweepLine(sweep), {row_begin, row_end}, watch_overhang, {}, {}, {}, {}};
    cutCells(pieces, only_undercut);
    return pieces.cut;
  };
  if (by_pieces) return cutPieces(false, cutter.undercut || hangs);
  if (field.undercut.slot.empty()) return cutRows(field, cutter.shape, sweep, row_begin, row_end);
  SweepCut cut;
  bool met = false;
  {
    const Hidden hidden(field, sweep, cutter.shape.radius, row_begin, row_end);
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
      const Cell c = field.index(x, y);
      if (!field.undercut.holds(c)) continue;
      const UndercutCell& cell = field.undercut.at(c, y);
      const bool overhang = std::any_of(cell.counts.begin(), cell.counts.end(), [](std::uint8_t n) { return n > 1; });
      const bool one_floor = std::all_of(cell.segments.begin(), cell.segments.end(),
                                         [&](DexelSegment s) { return s.low == field.floor[c]; });
      if (!overhang && one_floor) field.undercut.remove(c, y, field.index(0, y));
    }
  }
}

}  // namespace provecut::cutting
