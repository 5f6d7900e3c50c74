#include "sim/parts/sliver.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "sim/parts/standing.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;
using cutting::CellPlace;
using cutting::DexelField;

constexpr double shortest_wall_mm = 3, along_slack_mm = 0.25;
constexpr std::size_t max_slivers = 40;
constexpr std::size_t max_places = 200;  // looked at closely, those of most cells first
constexpr std::size_t max_spots = 3;     // of each
constexpr double between_spots_mm = 3;
constexpr double close_up_reach_mm = 3.2;  // a wall that ends within it may be as long as shortest_wall_mm
constexpr double close_up_cell_mm = 0.02;
constexpr float wall_height = static_cast<float>(sliver_height_mm);
constexpr float post_height = static_cast<float>(least_post_height_mm);
// What stands between the centres of cells lifts the mean height of its cell by this at least.
constexpr float hidden_lift_mm = 0.25F;
// A post's side drops by least_post_height_mm within this: one less steep grows thicker than the post may be.
constexpr double post_side_mm = 0.25;

// A cell where a sliver may stand.
struct Suspect {
  int x = 0, y = 0;
  float width_mm = 0;  // about
};

// What the scan needs of a field.
struct Scan {
  const DexelField& before;
  const DexelField& after;
  int wall_cells, post_cells;  // of the widest of each, askew
  int post_side;               // cells within which a post's side drops

  explicit Scan(const DexelField& was, const DexelField& is) : before(was), after(is) {
    const double coarse = std::max(is.cell_x_mm, is.cell_y_mm), fine = std::min(is.cell_x_mm, is.cell_y_mm);
    wall_cells = static_cast<int>(sliver_width_mm / coarse) + 1;
    post_cells = static_cast<int>(std::numbers::sqrt2 * post_width_mm / fine) + 2;
    post_side = std::max(1, static_cast<int>(std::lround(post_side_mm / coarse)));
  }
};

// A straight line of cells. There is nothing beyond its ends, at the edges of the stock.
struct Line {
  const DexelField& f;
  Cell origin;
  int step, n;
  Cell at(int i) const { return origin + static_cast<Cell>(i * step); }
  float top(int i) const { return i < 0 || i >= n ? -1e30F : f.top[at(i)]; }
  // Share of the cell's width that the wall takes, which is `full` high and stands on `foot`.
  double share(int i, float foot, float full) const {
    if (i < 0 || i >= n) return 0;
    return double{std::clamp((f.top_mean[at(i)] - foot) / (full - foot), 0.0F, 1.0F)};
  }
};

Line rowOf(const DexelField& f, int y) {
  return {f, f.index(0, y), 1, f.nx};
}
Line columnOf(const DexelField& f, int x) {
  return {f, f.index(x, 0), f.stride, f.ny};
}

// The cells to both sides of cell i, at most `reach` away, that are lower than the level.
struct Ends {
  int left = 0, right = 0;
};

std::optional<Ends> endsBelow(const Line& line, int i, float level, int reach) {
  Ends e{i - 1, i + 1};
  while (i - e.left <= reach && line.top(e.left) > level) --e.left;
  if (line.top(e.left) > level) return {};
  while (e.right - e.left <= reach + 1 && line.top(e.right) > level) ++e.right;
  if (line.top(e.right) > level) return {};
  return e;
}

// About how wide the material is, sliver_height_mm below the top of cell i, along the line; infinite where much wider
// than a sliver.
double widthAt(const Line& line, int i, double cell_mm) {
  const float top = line.top(i), level = top - wall_height + cutting::no_material_mm;
  // The wall's faces may fall within cells: two more than fit.
  const auto ends = endsBelow(line, i, level, static_cast<int>(2 * sliver_width_mm / cell_mm) + 2);
  if (!ends) return std::numeric_limits<double>::infinity();
  float foot_left = line.top(ends->left), foot_right = line.top(ends->right);
  // A foot lies where the wall ends, not half way down a slope.
  for (int k = 1; k <= 2; ++k) {
    foot_left = std::min(foot_left, line.top(ends->left - k));
    foot_right = std::min(foot_right, line.top(ends->right + k));
  }
  foot_left = std::max(foot_left, 0.0F);
  foot_right = std::max(foot_right, 0.0F);
  double width = 0;
  for (int k = ends->left; k <= ends->right; ++k)
    width += line.share(k, k < i ? foot_left : k > i ? foot_right : std::max(foot_left, foot_right), top);
  return width * cell_mm;
}

// Calls visit(cell) for the cells `distance` away to the four sides.
template <class Visit>
void onFourSides(const DexelField& f, int x, int y, int distance, const Visit& visit) {
  for (const auto& [dx, dy] :
       {std::pair{distance, 0}, std::pair{-distance, 0}, std::pair{0, distance}, std::pair{0, -distance}}) {
    if (f.inside(x + dx, y + dy)) visit(f.index(x + dx, y + dy));
  }
}

// True if the program made n lower than c by this height.
bool dropsTo(const Scan& scan, Cell c, Cell n, float height) {
  const DexelField& f = scan.after;
  return f.top[c] - f.top[n] >= height - cutting::no_material_mm &&
         scan.before.top[n] - f.top[n] > cutting::no_material_mm;
}

// A wall has a drop of its height within its own width on some side, made by this program.
std::optional<Suspect> wallAt(const Scan& scan, int x, int y) {
  const DexelField& f = scan.after;
  const Cell c = f.index(x, y);
  bool steep = false;
  for (const int distance : {1, scan.wall_cells})
    onFourSides(f, x, y, distance, [&](Cell n) { steep = steep || dropsTo(scan, c, n, wall_height); });
  if (!steep) return {};
  const double wx = widthAt(rowOf(f, y), x, f.cell_x_mm), wy = widthAt(columnOf(f, x), y, f.cell_y_mm);
  if (std::isinf(wx) && std::isinf(wy)) return {};
  // A straight wall that runs aslant is thinner than either way through it.
  const double width = std::isinf(wx) ? wy : std::isinf(wy) ? wx : wx * wy / std::hypot(wx, wy);
  if (width >= sliver_width_mm + std::max(f.cell_x_mm, f.cell_y_mm)) return {};
  return Suspect{x, y, static_cast<float>(width)};
}

// A post drops to all four sides. It is looked for from its right side and suspected in the middle of the row.
std::optional<Suspect> postAt(const Scan& scan, int x, int y) {
  const DexelField& f = scan.after;
  const Cell c = f.index(x, y);
  const bool right_side = x + scan.post_side >= f.nx
                              ? x + 1 == f.nx
                              : f.top[c] - f.top[c + 1] > cutting::least_depth_mm &&
                                    dropsTo(scan, c, c + static_cast<Cell>(scan.post_side), post_height);
  if (!right_side) return {};
  const auto across = endsBelow(rowOf(f, y), x, f.top[c] - post_height + cutting::no_material_mm, scan.post_cells);
  if (!across) return {};
  const int middle = (across->left + across->right) / 2;
  const float top = f.top[f.index(middle, y)];
  const auto along = endsBelow(columnOf(f, middle), y, top - post_height + cutting::no_material_mm, scan.post_cells);
  if (!along) return {};
  const double width =
      std::min((across->right - across->left - 1) * f.cell_x_mm, (along->right - along->left - 1) * f.cell_y_mm);
  return Suspect{middle, y, static_cast<float>(width)};
}

// What stands between the centres of cells: the mean height of its cell is higher than all centres about.
std::optional<Suspect> hiddenAt(const Scan& scan, int x, int y) {
  const DexelField& f = scan.after;
  const Cell c = f.index(x, y);
  const float lift = f.top_mean[c] - f.top[c];
  if (lift < hidden_lift_mm || scan.before.top[c] - f.top[c] <= cutting::no_material_mm || f.undercut.holds(c))
    return {};
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      if (f.inside(x + dx, y + dy) && f.top[f.index(x + dx, y + dy)] > f.top_mean[c]) return {};
    }
  }
  const float share = lift / (scan.before.top[c] - f.top[c]);
  return Suspect{x, y, share * static_cast<float>(std::max(f.cell_x_mm, f.cell_y_mm))};
}

// True if the program left all rows near enough to matter as they were.
bool untouched(const Scan& scan, int y) {
  const DexelField& f = scan.after;
  const int from = std::max(0, y - scan.wall_cells), to = std::min(f.ny - 1, y + scan.wall_cells);
  return std::equal(f.top.begin() + f.index(0, from), f.top.begin() + f.index(f.nx, to),
                    scan.before.top.begin() + scan.before.index(0, from));
}

std::vector<Suspect> suspects(const Scan& scan) {
  const DexelField& f = scan.after;
  std::vector<std::vector<Suspect>> by_row(f.ny);
  tbb::parallel_for(tbb::blocked_range<int>(0, f.ny), [&](const tbb::blocked_range<int>& rows) {
    for (int y = rows.begin(); y < rows.end(); ++y) {
      if (untouched(scan, y)) continue;
      for (int x = 0; x < f.nx; ++x) {
        const float thick = f.thickness(f.index(x, y));
        std::optional<Suspect> found;
        if (thick >= wall_height) found = wallAt(scan, x, y);
        if (!found && thick >= post_height) found = postAt(scan, x, y);
        if (!found) found = hiddenAt(scan, x, y);
        if (found) by_row[y].push_back(*found);
      }
    }
  });
  std::vector<Suspect> all;
  for (const auto& row : by_row) all.insert(all.end(), row.begin(), row.end());
  return all;
}

// Suspects with at most two cells between them together; those of most cells first.
std::vector<std::vector<Suspect>> places(const DexelField& f, const std::vector<Suspect>& all) {
  std::vector<std::vector<Suspect>> out;
  if (all.empty()) return out;
  std::vector<std::uint32_t> at(f.top.size(), 0);  // index + 1
  for (std::size_t k = 0; k < all.size(); ++k) at[f.index(all[k].x, all[k].y)] = static_cast<std::uint32_t>(k + 1);
  for (const Suspect& first : all) {
    std::uint32_t& start = at[f.index(first.x, first.y)];
    if (start == 0) continue;
    start = 0;
    std::vector<Suspect> place{first};
    for (std::size_t k = 0; k < place.size(); ++k) {
      for (int y = place[k].y - 3; y <= place[k].y + 3; ++y) {
        for (int x = place[k].x - 3; x <= place[k].x + 3; ++x) {
          if (!f.inside(x, y) || at[f.index(x, y)] == 0) continue;
          place.push_back(all[at[f.index(x, y)] - 1]);
          at[f.index(x, y)] = 0;
        }
      }
    }
    out.push_back(std::move(place));
  }
  std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.size() > b.size(); });
  if (out.size() > max_places) out.resize(max_places);
  return out;
}

// One from amid a place, as a wall's ends may be its thinnest in the raster, then the thinnest, all well apart.
std::vector<Suspect> spotsOf(const DexelField& f, std::vector<Suspect> place) {
  std::vector<Suspect> spots{place[place.size() / 2]};
  std::stable_sort(place.begin(), place.end(),
                   [](const Suspect& a, const Suspect& b) { return a.width_mm < b.width_mm; });
  for (const Suspect& s : place) {
    if (spots.size() == max_spots) break;
    const bool apart = std::all_of(spots.begin(), spots.end(), [&](const Suspect& o) {
      return std::hypot((s.x - o.x) * f.cell_x_mm, (s.y - o.y) * f.cell_y_mm) >= between_spots_mm;
    });
    if (apart) spots.push_back(s);
  }
  return spots;
}

struct Size {
  double width_mm = 0, height_mm = 0;
  std::vector<Side> sides;
};

std::optional<Size> wallIn(const CloseUp& near, Cell seed, double thinnest_mm) {
  const float top = near.field.top[seed];
  const Standing s = standingAt(near, seed, top - wall_height);
  if (s.thickness_mm >= sliver_width_mm) return {};
  const double height_mm = cutting::shownHeight_mm(top - s.foot);
  if (height_mm < sliver_height_mm - 1e-4) return {};
  const bool is_long =
      lengthOf(near, s, thinnest_mm, sliver_width_mm, shortest_wall_mm) >= shortest_wall_mm - along_slack_mm;
  if (!is_long && !s.ends) return {};
  const double width_mm = is_long ? s.thickness_mm : s.width_mm;
  const double least_mm = is_long ? thinnest_mm : std::max(thinnest_mm, thinnest_post_mm);
  if (width_mm >= sliver_width_mm || width_mm < least_mm) return {};
  return Size{width_mm, height_mm, sidesOf(near, s, s.middle, 2)};
}

std::optional<Size> postIn(const CloseUp& near, Cell seed, double thinnest_mm) {
  const float top = near.field.top[seed];
  double height = least_post_height_mm;
  // A post may widen downwards: it is measured where it is as high as it must be there.
  for (int step = 0; step < 3; ++step) {
    const Standing s = standingAt(near, seed, top - static_cast<float>(height));
    if (!s.ends || s.width_mm > post_width_mm || s.width_mm < std::max(thinnest_mm, thinnest_post_mm)) return {};
    const double wanted = std::max(least_post_height_mm, post_slenderness * s.width_mm);
    const double stands = cutting::shownHeight_mm(top - s.foot_around);
    if (stands < wanted - 1e-4) return {};
    if (wanted <= height + 1e-2) return Size{s.width_mm, stands, sidesOf(near, s, s.centre, 8)};
    height = wanted;
  }
  return {};
}

// The first cell beyond each side that the program cut, below `lower`: what stands there may have been cut at its top.
void addBeside(const Scan& scan, const std::vector<Side>& sides, float lower, std::vector<Cell>& beside) {
  const DexelField& f = scan.after;
  const double step = std::min(f.cell_x_mm, f.cell_y_mm) / 2;
  for (const Side& side : sides) {
    for (int k = 0; k < 5; ++k) {
      const SetupPoint2 p = side.at + side.outwards * (k * step);
      const auto c = f.cellAt(p.x, p.y);
      if (!c || scan.before.top[*c] - f.top[*c] <= cutting::no_material_mm || f.top[*c] > lower) continue;
      beside.push_back(*c);
      break;
    }
  }
}

std::optional<FoundSliver> measured(const ProgramCut& cut, const Scan& scan, const std::vector<Suspect>& place) {
  const DexelField& f = cut.after;
  const bool foam = cut.at.job.stock.material_given && cut.at.job.stock.material == Material::foam;
  const double thinnest_mm = foam ? thinnest_in_foam_mm : thinnest_sliver_mm;
  std::optional<FoundSliver> sliver;
  for (const Suspect& spot : spotsOf(f, place)) {
    const SetupPoint2 at = f.centre(spot.x, spot.y);
    const CloseUp near = closeUp(cut, at, close_up_reach_mm, close_up_cell_mm);
    const Cell seed = highestNear(near, at, f.cell_x_mm / 2, f.cell_y_mm / 2);
    std::optional<Size> size = wallIn(near, seed, thinnest_mm);
    if (!size) size = postIn(near, seed, thinnest_mm);
    if (!size) continue;
    if (!sliver) sliver.emplace();
    addBeside(scan, size->sides, near.field.top[seed] - static_cast<float>(size->height_mm / 2), sliver->beside);
    sliver->height_mm = std::max(sliver->height_mm, size->height_mm);
    if (sliver->width_mm > 0 && sliver->width_mm <= size->width_mm) continue;
    sliver->width_mm = size->width_mm;
    const CellPlace p = near.field.place(seed);
    sliver->at = {near.low.x + near.field.centreX(p.x), near.low.y + near.field.centreY(p.y),
                  cutting::shownHeight_mm(near.field.top[seed])};
  }
  return sliver;
}

}  // namespace

std::vector<FoundSliver> slivers(const ProgramCut& cut) {
  const Scan scan(cut.before, cut.after);
  std::vector<FoundSliver> out;
  for (const auto& place : places(cut.after, suspects(scan))) {
    if (auto sliver = measured(cut, scan, place)) out.push_back(std::move(*sliver));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const FoundSliver& a, const FoundSliver& b) { return a.height_mm > b.height_mm; });
  if (out.size() > max_slivers) out.resize(max_slivers);
  return out;
}

}  // namespace provecut::pieces
