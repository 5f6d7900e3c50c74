#include "sim/tabs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

namespace provecut {

namespace {

// Thicker than this share of the blank, what stays in a kerf is no web (common practice: tabs of a quarter to a half).
constexpr double web_share = 0.6;
// Webs reach this far from the nearest opened column; what is farther away is a pocket's floor.
constexpr double web_reach_mm = 12;
// Of a part's outline at least this share is open, or it does not hang but stands in a pocket.
constexpr double open_share = 0.25;
// A thin web along at least this share of a part's outline is an onion skin.
constexpr double skin_share = 0.5;

bool cutHere(const ColumnField& before, const ColumnField& after, std::size_t c) {
  return taken_mm(before, after, c) > no_material_mm;
}

// Cells within `reach` of an opened one, by sliding counts along rows, then columns.
std::vector<std::uint8_t> nearOpening(const ColumnField& before, const ColumnField& after, double reach_mm) {
  std::vector<std::uint8_t> rows(after.top.size(), 0), near(after.top.size(), 0);
  const int rx = static_cast<int>(reach_mm / after.cell_x_mm), ry = static_cast<int>(reach_mm / after.cell_y_mm);
  const auto spread = [](int n, int r, const auto& is_set, const auto& set) {
    int last = std::numeric_limits<int>::min() / 2;
    std::vector<int> left(static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) {
      if (is_set(i)) last = i;
      left[static_cast<std::size_t>(i)] = i - last;
    }
    int next = std::numeric_limits<int>::max() / 2;
    for (int i = n - 1; i >= 0; --i) {
      if (is_set(i)) next = i;
      if (std::min(left[static_cast<std::size_t>(i)], next - i) <= r) set(i);
    }
  };
  for (int y = 0; y < after.ny; ++y) {
    spread(after.nx, rx, [&](int x) {
      const std::size_t c = after.index(x, y);
      return after.thickness(c) <= no_material_mm && cutHere(before, after, c);
    }, [&](int x) { rows[after.index(x, y)] = 1; });
  }
  for (int x = 0; x < after.nx; ++x) {
    spread(after.ny, ry, [&](int y) { return rows[after.index(x, y)] != 0; }, [&](int y) { near[after.index(x, y)] = 1; });
  }
  return near;
}

struct Outline {   // sides of cells along a part's edge
  std::size_t open = 0, web = 0;
  double web_thickness = 0;
};

struct CellXY {
  int x, y;
};

CellXY cellOf(const ColumnField& f, std::size_t c) {
  const auto stride = static_cast<std::size_t>(f.stride);
  return {static_cast<int>(c % stride), static_cast<int>(c / stride)};
}

template <class Visit>
void beside(const ColumnField& f, std::size_t c, const Visit& visit) {
  const CellXY p = cellOf(f, c);
  if (p.x > 0) visit(c - 1);
  if (p.x + 1 < f.nx) visit(c + 1);
  if (p.y > 0) visit(c - static_cast<std::size_t>(f.stride));
  if (p.y + 1 < f.ny) visit(c + static_cast<std::size_t>(f.stride));
}

// Length, thickness and area of the section of a web that is weakest, going from the part outwards: sections are
// gathered by their distance from the part over two cells, so that the raster does not show.
// That of a skin all round, whose corners lie farther out, is the one along the part.
Tab measure(const ColumnField& f, const std::vector<std::uint32_t>& web, const std::vector<std::uint32_t>& part_side,
            Vec2 grain, bool all_round) {
  const double cell = std::max(f.cell_x_mm, f.cell_y_mm);
  const auto centre = [&](std::size_t c) {
    const CellXY p = cellOf(f, c);
    return Vec2{f.centreX(p.x), f.centreY(p.y)};
  };
  // A skin all round a part has a long outline: every so manyth of its cells is near enough for the distance.
  constexpr std::size_t most_pairs = 20'000'000;
  const std::size_t stride = 1 + web.size() * part_side.size() / most_pairs;
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
      volume += weight * static_cast<double>(solid_mm(f, web[i]));
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
    for (const std::uint32_t c : web) volume += static_cast<double>(solid_mm(f, c)) * f.cellArea_mm2();
    const double wide = std::max(cell, farthest - cell / 2);
    least_area = volume / wide;
    thickness = volume / (static_cast<double>(web.size()) * f.cellArea_mm2());
  }
  Tab tab;
  Vec2 middle{};
  double top = 0;
  for (const std::uint32_t c : web) {
    middle = middle + centre(c);
    top += static_cast<double>(f.top[c]);
  }
  const double n = static_cast<double>(web.size());
  tab.at = {middle.x / n, middle.y / n, top / n};
  tab.area_mm2 = least_area;
  tab.thickness_mm = thickness;
  tab.length_mm = thickness > 0 ? least_area / thickness : 0;
  tab.kerf_mm = farthest;
  const double l = length(across);
  if (l > 0 && length(grain) > 0) {
    tab.grain_deg = std::acos(std::min(1.0, std::abs(dot(across, grain)) / l)) * 180 / std::numbers::pi;
    tab.along_grain = tab.grain_deg > 60;
  }
  return tab;
}

}  // namespace

std::vector<HangingPart> hangingParts(const HangingSearch& s,
                                      const std::function<bool(const Pieces&, std::int32_t)>& is_held) {
  const ColumnField& f = s.after;
  const double thick = web_share * f.thickness_mm;
  std::vector<std::uint8_t> web(f.top.size(), 0);
  bool any = false;
  for (int y = 0; y < f.ny; ++y) {
    for (std::size_t c = f.index(0, y), end = f.index(f.nx, y); c < end; ++c) {
      const float t = solid_mm(f, c);
      if (t > no_material_mm && static_cast<double>(t) <= thick && cutHere(s.before, f, c)) web[c] = any = true;
    }
  }
  if (!any) return {};
  const std::vector<std::uint8_t> near = nearOpening(s.before, f, web_reach_mm);
  for (std::size_t c = 0; c < web.size(); ++c) {
    if (web[c] && !near[c] && solid_mm(f, c) > skin_mm) web[c] = 0;
  }

  const Pieces apart = labelPieces(f, &web);
  std::vector<std::uint8_t> not_web(web.size());
  std::transform(web.begin(), web.end(), not_web.begin(), [](std::uint8_t w) { return static_cast<std::uint8_t>(!w); });
  const Pieces webs = labelPieces(f, &not_web);

  // Which whole piece each part of it came from, and how its outline runs.
  std::vector<Outline> outlines(apart.shapes.size());
  std::vector<std::vector<std::int32_t>> parts_of(s.pieces.shapes.size());
  for (std::size_t k = 0; k < apart.shapes.size(); ++k) {
    if (apart.shapes[k].crumb) continue;
    parts_of[static_cast<std::size_t>(s.pieces.label[apart.shapes[k].seed] - 1)].push_back(static_cast<std::int32_t>(k + 1));
  }
  if (std::none_of(parts_of.begin(), parts_of.end(), [](const auto& p) { return p.size() > 1; })) return {};
  for (std::size_t c = 0; c < web.size(); ++c) {
    const std::int32_t l = apart.label[c];
    if (l == 0) continue;
    Outline& o = outlines[static_cast<std::size_t>(l - 1)];
    beside(f, c, [&](std::size_t n) {
      if (web[n]) {
        ++o.web;
        o.web_thickness += static_cast<double>(solid_mm(f, n));
      } else if (f.thickness(n) <= no_material_mm) {
        ++o.open;
      }
    });
  }

  // Of each web its cells, and the cells of each part beside it.
  struct Web {
    std::vector<std::uint32_t> cells;
    std::map<std::int32_t, std::vector<std::uint32_t>> beside;
  };
  std::vector<Web> web_of(webs.shapes.size());
  for (std::size_t c = 0; c < web.size(); ++c) {
    if (!web[c]) continue;
    Web& w = web_of[static_cast<std::size_t>(webs.label[c] - 1)];
    w.cells.push_back(static_cast<std::uint32_t>(c));
    beside(f, c, [&](std::size_t n) {
      if (apart.label[n] != 0) w.beside[apart.label[n]].push_back(static_cast<std::uint32_t>(n));
    });
  }

  std::vector<HangingPart> found;
  for (std::size_t piece = 0; piece < parts_of.size(); ++piece) {
    auto& parts = parts_of[piece];
    if (parts.size() < 2) continue;
    const auto rest = *std::max_element(parts.begin(), parts.end(), [&](std::int32_t a, std::int32_t b) {
      const bool held_a = is_held(apart, a), held_b = is_held(apart, b);
      if (held_a != held_b) return held_b;
      const bool spans_a = spansBlank(apart.shape(a), f), spans_b = spansBlank(apart.shape(b), f);
      if (spans_a != spans_b) return spans_b;
      return apart.shape(a).volume_mm3 < apart.shape(b).volume_mm3;
    });
    for (const std::int32_t part : parts) {
      const Outline& o = outlines[static_cast<std::size_t>(part - 1)];
      if (part == rest || o.web == 0) continue;
      const double mean_web = o.web_thickness / static_cast<double>(o.web);
      const bool open = static_cast<double>(o.open) >= open_share * static_cast<double>(o.open + o.web);
      const bool attached = !open && mean_web > static_cast<double>(skin_mm);
      if (attached && (o.open == 0 || !s.still_attached)) continue;
      HangingPart h;
      h.piece = static_cast<std::int32_t>(piece + 1);
      h.part = part;
      h.shape = apart.shape(part);
      // Its webs: those that touch it and something else.
      for (const Web& w : web_of) {
        const auto own = w.beside.find(part);
        if (own == w.beside.end() || w.beside.size() < 2) continue;
        const std::vector<std::uint32_t>& part_side = own->second;
        const bool all_round = static_cast<double>(part_side.size()) >= skin_share * static_cast<double>(o.open + o.web);
        Tab tab = measure(f, w.cells, part_side, s.grain, all_round);
        tab.onion_skin = all_round && tab.thickness_mm <= static_cast<double>(skin_mm);
        h.tabs.push_back(tab);
        h.web_cells.insert(h.web_cells.end(), w.cells.begin(), w.cells.end());
      }
      if (h.tabs.empty()) continue;
      h.open_share = static_cast<double>(o.open) / static_cast<double>(o.open + o.web);
      (attached ? *s.still_attached : found).push_back(std::move(h));
    }
  }
  std::vector<HangingPart*> with_label(apart.shapes.size() + 1, nullptr);
  for (auto* parts : {&found, s.still_attached}) {
    if (!parts) continue;
    for (HangingPart& h : *parts) with_label[static_cast<std::size_t>(h.part)] = &h;
  }
  for (std::size_t c = 0; c < apart.label.size(); ++c) {
    if (HangingPart* h = with_label[static_cast<std::size_t>(apart.label[c])]) h->cells.push_back(static_cast<std::uint32_t>(c));
  }
  return found;
}

std::vector<std::uint8_t> webMask(const ColumnField& field, const std::vector<HangingPart>& parts) {
  std::vector<std::uint8_t> mask(field.top.size(), 0);
  for (const HangingPart& p : parts) {
    for (const std::uint32_t c : p.web_cells) mask[c] = 1;
  }
  return mask;
}

}  // namespace provecut
