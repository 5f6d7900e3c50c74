#include "sim/pieces/tabs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

namespace provecut::pieces {

namespace {

// Thicker than this share of the stock, what stays in a kerf is no web (common practice: tabs of a quarter to a half).
constexpr double web_share = 0.6;
// Webs reach this far from the nearest opened dexel; what is farther away is a pocket's floor.
constexpr double web_reach_mm = 12;
// Of a part's outline at least this share is open, or it does not hang but stands in a pocket.
constexpr double open_share = 0.25;
// A thin web along at least this share of a part's outline is an onion skin.
constexpr double skin_share = 0.5;
// The next five: our estimates, no source.
// What the program itself did not cut is a web only where it is no larger than a tab, and no wider than a kerf and a
// half.
constexpr double max_web_mm2 = 400, kerfs_wide = 1.5;
// Wood of any height is a neck where it is no wider than this, and a thick web where a cutter took off at least a
// little.
constexpr double neck_mm = 4;
constexpr double thick_share = 0.95;
// Parts on necks and thick webs are told of only where these are less wood than this in all: more is a part of the
// design.
constexpr double max_neck_mm2 = 100;

bool cutHere(const cutting::DexelField& before, const cutting::DexelField& after, std::size_t c) {
  return cutting::taken_mm(before, after, c) > cutting::no_material_mm;
}

// Cells within `reach` of those that `is_set` names, in both directions of the raster: along the rows, then from row to
// row.
template <class IsSet>
std::vector<std::uint8_t> within(const cutting::DexelField& f, double reach_mm, const IsSet& is_set) {
  std::vector<std::uint8_t> near(f.top.size(), 0);
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
  std::vector<int> last(static_cast<std::size_t>(f.nx), never);
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

struct Outline {  // sides of cells along a part's edge
  std::size_t open = 0, web = 0;
  double web_thickness = 0;
};

struct CellXY {
  int x, y;
};

CellXY cellOf(const cutting::DexelField& f, std::size_t c) {
  const auto stride = static_cast<std::size_t>(f.stride);
  return {static_cast<int>(c % stride), static_cast<int>(c / stride)};
}

template <class Visit>
void beside(const cutting::DexelField& f, std::size_t c, const Visit& visit) {
  const CellXY p = cellOf(f, c);
  if (p.x > 0) visit(c - 1);
  if (p.x + 1 < f.nx) visit(c + 1);
  if (p.y > 0) visit(c - static_cast<std::size_t>(f.stride));
  if (p.y + 1 < f.ny) visit(c + static_cast<std::size_t>(f.stride));
}

// Length, thickness and area of the section of a web that is weakest, going from the part outwards: sections are
// gathered by their distance from the part over two cells, so that the raster does not show.
// That of a skin all round, whose corners lie farther out, is the one along the part.
FoundTab measure(const cutting::DexelField& f, const std::vector<std::uint32_t>& web,
                 const std::vector<std::uint32_t>& part_side, SetupDirection2 grain, bool all_round) {
  const double cell = std::max(f.cell_x_mm, f.cell_y_mm);
  const auto centre = [&](std::size_t c) {
    const CellXY p = cellOf(f, c);
    return f.centre(p.x, p.y);
  };
  // A skin all round a part has a long outline: every so manyth of its cells is near enough for the distance.
  constexpr std::size_t max_pairs = 20'000'000;
  const std::size_t stride = 1 + web.size() * part_side.size() / max_pairs;
  std::vector<double> distance(web.size());
  double farthest = 0;
  Vec2 across{};
  for (std::size_t i = 0; i < web.size(); ++i) {
    double best = std::numeric_limits<double>::infinity();
    Vec2 way{};
    for (std::size_t n = 0; n * stride < part_side.size(); ++n) {
      // Row by row the two sides of the part take turns: an even step would only see one of them.
      const std::size_t k = std::min(part_side.size() - 1, n * stride + n % stride);
      const Vec2 d = centre(web[i]) - centre(part_side[k]);
      if (const double l = length(d); l < best) {
        best = l;
        way = d;
      }
    }
    distance[i] = best;
    if (best > farthest) {
      farthest = best;
      across = way;
    }
  }
  const double half = 2 * cell;
  double least_area = std::numeric_limits<double>::infinity(), thickness = 0;
  const auto section = [&](double at, double width) {
    double weight_sum = 0, volume = 0;
    for (std::size_t i = 0; i < web.size(); ++i) {
      const double weight = std::max(0.0, 1 - std::abs(distance[i] - at) / width);
      weight_sum += weight;
      volume += weight * static_cast<double>(cutting::solid_mm(f, web[i]));
    }
    // The weights add up to `width` along the way across, in whole cells.
    const double area = volume * f.cellArea_mm2() / width;
    if (weight_sum > 0 && area < least_area) {
      least_area = area;
      thickness = volume / weight_sum;
    }
  };
  if (all_round && farthest > 2 * half) {
    section(half, half);
  } else if (farthest > 2 * half) {
    for (double at = half; at <= farthest - half + 1e-9; at += cell / 2) section(at, half);
  } else {
    // Too narrow for sections: the mean one.
    double volume = 0;
    for (const std::uint32_t c : web) volume += static_cast<double>(cutting::solid_mm(f, c)) * f.cellArea_mm2();
    const double wide = std::max(cell, farthest - cell / 2);
    least_area = volume / wide;
    thickness = volume / (static_cast<double>(web.size()) * f.cellArea_mm2());
  }
  FoundTab found;
  Tab& tab = found.tab;
  Vec2 sum{};
  double top = 0;
  for (const std::uint32_t c : web) {
    sum = sum + (centre(c) - SetupPoint2{});
    top += static_cast<double>(f.top[c]);
  }
  const double n = static_cast<double>(web.size());
  found.at = {sum.x / n, sum.y / n, top / n};
  tab.area_mm2 = least_area;
  tab.thickness_mm = thickness;
  tab.length_mm = thickness > 0 ? least_area / thickness : 0;
  tab.kerf_mm = farthest;
  const double l = length(across);
  if (l > 0 && length(grain) > 0) {
    tab.grain_deg = std::acos(std::min(1.0, std::abs(dot(across, grain.vec())) / l)) * 180 / std::numbers::pi;
    tab.along_grain = tab.grain_deg > 60;
  }
  return found;
}

using Mask = std::vector<std::uint8_t>;

template <class Visit>
void eachCell(const cutting::DexelField& f, const Visit& visit) {
  for (int y = 0; y < f.ny; ++y) {
    for (std::size_t c = f.index(0, y), end = f.index(f.nx, y); c < end; ++c) visit(c);
  }
}

bool isOpen(const cutting::DexelField& f, std::size_t c) {
  return f.thickness(c) <= cutting::no_material_mm;
}

Mask inverted(const Mask& mask) {
  Mask out(mask.size());
  std::transform(mask.begin(), mask.end(), out.begin(), [](std::uint8_t m) { return static_cast<std::uint8_t>(!m); });
  return out;
}

// Takes out of `web` those cells of `doubtful` whose web is too large for a tab, wider than a kerf, or nowhere cut
// through beside it.
void keepTabsOnly(const TabbedSearch& s, const Mask& doubtful, Mask& web) {
  const cutting::DexelField& f = s.after;
  const Mask solid = inverted(web);
  const Pieces webs = labelPieces(f, &solid);
  std::vector<std::uint8_t> at_opening(webs.shapes.size(), 0);
  eachCell(f, [&](std::size_t c) {
    if (!web[c]) return;
    beside(f, c, [&](std::size_t n) {
      if (isOpen(f, n)) at_opening[static_cast<std::size_t>(webs.label[c] - 1)] = 1;
    });
  });
  eachCell(f, [&](std::size_t c) {
    if (!web[c] || !doubtful[c]) return;
    const auto k = static_cast<std::size_t>(webs.label[c] - 1);
    const PieceShape& shape = webs.shapes[k];
    const Vec3 size = shape.box.high - shape.box.low;
    if (!at_opening[k] || shape.plan_area_mm2 > max_web_mm2 || std::min(size.x, size.y) > kerfs_wide * s.kerf_mm)
      web[c] = 0;
  });
}

// What is thin over a kerf: left by the program itself, or by an earlier one, or by one from the other side.
Mask thinWebs(const TabbedSearch& s) {
  const cutting::DexelField& f = s.after;
  const double thick = web_share * f.thickness_mm;
  Mask web(f.top.size(), 0), earlier(f.top.size(), 0);
  bool any_here = false, any_earlier = false;
  eachCell(f, [&](std::size_t c) {
    const float t = cutting::solid_mm(f, c);
    if (t <= cutting::no_material_mm || static_cast<double>(t) > thick) return;
    web[c] = 1;
    if (cutHere(s.before, f, c)) {
      any_here = true;
    } else {
      earlier[c] = any_earlier = true;
    }
  });
  if (any_here) {
    const Mask near = within(f, web_reach_mm, [&](std::size_t c) { return isOpen(f, c) && cutHere(s.before, f, c); });
    eachCell(f, [&](std::size_t c) {
      if (web[c] && !earlier[c] && !near[c] && cutting::solid_mm(f, c) > skin_mm) web[c] = 0;
    });
  }
  if (any_earlier) {
    const Mask near = within(f, web_reach_mm, [&](std::size_t c) { return isOpen(f, c); });
    any_earlier = false;
    eachCell(f, [&](std::size_t c) {
      if (earlier[c] && !near[c]) earlier[c] = web[c] = 0;
      any_earlier = any_earlier || earlier[c];
    });
  }
  if (any_earlier) keepTabsOnly(s, earlier, web);
  return web;
}

// Besides these: necks of any height between two kerfs, and webs that little was taken off.
Mask neckWebs(const TabbedSearch& s, const Mask& thin) {
  const cutting::DexelField& f = s.after;
  const auto solid = [&](std::size_t c) { return f.thickness(c) > cutting::no_material_mm; };
  const Mask eroded = within(f, neck_mm / 2, [&](std::size_t c) { return isOpen(f, c); });
  const Mask opened = within(f, neck_mm / 2, [&](std::size_t c) { return solid(c) && !eroded[c]; });
  const Mask near = within(f, web_reach_mm, [&](std::size_t c) { return isOpen(f, c); });
  const double thick = thick_share * f.thickness_mm;
  Mask web = thin, necks(f.top.size(), 0);
  eachCell(f, [&](std::size_t c) {
    if (thin[c] || !solid(c)) return;
    const bool lowered = near[c] && static_cast<double>(cutting::solid_mm(f, c)) <= thick;
    if (opened[c] && !lowered) return;
    web[c] = necks[c] = 1;
  });
  keepTabsOnly(s, necks, web);
  return web;
}

// A web's cells, and the cells of each part beside it.
struct Web {
  std::vector<std::uint32_t> cells;
  std::map<std::int32_t, std::vector<std::uint32_t>> beside;
};

// Which parts hang together over webs, and which of them something holds. A graph of parts and webs in turns, with one
// node more that all held parts hang on, walked once in depth: what lies behind a part, and reaches back no farther
// than to it, hangs on it.
class TabbedGraph {
 public:
  TabbedGraph(std::size_t parts, const std::vector<Web>& webs) : parts_(parts), beside_(1 + parts + webs.size()) {
    for (std::size_t w = 0; w < webs.size(); ++w) {
      for (const auto& [part, side] : webs[w].beside) connect(static_cast<std::size_t>(part), 1 + parts + w);
    }
  }
  void addRoot(std::int32_t part) { connect(0, static_cast<std::size_t>(part)); }

  // Once all roots are known.
  void walk() {
    first_.assign(beside_.size(), 0);
    last_ = back_ = from_ = first_;
    std::vector<std::pair<std::size_t, std::size_t>> way{{0, 0}};  // node, and which neighbour comes next
    std::size_t count = 0;
    first_[0] = back_[0] = ++count;
    while (!way.empty()) {
      const std::size_t node = way.back().first;
      if (way.back().second < beside_[node].size()) {
        const std::size_t next = beside_[node][way.back().second++];
        if (first_[next] != 0) {
          if (next != from_[node]) back_[node] = std::min(back_[node], first_[next]);
          continue;
        }
        first_[next] = back_[next] = ++count;
        from_[next] = node;
        way.push_back({next, 0});
      } else {
        last_[node] = count;
        way.pop_back();
        if (!way.empty()) back_[way.back().first] = std::min(back_[way.back().first], back_[node]);
      }
    }
  }

  // The webs of `part` that lead to something held without going back through it: what hangs on the part itself bears
  // nothing.
  std::vector<std::size_t> holding(std::int32_t part) const {
    const auto p = static_cast<std::size_t>(part);
    std::vector<std::size_t> webs;
    for (const std::size_t node : beside_[p]) {
      if (node <= parts_ || first_[node] == 0) continue;
      const bool behind = first_[node] > first_[p] && first_[node] <= last_[p];
      // The web that the walk went on by, on the way to this one.
      const bool hangs = behind && std::any_of(beside_[p].begin(), beside_[p].end(), [&](std::size_t child) {
                           const bool on_the_way =
                               from_[child] == p && first_[child] <= first_[node] && first_[node] <= last_[child];
                           return on_the_way && back_[child] >= first_[p];
                         });
      if (!hangs) webs.push_back(node - 1 - parts_);
    }
    return webs;
  }

 private:
  void connect(std::size_t a, std::size_t b) {
    beside_[a].push_back(b);
    beside_[b].push_back(a);
  }

  std::size_t parts_;
  std::vector<std::vector<std::size_t>> beside_;  // node 0: what is held; then the parts; then the webs
  // When the walk came to a node, to the last behind it, how far back those reach, and from which node it came.
  std::vector<std::size_t> first_, last_, back_, from_;
};

std::size_t wholePieces(const Pieces& p) {
  return static_cast<std::size_t>(
      std::count_if(p.shapes.begin(), p.shapes.end(), [](const PieceShape& shape) { return !shape.crumb; }));
}

// What falls apart into `apart` once `web` is taken away; parts of less than `least_mm2` in plan left out.
std::vector<TabbedPart> partsOn(const TabbedSearch& s, const Mask& web, const Pieces& apart, const HeldIn& held_in,
                                std::vector<TabbedPart>* still_attached, double least_mm2 = 0) {
  const cutting::DexelField& f = s.after;
  const Mask not_web = inverted(web);

  // Which whole piece each part of it came from, and how its outline runs.
  std::vector<Outline> outlines(apart.shapes.size());
  std::vector<std::vector<std::int32_t>> parts_of(s.pieces.shapes.size());
  for (std::size_t k = 0; k < apart.shapes.size(); ++k) {
    if (apart.shapes[k].crumb) continue;
    parts_of[static_cast<std::size_t>(s.pieces.label[apart.shapes[k].seed] - 1)].push_back(
        static_cast<std::int32_t>(k + 1));
  }
  if (std::none_of(parts_of.begin(), parts_of.end(), [](const auto& p) { return p.size() > 1; })) return {};
  for (std::size_t c = 0; c < web.size(); ++c) {
    const std::int32_t l = apart.label[c];
    if (l == 0) continue;
    Outline& o = outlines[static_cast<std::size_t>(l - 1)];
    beside(f, c, [&](std::size_t n) {
      if (web[n]) {
        ++o.web;
        o.web_thickness += static_cast<double>(cutting::solid_mm(f, n));
      } else if (isOpen(f, n)) {
        ++o.open;
      }
    });
  }

  const Pieces labels = labelPieces(f, &not_web);
  std::vector<Web> webs(labels.shapes.size());
  for (std::size_t c = 0; c < web.size(); ++c) {
    if (!web[c]) continue;
    Web& w = webs[static_cast<std::size_t>(labels.label[c] - 1)];
    w.cells.push_back(static_cast<std::uint32_t>(c));
    beside(f, c, [&](std::size_t n) {
      const std::int32_t l = apart.label[n];
      if (l != 0 && !apart.shape(l).crumb) w.beside[l].push_back(static_cast<std::uint32_t>(n));
    });
  }

  const std::vector<bool> held = held_in(apart);
  const auto is_held = [&](std::int32_t part) { return held[static_cast<std::size_t>(part - 1)]; };
  std::vector<TabbedPart> found;
  TabbedGraph graph(apart.shapes.size(), webs);
  std::vector<std::int32_t> rests;
  for (const auto& parts : parts_of) {
    if (parts.size() < 2) continue;
    rests.push_back(*std::max_element(parts.begin(), parts.end(), [&](std::int32_t a, std::int32_t b) {
      const bool held_a = is_held(a), held_b = is_held(b);
      if (held_a != held_b) return held_b;
      const bool spans_a = spansStock(apart.shape(a), f), spans_b = spansStock(apart.shape(b), f);
      if (spans_a != spans_b) return spans_b;
      return apart.shape(a).volume_mm3 < apart.shape(b).volume_mm3;
    }));
    graph.addRoot(rests.back());
    for (const std::int32_t part : parts) {
      if (is_held(part)) graph.addRoot(part);
    }
  }
  graph.walk();
  for (std::size_t piece = 0, rest = 0; piece < parts_of.size(); ++piece) {
    const auto& parts = parts_of[piece];
    if (parts.size() < 2) continue;
    const std::int32_t rest_of_piece = rests[rest++];
    for (const std::int32_t part : parts) {
      const Outline& o = outlines[static_cast<std::size_t>(part - 1)];
      if (part == rest_of_piece || o.web == 0 || apart.shape(part).plan_area_mm2 < least_mm2) continue;
      const double mean_web = o.web_thickness / static_cast<double>(o.web);
      const bool open = static_cast<double>(o.open) >= open_share * static_cast<double>(o.open + o.web);
      const bool attached = !open && mean_web > static_cast<double>(skin_mm);
      if (attached && (o.open == 0 || !still_attached)) continue;
      TabbedPart h;
      h.piece = static_cast<std::int32_t>(piece + 1);
      h.part = part;
      h.shape = apart.shape(part);
      for (const std::size_t k : graph.holding(part)) {
        const Web& w = webs[k];
        const std::vector<std::uint32_t>& part_side = w.beside.at(part);
        const bool all_round =
            static_cast<double>(part_side.size()) >= skin_share * static_cast<double>(o.open + o.web);
        FoundTab tab = measure(f, w.cells, part_side, s.grain, all_round);
        tab.tab.onion_skin = all_round && tab.tab.thickness_mm <= static_cast<double>(skin_mm);
        h.tabs.push_back(tab);
        h.web_cells.insert(h.web_cells.end(), w.cells.begin(), w.cells.end());
      }
      if (h.tabs.empty()) continue;
      h.open_share = static_cast<double>(o.open) / static_cast<double>(o.open + o.web);
      (attached ? *still_attached : found).push_back(std::move(h));
    }
  }
  std::vector<TabbedPart*> with_label(apart.shapes.size() + 1, nullptr);
  for (auto* parts : {&found, still_attached}) {
    if (!parts) continue;
    for (TabbedPart& h : *parts) with_label[static_cast<std::size_t>(h.part)] = &h;
  }
  for (std::size_t c = 0; c < apart.label.size(); ++c) {
    if (TabbedPart* h = with_label[static_cast<std::size_t>(apart.label[c])])
      h->cells.push_back(static_cast<std::uint32_t>(c));
  }
  return found;
}

}  // namespace

std::vector<TabbedPart> tabbedParts(const TabbedSearch& s, const HeldIn& held_in) {
  const cutting::DexelField& f = s.after;
  bool opened = false;
  eachCell(f, [&](std::size_t c) { opened = opened || (isOpen(f, c) && cutHere(s.before, f, c)); });
  const Mask thin = thinWebs(s);
  std::vector<TabbedPart> found;
  std::size_t pieces = wholePieces(s.pieces);
  if (std::find(thin.begin(), thin.end(), 1) != thin.end()) {
    const Pieces apart = labelPieces(f, &thin);
    pieces = wholePieces(apart);
    found = partsOn(s, thin, apart, held_in, s.still_attached);
  }
  if (!opened) return found;
  const Mask necks = neckWebs(s, thin);
  if (necks == thin) return found;
  const Pieces apart = labelPieces(f, &necks);
  if (wholePieces(apart) <= pieces) return found;  // corners and the like
  Mask known(f.top.size(), 0);
  for (const TabbedPart& h : found) {
    for (const std::uint32_t c : h.cells) known[c] = 1;
  }
  for (TabbedPart& h : partsOn(s, necks, apart, held_in, nullptr, least_part_area_mm2)) {
    double wood_mm2 = 0;
    for (const FoundTab& t : h.tabs) wood_mm2 += t.tab.area_mm2;
    if (known[h.shape.seed] || wood_mm2 >= max_neck_mm2) continue;
    found.push_back(std::move(h));
  }
  return found;
}

std::vector<std::uint8_t> webMask(const cutting::DexelField& field, const std::vector<TabbedPart>& parts) {
  std::vector<std::uint8_t> mask(field.top.size(), 0);
  for (const TabbedPart& p : parts) {
    for (const std::uint32_t c : p.web_cells) mask[c] = 1;
  }
  return mask;
}

}  // namespace provecut::pieces
