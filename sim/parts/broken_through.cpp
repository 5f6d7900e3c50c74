#include "sim/parts/broken_through.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>
#include <utility>

#include "sim/pieces/pieces.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// A cut that ends closer to the underside goes through by itself.
constexpr float blind_mm = 0.05F;
// Of the smaller of the two cuts, so much opens where it lies within the other (our estimate).
constexpr double within_share = 0.85;
// A relief goes on deeper than where it opens by more than this, in more than such a share (our estimates).
constexpr float deeper_mm = 0.3F;
constexpr double least_level_share = 0.5;
// So many crossings of grooves are a pattern (our estimate).
constexpr std::size_t least_grille = 4;
// Dexels that are cut once more to see how deep this side alone goes, about.
constexpr double max_replays = 400;

// What this side's cut alone leaves of a dexel that opened: sampled, the same for a square of dexels.
class OwnFloors {
 public:
  OwnFloors(const ProgramCut& cut, cutting::DexelReplayer& replayer, std::size_t cells)
      : cut_(cut),
        replayer_(replayer),
        side_(std::max(1, static_cast<int>(std::ceil(std::sqrt(static_cast<double>(cells) / max_replays))))) {}

  float of(Cell c) {
    const auto [x, y] = cut_.after.place(c);
    const auto [known, is_new] = known_.try_emplace({x / side_, y / side_}, 0.0F);
    if (is_new) known->second = replayer_.replay(c, {0, cut_.before.top[c]}).top;
    return known->second;
  }

 private:
  const ProgramCut& cut_;
  cutting::DexelReplayer& replayer_;
  int side_;
  std::map<std::pair<int, int>, float> known_;
};

struct Opening {
  std::vector<Cell> cells;
  std::uint32_t move = 0;
  float own = 0, other = 0;                 // the floors of both cuts, medians
  float own_lowest = 0, other_deepest = 0;  // where either is deepest
};

float median(std::vector<float> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// Calls visit(cell) for what can be reached from some dexels through those that `belongs` is true of; `seen` is marked
// with `mark`.
template <class Belongs, class Visit>
void spread(const cutting::DexelField& f, std::vector<Cell> open, Mask& seen, std::uint8_t mark, const Belongs& belongs,
            const Visit& visit) {
  for (const Cell c : open) seen[c] |= mark;
  while (!open.empty()) {
    const Cell c = open.back();
    open.pop_back();
    visit(c);
    cutting::beside(f, c, [&](Cell n) {
      if ((seen[n] & mark) || !belongs(n)) return;
      seen[n] |= mark;
      open.push_back(n);
    });
  }
}

std::vector<Opening> openings(const ProgramCut& cut, cutting::DexelReplayer& replayer) {
  std::unordered_map<Cell, std::uint32_t> opened_by;
  for (const cutting::ContactLoss& loss : cut.contacts.list) {
    if ((loss.lost & cutting::lost_all) && cut.before.floor[loss.cell] > blind_mm)
      opened_by.try_emplace(loss.cell, loss.motion);
  }
  if (static_cast<double>(opened_by.size()) * cut.after.cellArea_mm2() < least_piece_mm2) return {};
  OwnFloors own(cut, replayer, opened_by.size());
  std::vector<Cell> cells;
  for (const auto& [c, by] : opened_by) cells.push_back(c);
  std::sort(cells.begin(), cells.end());
  Mask blind(cut.after.top.size(), 0), seen(cut.after.top.size(), 0);
  for (const Cell c : cells) blind[c] = own.of(c) > blind_mm;
  std::vector<Opening> found;
  for (const Cell c : cells) {
    if (!blind[c] || seen[c]) continue;
    Opening o;
    o.move = opened_by.at(c);
    std::vector<float> owns, others;
    spread(
        cut.after, {c}, seen, 1, [&](Cell n) { return blind[n] != 0; },
        [&](Cell n) {
          o.cells.push_back(n);
          o.move = std::min(o.move, opened_by.at(n));
          owns.push_back(own.of(n));
          others.push_back(cut.before.floor[n]);
        });
    if (static_cast<double>(o.cells.size()) * cut.after.cellArea_mm2() < least_piece_mm2) continue;
    o.own_lowest = *std::min_element(owns.begin(), owns.end());
    o.other_deepest = *std::max_element(others.begin(), others.end());
    o.own = median(std::move(owns));
    o.other = median(std::move(others));
    found.push_back(std::move(o));
  }
  return found;
}

// How one side's cut goes on beside the opening, at the height where they meet.
struct Beyond {
  double share = 0;           // of it that opens
  double level = 0;           // of what goes on: share that is no deeper than where it opens
  std::size_t stretches = 0;  // that it is in without the opening
};

template <class Belongs, class Level>
Beyond beyond(const cutting::DexelField& f, const Opening& o, const Belongs& belongs, const Level& level) {
  Mask seen(f.top.size(), 0);
  for (const Cell c : o.cells) seen[c] = 1;
  std::vector<Cell> rest;
  spread(f, o.cells, seen, 2, belongs, [&](Cell c) {
    if (!(seen[c] & 1)) rest.push_back(c);
  });
  Beyond b;
  b.share = static_cast<double>(o.cells.size()) / static_cast<double>(o.cells.size() + rest.size());
  if (rest.empty()) return b;
  b.level = static_cast<double>(std::count_if(rest.begin(), rest.end(), level)) / static_cast<double>(rest.size());
  for (const Cell c : rest) {
    if (seen[c] & 4) continue;
    std::size_t cells = 0;
    spread(
        f, {c}, seen, 4, [&](Cell n) { return seen[n] == 2; }, [&](Cell) { ++cells; });
    if (static_cast<double>(cells) * f.cellArea_mm2() >= least_piece_mm2) ++b.stretches;
  }
  return b;
}

FoundBreak told(const ProgramCut& cut, const Opening& o) {
  const cutting::DexelField& f = cut.after;
  SetupBox box;
  Vec2 sum{};
  for (const Cell c : o.cells) {
    const SetupPoint at = cellCentre(f, c);
    sum = sum + Vec2{at.x, at.y};
    box.add(SetupPoint{at.x - f.cell_x_mm / 2, at.y - f.cell_y_mm / 2, 0});
    box.add(SetupPoint{at.x + f.cell_x_mm / 2, at.y + f.cell_y_mm / 2, 0});
  }
  const Vec2 middle = sum * (1 / static_cast<double>(o.cells.size()));
  const auto off = [&](Cell c) {
    const SetupPoint at = cellCentre(f, c);
    return length(Vec2{at.x, at.y} - middle);
  };
  const Cell nearest =
      *std::min_element(o.cells.begin(), o.cells.end(), [&](Cell a, Cell b) { return off(a) < off(b); });
  const double meet = cutting::shownHeight_mm((o.own + o.other) / 2);
  FoundBreak b;
  b.move = o.move;
  b.at = atHeight(flat(cellCentre(f, nearest)), meet);
  b.size_mm = {box.high.x - box.low.x, box.high.y - box.low.y};
  b.area_mm2 = static_cast<double>(o.cells.size()) * f.cellArea_mm2();
  b.depth_mm = f.thickness_mm - cutting::shownHeight_mm(o.own);
  b.other_depth_mm = cutting::shownHeight_mm(o.other);
  return b;
}

}  // namespace

std::vector<FoundBreak> brokenThrough(const ProgramCut& cut, cutting::DexelReplayer& replayer) {
  const cutting::DexelField& f = cut.after;
  std::vector<FoundBreak> found, crossings;
  for (const Opening& o : openings(cut, replayer)) {
    const float meet = (o.own + o.other) / 2;
    const Beyond here = beyond(
        f, o, [&](Cell c) { return f.top[c] <= meet || f.thickness(c) <= cutting::no_material_mm; },
        [&](Cell c) { return f.top[c] >= o.own_lowest - deeper_mm; });
    const Beyond there = beyond(
        f, o, [&](Cell c) { return f.floor[c] >= meet; },
        [&](Cell c) { return f.floor[c] <= o.other_deepest + deeper_mm; });
    if (std::max(here.share, there.share) >= within_share) continue;
    if (std::min(here.level, there.level) < least_level_share) continue;
    const bool crosses = here.stretches > 1 && there.stretches > 1;
    (crosses ? crossings : found).push_back(told(cut, o));
  }
  if (crossings.size() < least_grille) found.insert(found.end(), crossings.begin(), crossings.end());
  std::stable_sort(found.begin(), found.end(),
                   [](const FoundBreak& a, const FoundBreak& b) { return a.move < b.move; });
  return found;
}

}  // namespace provecut::pieces
