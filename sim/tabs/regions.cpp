#include "sim/tabs/regions.h"

#include <tbb/parallel_sort.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

#include "sim/numeric/union_find.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// A contact is whole where it is as high as this share of the highest wood.
constexpr float whole_share = 0.95F;
// What joins two regions counts where it is less than this share of what either has.
constexpr float prominent_share = 0.95F;
// Webs reach this far from the nearest opened dexel, so that tabs of twice that are seen; what is farther away is a
// pocket's floor.
constexpr double web_reach_mm = 12;

// A contact that may be a web: how much of whole wood it is, 0 to 1.
struct Weak {
  float share = 0;
  float better = 0;  // of the better of its dexels: the edge of a part goes with the part, not along itself
  Cell a = 0, b = 0;
  bool divides = false;  // two regions that both have more wood than this
  friend bool operator<(const Weak& x, const Weak& y) {
    return std::tie(y.share, y.better, x.a, x.b) < std::tie(x.share, x.better, y.a, y.b);
  }
};

// The regions while they grow.
struct Division {
  const cutting::DexelField& field;
  const std::vector<float>& distance_mm;
  float highest_mm;         // of the wood anywhere
  Mask near;                // dexels that an opening or a skin is near
  std::vector<Label> set;   // per dexel; 0: no material
  UnionFind sets{1};        // 0 stands for "nothing"
  std::vector<float> most;  // per root: the most wood of any of its dexels, as Weak::share
  std::vector<std::uint32_t> cells;
  Mask wide;  // per root: somewhere as wide as a piece must be
  std::vector<Weak> weak;
};

// Dexels within the reach of those that `is_set` names, in both directions of the raster: along the rows, then from row
// to row.
template <class IsSet>
Mask within(const cutting::DexelField& f, double reach_mm, const IsSet& is_set) {
  Mask near(f.top.size(), 0);
  const int rx = static_cast<int>(reach_mm / f.cell_x_mm), ry = static_cast<int>(reach_mm / f.cell_y_mm);
  constexpr int never = std::numeric_limits<int>::min() / 2;
  for (int y = 0; y < f.ny; ++y) {
    int begin = 0;  // not marked yet
    for (int x = 0; x < f.nx; ++x) {
      if (!is_set(f.index(x, y))) continue;
      const int end = std::min(f.nx, x + rx + 1);
      for (int i = std::max(begin, x - rx); i < end; ++i) near[f.index(i, y)] = 1;
      begin = end;
    }
  }
  if (ry == 0) return near;
  // What a row was in itself stays in the lowest bit, what rows above and below make of it goes into the next.
  std::vector<int> last(f.nx, never);
  const auto pass = [&](int from, int to, int step) {
    std::fill(last.begin(), last.end(), never);
    for (int y = from; y != to; y += step) {
      std::uint8_t* row = near.data() + f.index(0, y);
      for (std::size_t x = 0; x < last.size(); ++x) {
        if (row[x] & 1) last[x] = y;
        if (std::abs(y - last[x]) <= ry) row[x] |= 2;
      }
    }
  };
  pass(0, f.ny, 1);
  pass(f.ny - 1, -1, -1);
  for (std::uint8_t& n : near) n = n != 0;
  return near;
}

bool isOpen(const cutting::DexelField& f, Cell c) {
  return f.thickness(c) <= cutting::no_material_mm;
}

// Of wood `distance_mm` from an opening, as a share of what is no neck.
float widthShare(const Division& d, float distance_mm) {
  if (distance_mm == std::numeric_limits<float>::infinity()) return 1;
  const float cell = static_cast<float>(std::max(d.field.cell_x_mm, d.field.cell_y_mm));
  return std::clamp((2 * distance_mm - cell) / static_cast<float>(neck_mm), 0.0F, 1.0F);
}

// Wood as high as the stock by its width, lower wood by its height: so the edge of a part goes with the part before
// anything goes through a web.
float share(const Division& d, float height_mm, float distance_mm) {
  const float height = height_mm / d.highest_mm;
  return height > whole_share ? 0.5F + widthShare(d, distance_mm) / 2 : height / 2;
}

// The dexels beside gaps that leave no more than `most_mm`; empty: there are no gaps.
Mask atGaps(const cutting::DexelField& f, float most_mm) {
  Mask mask;
  if (f.gaps.empty()) return mask;
  mask.assign(f.top.size(), 0);
  const auto mark = [&](const auto& gaps, Cell step) {
    for (const auto& [c, gap] : gaps) {
      if (cutting::overlap_mm(f, c, c + step) <= most_mm) mask[c] = mask[c + step] = 1;
    }
  };
  mark(f.gaps.to_right, 1);
  mark(f.gaps.to_back, static_cast<Cell>(f.stride));
  return mask;
}

float dexelShare(const Division& d, Cell c) {
  return share(d, cutting::solid_mm(d.field, c), d.distance_mm[c]);
}

// Joins two dexels that touch, or notes that little connects them.
bool joinOrNote(Division& d, Cell a, Cell b) {
  const float overlap = cutting::overlap_mm(d.field, a, b);
  if (overlap <= cutting::no_material_mm) return false;
  const float least = share(d, overlap, std::min(d.distance_mm[a], d.distance_mm[b]));
  const bool low = least < 0.5F;
  if (least >= 1 || (low && !(d.near[a] && d.near[b]))) return true;
  d.weak.push_back({least, std::max(dexelShare(d, a), dexelShare(d, b)), a, b, false});
  return false;
}

void joinRow(Division& d, int y) {
  const cutting::DexelField& f = d.field;
  const Cell row = f.index(0, y);
  std::uint32_t joined = 0;  // what the set of the dexel before met last in the row before
  for (Cell c = row, end = f.index(f.nx, y); c < end; ++c) {
    if (isOpen(f, c)) continue;
    if (c > row && d.set[c - 1] != 0 && joinOrNote(d, c - 1, c)) {
      d.set[c] = d.set[c - 1];
    } else {
      d.set[c] = d.sets.add();
      joined = 0;
    }
    if (y == 0 || d.set[c - f.stride] == 0) continue;
    if (!joinOrNote(d, c - f.stride, c) || d.set[c - f.stride] == joined) continue;
    joined = d.set[c - f.stride];
    d.sets.join(d.set[c], joined);
  }
}

bool isWide(Division& d, int left, int front, std::uint32_t root) {
  const cutting::DexelField& f = d.field;
  const int side = widthOfPiece(f);
  if (left < 0 || front < 0 || left + side > f.nx || front + side > f.ny) return false;
  for (int y = front; y < front + side; ++y) {
    for (int x = left; x < left + side; ++x) {
      const Label s = d.set[f.index(x, y)];
      if (s == 0 || d.sets.find(s) != root) return false;
    }
  }
  return true;
}

// What the first sets hold.
void measureSets(Division& d) {
  const cutting::DexelField& f = d.field;
  d.most.assign(d.sets.size(), 0);
  d.cells.assign(d.sets.size(), 0);
  d.wide.assign(d.sets.size(), 0);
  const int side = widthOfPiece(f);
  cutting::eachCell(f, [&](Cell c) {
    if (d.set[c] == 0) return;
    const std::uint32_t root = d.sets.find(d.set[c]);
    d.set[c] = root;
    ++d.cells[root];
    d.most[root] = std::max(d.most[root], dexelShare(d, c));
    if (d.wide[root]) return;
    const auto [x, y] = f.place(c);
    d.wide[root] = isWide(d, x - side + 1, y - side + 1, root);
  });
}

bool isWhole(const Division& d, std::uint32_t root) {
  return d.wide[root] && d.cells[root] * d.field.cellArea_mm2() >= least_piece_mm2;
}

// Notes it where a set has become as wide as a piece must be, about a dexel.
void noteWidth(Division& d, std::uint32_t root, Cell about) {
  const int side = widthOfPiece(d.field);
  if (d.wide[root] || d.cells[root] < static_cast<std::uint32_t>(side * side)) return;
  const auto [x, y] = d.field.place(about);
  for (int front = y - side + 1; front <= y; ++front) {
    for (int left = x - side + 1; left <= x; ++left) {
      if (!isWide(d, left, front, root)) continue;
      d.wide[root] = 1;
      return;
    }
  }
}

// Joins what weak contacts connect, the strongest first, and keeps those that join: which of them divide regions shows
// by what both sides have by then.
void joinWeak(Division& d) {
  tbb::parallel_sort(d.weak.begin(), d.weak.end());
  std::size_t kept = 0;
  for (const Weak& w : d.weak) {
    const std::uint32_t a = d.sets.find(d.set[w.a]), b = d.sets.find(d.set[w.b]);
    if (a == b) continue;
    const float less = prominent_share * std::min(d.most[a], d.most[b]);
    Weak& joining = d.weak[kept++] = w;
    joining.divides = w.share <= less && isWhole(d, a) && isWhole(d, b);
    const std::uint32_t root = d.sets.join(a, b);
    d.most[root] = std::max(d.most[a], d.most[b]);
    d.cells[root] = d.cells[a] + d.cells[b];
    d.wide[root] = d.wide[a] || d.wide[b];
    noteWidth(d, root, w.a);
    noteWidth(d, root, w.b);
  }
  d.weak.resize(kept);
}

using Borders = std::map<std::pair<Label, Label>, RegionOutline>;

void add(RegionOutline& to, const RegionOutline& o, double times = 1) {
  to.open_mm += times * o.open_mm;
  to.web_mm += times * o.web_mm;
  to.web_mm2 += times * o.web_mm2;
  to.thin_mm += times * o.thin_mm;
}

// Fills in the outlines of the regions and where they cross; gives what any two of them share.
Borders findOutlines(const cutting::DexelField& f, Regions& r) {
  Borders borders;
  r.outline.assign(r.apart.shapes.size(), {});
  r.crossings.assign(r.apart.shapes.size(), {});
  const auto look = [&](Cell a, Cell b, double side_mm) {
    const Label of_a = r.apart.label[a], of_b = r.apart.label[b];
    if (of_a == of_b) return;
    const double overlap = of_a != 0 && of_b != 0 ? double{cutting::overlap_mm(f, a, b)} : 0;
    const bool touching = overlap > double{cutting::no_material_mm};
    const double thin_mm = overlap <= double{skin_mm} ? side_mm : 0;
    const RegionOutline shared =
        touching ? RegionOutline{0, side_mm, side_mm * overlap, thin_mm} : RegionOutline{side_mm, 0, 0, 0};
    if (of_a != 0) add(r.outline[of_a - 1], shared);
    if (of_b != 0) add(r.outline[of_b - 1], shared);
    if (!touching) return;
    r.crossings[of_a - 1].push_back({a, b});
    r.crossings[of_b - 1].push_back({b, a});
    add(borders[std::minmax(of_a, of_b)], shared);
  };
  cutting::eachCell(f, [&](Cell c) {
    const auto [x, y] = f.place(c);
    if (x + 1 < f.nx) look(c, c + 1, f.cell_y_mm);
    if (y + 1 < f.ny) look(c, c + f.stride, f.cell_x_mm);
  });
  return borders;
}

// Regions that are put together again, by their labels.
struct Together {
  UnionFind sets;
  std::vector<RegionOutline> outline;  // per root; so is the rest
  std::vector<double> area_mm2, volume_mm3;
  std::vector<std::map<Label, RegionOutline>> border;  // to other roots
};

Together apartAsYet(const Regions& r, const Borders& borders) {
  const std::size_t count = r.apart.shapes.size() + 1;
  Together t{UnionFind(count), std::vector<RegionOutline>(count), std::vector<double>(count, 0),
             std::vector<double>(count, 0), std::vector<std::map<Label, RegionOutline>>(count)};
  for (Label l = 1; l < count; ++l) {
    t.outline[l] = r.outline[l - 1];
    t.area_mm2[l] = r.apart.shape(l).plan_area_mm2;
    t.volume_mm3[l] = r.apart.shape(l).volume_mm3;
  }
  for (const auto& [both, shared] : borders)
    t.border[both.first][both.second] = t.border[both.second][both.first] = shared;
  return t;
}

void putTogether(Together& t, Label a, Label b) {
  const Label root = t.sets.join(a, b), other = root == a ? b : a;
  add(t.outline[root], t.outline[other]);
  add(t.outline[root], t.border[root][other], -2);
  t.area_mm2[root] += t.area_mm2[other];
  t.volume_mm3[root] += t.volume_mm3[other];
  t.border[root].erase(other);
  for (const auto& [third, shared] : t.border[other]) {
    if (third == root) continue;
    add(t.border[root][third], shared);
    add(t.border[third][root], shared);
    t.border[third].erase(other);
  }
  t.border[other].clear();
}

// Narrow wood as high as the stock joins the parts of a ring to each other. Where only lower webs join them to the
// rest, that is how the ring is designed: it is one again.
bool putRingsTogether(const Division& d, const Regions& r, Together& t) {
  const auto largest = static_cast<Label>(std::max_element(t.area_mm2.begin(), t.area_mm2.end()) - t.area_mm2.begin());
  UnionFind rings(t.area_mm2.size());
  Mask on_neck(t.area_mm2.size(), 0);
  const auto eachNeck = [&](const auto& visit) {
    for (const Weak& w : d.weak) {
      if (w.divides && w.share >= 0.5F) visit(r.apart.label[w.a], r.apart.label[w.b]);
    }
  };
  eachNeck([&](Label a, Label b) {
    if (a != largest && b != largest) rings.join(a, b);
  });
  eachNeck([&](Label a, Label b) {
    if (a == largest || b == largest) on_neck[rings.find(a == largest ? b : a)] = 1;
  });
  bool any = false;
  eachNeck([&](Label a, Label b) {
    const Label of_a = t.sets.find(a), of_b = t.sets.find(b);
    if (a == largest || b == largest || of_a == of_b || on_neck[rings.find(a)]) return;
    putTogether(t, of_a, of_b);
    any = true;
  });
  return any;
}

// Puts together again those of which the smaller could not hang on the other.
bool keepWhatHangs(const Division& d, Regions& r, Together& t) {
  bool any = putRingsTogether(d, r, t);
  for (const Weak& w : d.weak) {
    if (!w.divides) continue;
    const Label a = t.sets.find(r.apart.label[w.a]), b = t.sets.find(r.apart.label[w.b]);
    if (a == b) continue;
    const Label smaller = t.area_mm2[a] < t.area_mm2[b] ? a : b;
    if (couldHang(t.outline[smaller], t.volume_mm3[smaller] / t.area_mm2[smaller], d.field.thickness_mm)) continue;
    putTogether(t, a, b);
    any = true;
  }
  return any;
}

// From a dexel to one near it.
struct Offset {
  int x = 0, y = 0;
  float mm = 0;
};

std::vector<Offset> offsetsWithin(const cutting::DexelField& f, double reach_mm) {
  const int rx = static_cast<int>(reach_mm / f.cell_x_mm), ry = static_cast<int>(reach_mm / f.cell_y_mm);
  std::vector<Offset> offsets;
  for (int y = -ry; y <= ry; ++y) {
    for (int x = -rx; x <= rx; ++x) {
      const double mm = std::hypot(x * f.cell_x_mm, y * f.cell_y_mm);
      if (mm <= reach_mm) offsets.push_back({x, y, static_cast<float>(mm)});
    }
  }
  return offsets;
}

}  // namespace

bool couldHang(const RegionOutline& o, double mean_thickness_mm, double stock_mm) {
  if (o.web_mm <= 0) return false;
  const double web = o.web_mm2 / o.web_mm;
  if (web <= double{skin_mm}) return true;
  const bool on_skin = o.thin_mm >= skin_share * length_mm(o);
  if (!on_skin && o.open_mm < least_open_share * length_mm(o)) return o.open_mm > 0 && web <= thin_web_share * stock_mm;
  return o.web_mm2 <= most_wood_share * length_mm(o) * mean_thickness_mm;
}

std::vector<float> openingDistances(const cutting::DexelField& f) {
  std::vector<float> distance(f.top.size(), std::numeric_limits<float>::infinity());
  const double reach = (neck_mm + std::max(f.cell_x_mm, f.cell_y_mm)) / 2;
  const std::vector<Offset> offsets = offsetsWithin(f, reach);
  const auto spread = [&](Cell c, float more_mm) {
    const auto [x, y] = f.place(c);
    for (const Offset& o : offsets) {
      if (!f.inside(x + o.x, y + o.y)) continue;
      float& d = distance[f.index(x + o.x, y + o.y)];
      d = std::min(d, o.mm + more_mm);
    }
  };
  const Mask at_gaps = atGaps(f, cutting::no_material_mm);
  cutting::eachCell(f, [&](Cell c) {
    if (!isOpen(f, c)) {
      // The opening is up to half a cell away.
      if (!at_gaps.empty() && at_gaps[c]) spread(c, static_cast<float>(std::min(f.cell_x_mm, f.cell_y_mm) / 2));
      return;
    }
    bool at_wood = false;
    cutting::beside(f, c, [&](Cell n) { at_wood = at_wood || !isOpen(f, n); });
    if (at_wood) spread(c, 0);
  });
  return distance;
}

Regions regionsOf(const cutting::DexelField& f, const std::vector<float>& opening_distance_mm) {
  float highest_mm = 0;
  cutting::eachCell(f, [&](Cell c) { highest_mm = std::max(highest_mm, cutting::solid_mm(f, c)); });
  Division d{f, opening_distance_mm, highest_mm, {}, std::vector<Label>(f.top.size(), 0), UnionFind(1), {}, {}, {}, {}};
  const Mask thin_gaps = atGaps(f, skin_mm);
  d.near = within(f, web_reach_mm,
                  [&](Cell c) { return cutting::solid_mm(f, c) <= skin_mm || (!thin_gaps.empty() && thin_gaps[c]); });
  for (int y = 0; y < f.ny; ++y) joinRow(d, y);
  measureSets(d);
  joinWeak(d);
  Regions r;
  if (std::none_of(d.weak.begin(), d.weak.end(), [](const Weak& w) { return w.divides; })) return r;
  UnionFind whole(d.sets.size());
  for (const Weak& w : d.weak) {
    if (!w.divides) whole.join(d.set[w.a], d.set[w.b]);
  }
  r.apart = piecesOf(f, d.set, std::move(whole));
  Together t = apartAsYet(r, findOutlines(f, r));
  if (!keepWhatHangs(d, r, t)) return r;
  r.apart = piecesOf(f, std::move(r.apart.label), std::move(t.sets));
  findOutlines(f, r);
  return r;
}

}  // namespace provecut::pieces
