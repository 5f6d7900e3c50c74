#include "sim/parts.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>
#include <optional>

#include "sim/holding.h"
#include "sim/setup_frame.h"
#include "sim/sweep.h"
#include "sim/thin_floor.h"
#include "sim/undercut.h"

namespace provecut {

namespace {

constexpr double least_layer_mm2 = 4;    // as small a piece is a crumb
constexpr std::size_t most_floors = 40;  // thin regions whose cause is looked for, the thinnest first

Vec3 cellCentre(const ColumnField& f, std::size_t c) {
  const auto stride = static_cast<std::size_t>(f.stride);
  return {f.centreX(static_cast<int>(c % stride)), f.centreY(static_cast<int>(c / stride)), shownHeight_mm(f.top[c])};
}

// The cell under a point of the stock frame, or none.
std::optional<std::size_t> cellAt(const ColumnField& f, const Job& job, const Setup& setup, Vec3 stock_point) {
  const Vec3 p = stockToLying(job.stock, setup, stock_point);
  const int x = static_cast<int>(std::floor(p.x / f.cell_x_mm)), y = static_cast<int>(std::floor(p.y / f.cell_y_mm));
  if (!f.inside(x, y)) return std::nullopt;
  return f.index(x, y);
}

Vec2 grainAsItLies(const Job& job, const Setup& setup) {
  if (job.stock.grain == Grain::none) return {};
  const Vec3 along = job.stock.grain == Grain::x ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  const Vec3 a = stockToLying(job.stock, setup, {0, 0, 0}), b = stockToLying(job.stock, setup, along);
  return {b.x - a.x, b.y - a.y};
}

// Whether the program can have parted anything: it opened a column or left no more than a skin there, or the blank was
// cut from below already.
bool mayHaveParted(const ColumnField& before, const ColumnField& after) {
  for (int y = 0; y < after.ny; ++y) {
    for (std::size_t c = after.index(0, y), end = after.index(after.nx, y); c < end; ++c) {
      if (after.undercut.holds(c) && after.undercut.at(c, y).atCentre().size() > 1) return true;
      if (after.top[c] >= before.top[c]) continue;
      if (after.thickness(c) <= skin_mm || after.floor[c] > no_material_mm) return true;
    }
  }
  return false;
}

CutStamps replay(const ProgramCut& cut) {
  CutStamps stamps = makeStamps(cut.before);
  ColumnField again = cut.before;
  cutProgram(again, cut.cutters, cut.job, cut.setup, cut.program.motions, &stamps);
  return stamps;
}

Box3 toWork(const Setup& setup, const Box3& lying) {
  Box3 b;
  if (lying.empty) return b;
  b.add(lyingToWork(setup, lying.low));
  b.add(lyingToWork(setup, lying.high));
  return b;
}

Piece describe(const ProgramCut& cut, const PieceShape& shape, const std::vector<int>& held) {
  Piece p;
  p.volume_mm3 = shape.volume_mm3;
  p.plan_area_mm2 = shape.plan_area_mm2;
  p.bounds = toWork(cut.setup, shape.box);
  p.at = lyingToWork(cut.setup, cellCentre(cut.after, shape.seed));
  for (const int h : held) {
    if (cut.job.hold_downs[static_cast<std::size_t>(h)].kind == HoldDownKind::tape) p.held_by_tape = true;
    p.held_by_hold_downs.push_back(h);
  }
  return p;
}

std::uint32_t lastCut(const ProgramRun& run) {
  for (std::size_t m = run.cuts.size(); m-- > 0;) {
    if (run.cuts[m].bite_mm > 0) return static_cast<std::uint32_t>(m);
  }
  return 0;
}

// The motion that made column `cell` as low as it is: the program is cut once more in that column alone.
std::uint32_t motionThatCut(const ProgramCut& cut, std::size_t cell) {
  const ColumnField& f = cut.after;
  const Vec3 centre = cellCentre(f, cell);
  ColumnField column;
  column.nx = column.ny = 1;
  column.stride = ColumnField::lanes;
  column.cell_x_mm = f.cell_x_mm;
  column.cell_y_mm = f.cell_y_mm;
  column.thickness_mm = f.thickness_mm;
  for (auto* heights : {&column.top, &column.floor, &column.top_mean, &column.floor_mean}) heights->assign(ColumnField::lanes, 0);
  column.top[0] = column.top_mean[0] = cut.before.top[cell];
  column.floor[0] = column.floor_mean[0] = f.floor[cell];
  column.undercut.prepare(ColumnField::lanes, 1);
  column.undercut.mirrored = f.undercut.mirrored;
  if (cut.before.undercut.holds(cell)) {
    UndercutCell& alone = column.undercut.add(0, 0, 0);
    alone = cut.before.undercut.at(cell, f.row(cell));
    alone.x = 0;
  }
  const double dx = centre.x - f.cell_x_mm / 2, dy = centre.y - f.cell_y_mm / 2;
  std::uint32_t last = 0;
  std::vector<Sweep> sweeps;
  for (std::size_t m = 0; m < cut.program.motions.size(); ++m) {
    const Motion& motion = cut.program.motions[m];
    const auto cutter = cut.cutters.find(motion.tool);
    if (!moves(motion) || cutter == cut.cutters.end()) continue;
    sweeps.clear();
    appendSweeps(motion, static_cast<std::uint32_t>(m), cut.setup, cut.job.machine, 0.05 * std::min(f.cell_x_mm, f.cell_y_mm), sweeps);
    for (Sweep s : sweeps) {
      s.ax -= dx;
      s.bx -= dx;
      s.ay -= dy;
      s.by -= dy;
      const float solid = solid_mm(column, 0);
      bool by_pieces = false;
      cutSweep(column, cutter->second, s, 0, 1, by_pieces);
      if (solid_mm(column, 0) < solid - no_material_mm) last = static_cast<std::uint32_t>(m);
    }
  }
  return last;
}

// New pieces of the program, the rest of the blank left out.
void observeFreed(const ProgramCut& cut, const Pieces& was, const Pieces& now, std::vector<ProgramRun>& runs, int at,
                  const CutStamps& stamps, PartTracker& tracker) {
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  const auto held = heldBy(cut.after, now, cut.job, cut.entry.hold_downs);
  std::map<std::int32_t, std::vector<std::int32_t>> children;  // by the label that they had before
  for (std::size_t k = 0; k < now.shapes.size(); ++k) {
    if (!now.shapes[k].crumb) children[was.label[now.shapes[k].seed]].push_back(static_cast<std::int32_t>(k + 1));
  }
  const std::vector<std::uint32_t> parted = partingMotions(cut.after, now, stamps);
  for (const auto& [parent, labels] : children) {
    if (labels.size() < 2) continue;
    const auto rest = *std::max_element(labels.begin(), labels.end(), [&](std::int32_t a, std::int32_t b) {
      const bool held_a = !held[static_cast<std::size_t>(a - 1)].empty(), held_b = !held[static_cast<std::size_t>(b - 1)].empty();
      if (held_a != held_b) return held_b;
      return now.shape(a).volume_mm3 < now.shape(b).volume_mm3;
    });
    for (const std::int32_t label : labels) {
      if (label == rest) continue;
      const auto k = static_cast<std::size_t>(label - 1);
      Piece p = describe(cut, now.shape(label), held[k]);
      p.move = parted[k] == std::numeric_limits<std::uint32_t>::max() ? lastCut(run) : parted[k];
      p.free = held[k].empty();
      run.pieces.push_back(std::move(p));
      if (!held[k].empty()) {
        tracker.held.push_back({lyingToStock(cut.job.stock, cut.setup, cellCentre(cut.after, now.shape(label).seed)), at, run.pieces.size() - 1});
      }
    }
  }
}

// The last motion that opened a column beside the part: from then on it hangs.
std::uint32_t leftHanging(const ProgramCut& cut, const HangingPart& part, const CutStamps& stamps, const ProgramRun& run) {
  std::uint32_t last = 0;
  const auto stride = static_cast<std::size_t>(cut.after.stride);
  for (const std::uint32_t c : part.cells) {
    const Vec3 p = cellCentre(cut.after, c);
    const int x = static_cast<int>(p.x / cut.after.cell_x_mm), y = static_cast<int>(p.y / cut.after.cell_y_mm);
    if (x > 0) last = std::max(last, stamps.through[c - 1]);
    if (x + 1 < cut.after.nx) last = std::max(last, stamps.through[c + 1]);
    if (y > 0) last = std::max(last, stamps.through[c - stride]);
    if (y + 1 < cut.after.ny) last = std::max(last, stamps.through[c + stride]);
  }
  return last > 0 ? last - 1 : lastCut(run);
}

void observeHanging(const ProgramCut& cut, const std::vector<HangingPart>& parts, std::vector<ProgramRun>& runs, int at,
                    const CutStamps& stamps, PartTracker& tracker) {
  ProgramRun& run = runs[static_cast<std::size_t>(at)];
  for (const HangingPart& part : parts) {
    // What holds the part itself, apart from its tabs.
    Pieces alone;
    alone.label.assign(cut.after.top.size(), 0);
    for (const std::uint32_t c : part.cells) alone.label[c] = 1;
    alone.shapes = {part.shape};
    Piece p = describe(cut, part.shape, heldBy(cut.after, alone, cut.job, cut.entry.hold_downs).front());
    p.move = leftHanging(cut, part, stamps, run);
    for (Tab tab : part.tabs) {
      tab.at = lyingToWork(cut.setup, tab.at);
      p.tabs.push_back(tab);
    }
    run.pieces.push_back(std::move(p));
    TrackedTabs tracked;
    tracked.run = at;
    tracked.piece = run.pieces.size() - 1;
    for (const std::uint32_t c : part.web_cells) tracked.cells.push_back(lyingToStock(cut.job.stock, cut.setup, cellCentre(cut.after, c)));
    tracker.tabs.push_back(std::move(tracked));
  }
}

void markCutTabs(const ProgramCut& cut, std::vector<ProgramRun>& runs, int at, PartTracker& tracker) {
  std::erase_if(tracker.tabs, [&](const TrackedTabs& t) {
    if (t.run == at) return false;
    const bool hit = std::any_of(t.cells.begin(), t.cells.end(), [&](Vec3 p) {
      const auto c = cellAt(cut.after, cut.job, cut.setup, p);
      return c && taken_mm(cut.before, cut.after, *c) > no_material_mm;
    });
    if (hit) runs[static_cast<std::size_t>(t.run)].pieces[t.piece].tabs_cut_later = true;
    return hit;
  });
}

// The first move of a program with through = false that opened a column, and how much it opened in all.
void observeOpened(const ProgramCut& cut, const CutStamps& stamps, ProgramRun& run) {
  OpenedHole hole;
  std::uint32_t first = 0;
  for (int y = 0; y < cut.after.ny; ++y) {
    for (std::size_t c = cut.after.index(0, y), end = cut.after.index(cut.after.nx, y); c < end; ++c) {
      if (stamps.through[c] == 0 || cut.before.thickness(c) <= no_material_mm) continue;
      hole.area_mm2 += cut.after.cellArea_mm2();
      if (first != 0 && stamps.through[c] >= first) continue;
      first = stamps.through[c];
      hole.at = lyingToWork(cut.setup, cellCentre(cut.after, c));
    }
  }
  if (first == 0) return;
  hole.move = first - 1;
  run.opened = hole;
}

}  // namespace

void observeParts(const ProgramCut& cut, bool other_side_zero_on_top, std::vector<ProgramRun>& runs, int at,
                  PartTracker& tracker) {
  markCutTabs(cut, runs, at, tracker);
  std::vector<HangingPart> hanging;
  if (mayHaveParted(cut.before, cut.after)) {
    const Pieces was = labelPieces(cut.before), now = labelPieces(cut.after);
    std::optional<std::vector<std::vector<int>>> held;
    hanging = hangingParts({cut.before, cut.after, now, grainAsItLies(cut.job, cut.setup)},
                           [&](const Pieces& apart, std::int32_t label) {
                             if (!held) held = heldBy(cut.after, apart, cut.job, cut.entry.hold_downs);
                             return !(*held)[static_cast<std::size_t>(label - 1)].empty();
                           });
    if (now.layered_mm2 > tracker.layered_mm2 + least_layer_mm2) {
      const Vec3 spot = lyingToWork(cut.setup, cellCentre(cut.after, now.layered_at));
      char place[64];
      std::snprintf(place, sizeof place, "X%.1f Y%.1f", spot.x, spot.y);
      tracker.not_checked.push_back(cut.entry.file + ": an undercut parts the blank into pieces that lie one over another, near " + place +
                                    ": what holds the one with less material there was not checked");
    }
    tracker.layered_mm2 = now.layered_mm2;
    const auto whole = [](const Pieces& p) {
      return std::count_if(p.shapes.begin(), p.shapes.end(), [](const PieceShape& s) { return !s.crumb; });
    };
    if (whole(now) > 1 || whole(was) > 1 || !hanging.empty() || !cut.entry.through) {
      const CutStamps stamps = replay(cut);
      if (!cut.entry.through) observeOpened(cut, stamps, runs[static_cast<std::size_t>(at)]);
      observeFreed(cut, was, now, runs, at, stamps, tracker);
      observeHanging(cut, hanging, runs, at, stamps, tracker);
    }
  }
  const std::vector<std::uint8_t> webs = hanging.empty() ? std::vector<std::uint8_t>{} : webMask(cut.after, hanging);
  // A zero on the top face moves with the thickness; one on the underside does not. Seen from this side, what was cut
  // from the other side with the zero on *its* top face keeps its distance from the underside.
  const FloorSearch search{cut.before, cut.after, webs, cut.job.limits.min_floor_mm, cut.job.stock.thickness_tolerance_mm,
                           cut.setup.zero_z_on_top ? 1 : 0, other_side_zero_on_top ? 0 : 1};
  std::vector<FoundFloor> floors = thinFloors(search);
  if (floors.size() > most_floors) floors.resize(most_floors);
  for (FoundFloor& f : floors) {
    f.floor.move = motionThatCut(cut, f.cell);
    f.floor.at = lyingToWork(cut.setup, f.floor.at);
    runs[static_cast<std::size_t>(at)].thin_floors.push_back(f.floor);
  }
}

void observeReleased(const Job& job, const Setup& setup, const ProgramEntry& entry, const ColumnField& field,
                     std::vector<ProgramRun>& runs, int at, PartTracker& tracker) {
  if (tracker.held.empty()) return;
  const Pieces pieces = labelPieces(field);
  const auto held = heldBy(field, pieces, job, entry.hold_downs);
  std::erase_if(tracker.held, [&](const HeldPiece& h) {
    const auto c = cellAt(field, job, setup, h.seed);
    if (!c || pieces.label[*c] == 0) return true;
    const auto label = pieces.label[*c];
    if (!held[static_cast<std::size_t>(label - 1)].empty()) return false;
    Piece p = runs[static_cast<std::size_t>(h.run)].pieces[h.piece];
    p.move = 0;
    p.held_by_hold_downs.clear();
    p.held_by_tape = false;
    p.free = true;
    p.volume_mm3 = pieces.shape(label).volume_mm3;
    p.bounds = toWork(setup, pieces.shape(label).box);
    p.at = lyingToWork(setup, cellCentre(field, *c));
    runs[static_cast<std::size_t>(at)].pieces.push_back(std::move(p));
    return true;
  });
}

}  // namespace provecut
