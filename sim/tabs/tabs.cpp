#include "sim/tabs/tabs.h"

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include "sim/observed/pieces.h"
#include "sim/tabs/least_cut.h"
#include "sim/tabs/web_band.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Shorter than this a place where a skin is thicker is no tab. Our estimate, no source.
constexpr double least_tab_in_skin_mm = 2;
// A web as high as the wood is a tab only where it is narrow beside the part itself: by its length over the part's area
// on half its outline. Bars of a frame, as wide as what joins them, are none. Our estimate, no source.
constexpr double neck_share = 0.9, narrow_beside_part = 0.7;
// More bridges as thick as the stock than this, along more of a part's outline than that, are a row of slits and no
// tabs. Our estimate, no source.
constexpr std::size_t most_necks = 8;
constexpr double most_neck_share = 0.2;
// Webs along more of a part's outline than this leave it where it is. Our estimate, no source.
constexpr double most_web_share = 0.4;
// A kerf is no wider than some passes of the widest cutter: what is wider is a pocket. Our estimate, no source.
constexpr double kerfs_wide = 2.2;
// Of more than this the strength tells that the kerf runs with the grain, degrees.
constexpr double along_grain_deg = 60;

// Which regions are connected, and which of them something holds.
struct Hanging {
  const TabbedSearch& search;
  const Regions& regions;
  std::vector<std::vector<Label>> beside;   // per label
  std::vector<std::vector<Label>> part_of;  // the regions of each whole piece
  std::vector<Label> roots;                 // the rest of each piece, and what something holds
  std::vector<bool> is_rest;                // per label
};

void findNeighbours(Hanging& h) {
  const std::vector<Label>& label = h.regions.apart.label;
  h.beside.resize(h.regions.apart.shapes.size() + 1);
  for (const auto& of_one : h.regions.crossings) {
    for (const Crossing& c : of_one) h.beside[label[c.inner]].push_back(label[c.outer]);
  }
  for (auto& list : h.beside) {
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
  }
}

void findRoots(Hanging& h, const HeldIn& held_in) {
  const Pieces& apart = h.regions.apart;
  h.part_of.resize(h.search.pieces.shapes.size());
  for (Label l = 1; l <= apart.shapes.size(); ++l) {
    if (!apart.shape(l).crumb) h.part_of[h.search.pieces.label[apart.shape(l).seed] - 1].push_back(l);
  }
  h.is_rest.assign(apart.shapes.size() + 1, false);
  const std::vector<bool> held = held_in(apart);
  for (const auto& parts : h.part_of) {
    if (parts.size() < 2) continue;
    h.roots.push_back(restOfStock(apart, parts, held, h.search.after));
    h.is_rest[h.roots.back()] = true;
    std::copy_if(parts.begin(), parts.end(), std::back_inserter(h.roots),
                 [&](Label part) { return held[part - 1] && !h.is_rest[part]; });
  }
}

// Per label: does something hold it without `part`? What the part itself holds bears nothing.
std::vector<bool> heldWithout(const Hanging& h, Label part) {
  std::vector<bool> reached(h.beside.size(), false);
  std::vector<Label> open;
  const auto reach = [&](Label l) {
    if (l == part || reached[l]) return;
    reached[l] = true;
    open.push_back(l);
  };
  for (const Label root : h.roots) reach(root);
  while (!open.empty()) {
    const Label l = open.back();
    open.pop_back();
    for (const Label n : h.beside[l]) reach(n);
  }
  return reached;
}

FoundTab tabOf(const TabbedSearch& s, const Section& section, double outline_mm) {
  FoundTab tab;
  tab.at = section.at;
  tab.area_mm2 = section.area_mm2;
  tab.thickness_mm = section.thickness_mm;
  tab.length_mm = section.length_mm;
  tab.kerf_mm = section.across_mm;
  tab.onion_skin = section.thin_length_mm >= skin_share * outline_mm;
  if (tab.onion_skin) {
    tab.thickness_mm = section.thin_mm;
    tab.tabs_in_skin = section.thick_length_mm >= least_tab_in_skin_mm;
  }
  const double across = length(section.across);
  if (across > 0 && length(s.grain) > 0) {
    const double cosine = std::min(1.0, std::abs(dot(section.across, s.grain.vec())) / across);
    tab.grain_deg = std::acos(cosine) * 180 / std::numbers::pi;
    tab.along_grain = tab.grain_deg > along_grain_deg;
  }
  return tab;
}

// How wide a region is on the whole: a bar's width, half of a square's side.
double width_mm(double area_mm2, double outline_mm) {
  return 2 * area_mm2 / outline_mm;
}

// False where a neck is clearly too wide beside the part, before it is measured.
bool mayHang(const Hanging& h, Label part) {
  const cutting::DexelField& f = h.search.after;
  const PieceShape& shape = h.regions.apart.shape(part);
  const double mean_mm = shape.volume_mm3 / shape.plan_area_mm2;
  const double widest = narrow_beside_part * width_mm(shape.plan_area_mm2, length_mm(h.regions.outline[part - 1]));
  const auto groups = thatLieTogether(f, h.regions.crossings[part - 1]);
  return std::none_of(groups.begin(), groups.end(), [&](const std::vector<Crossing>& group) {
    double height = 0, along_x = 0, along_y = 0;
    for (const Crossing& c : group) {
      height += double{cutting::overlap_mm(f, c.inner, c.outer)};
      const bool side_by_side = c.inner + 1 == c.outer || c.outer + 1 == c.inner;
      (side_by_side ? along_y : along_x) += side_by_side ? f.cell_y_mm : f.cell_x_mm;
    }
    return height / static_cast<double>(group.size()) > neck_share * mean_mm &&
           std::hypot(along_x, along_y) > 1.1 * widest + std::max(f.cell_x_mm, f.cell_y_mm);
  });
}

// The part with its tabs; without any where nothing held bears it.
TabbedPart onItsTabs(const Hanging& h, const std::vector<float>& opening_distance_mm, Label part) {
  const RegionOutline& o = h.regions.outline[part - 1];
  TabbedPart t;
  t.part = part;
  t.shape = h.regions.apart.shape(part);
  const SectionSearch search{h.search.after, h.regions, opening_distance_mm, h.search.past,
                             kerfs_wide * h.search.kerf_mm};
  const std::vector<bool> beyond = heldWithout(h, part);
  for (Section& section : leastSections(search, part, beyond)) {
    t.tabs.push_back(tabOf(h.search, section, length_mm(o)));
    t.web_cells.insert(t.web_cells.end(), section.web.begin(), section.web.end());
    t.low_cells.insert(t.low_cells.end(), section.about.begin(), section.about.end());
  }
  return t;
}

// All that may hang, with their tabs.
std::vector<TabbedPart> allOnTabs(const Hanging& h, const std::vector<float>& opening_distance_mm) {
  std::vector<bool> asked_for(h.regions.apart.shapes.size() + 1, h.search.only.empty());
  for (const Cell c : h.search.only) asked_for[h.regions.apart.label[c]] = true;
  std::vector<Label> may_hang;
  for (const auto& of_one : h.part_of) {
    if (of_one.size() < 2) continue;
    std::copy_if(of_one.begin(), of_one.end(), std::back_inserter(may_hang), [&](Label part) {
      return asked_for[part] && !h.is_rest[part] && h.regions.outline[part - 1].web_mm > 0 && mayHang(h, part);
    });
  }
  std::vector<TabbedPart> parts(may_hang.size());
  tbb::parallel_for(std::size_t{0}, parts.size(), [&](std::size_t k) {
    // A thread that waits for others within a close-up takes no second part: one close-up each is enough to hold.
    tbb::this_task_arena::isolate([&] { parts[k] = onItsTabs(h, opening_distance_mm, may_hang[k]); });
  });
  std::erase_if(parts, [](const TabbedPart& t) { return t.tabs.empty(); });
  return parts;
}

// True if it stands among webs with gaps in them.
bool isAttached(const TabbedPart& t) {
  double webs_mm2 = 0, webs_mm = 0;
  for (const FoundTab& tab : t.tabs) {
    if (tab.onion_skin) return false;
    webs_mm2 += tab.area_mm2;
    webs_mm += tab.length_mm;
  }
  return webs_mm > most_web_share * length_mm(t.outline) && webs_mm2 > double{skin_mm} * webs_mm;
}

// True if so little wood holds the part that the rest of its outline is what was meant.
bool hangs(const TabbedSearch& s, const TabbedPart& t) {
  const double mean_mm = t.shape.volume_mm3 / t.shape.plan_area_mm2;
  double wood_mm2 = 0;
  bool skins = true, necks = true;
  for (const FoundTab& tab : t.tabs) {
    if (tab.kerf_mm > kerfs_wide * std::max(s.kerf_mm, neck_mm)) return false;
    const bool neck = tab.thickness_mm > neck_share * mean_mm;
    if (neck && tab.length_mm > narrow_beside_part * width_mm(t.shape.plan_area_mm2, length_mm(t.outline)))
      return false;
    wood_mm2 += tab.area_mm2;
    skins = skins && tab.onion_skin;
    necks = necks && neck;
  }
  const double most_share = necks && t.tabs.size() > most_necks ? most_neck_share : most_wood_share;
  return skins || wood_mm2 <= most_share * length_mm(t.outline) * mean_mm;
}

bool isIn(const std::vector<Cell>& sorted, Cell c) {
  return std::binary_search(sorted.begin(), sorted.end(), c);
}

// Adds one of its dexels to the part's outline, which goes where its wood is neither low nor narrow.
void addToOutline(const Hanging& h, Cell c, TabbedPart& t) {
  const cutting::DexelField& f = h.search.after;
  const std::vector<Label>& label = h.regions.apart.label;
  if (isIn(t.low_cells, c)) return;
  cutting::beside(f, c, [&](Cell n) {
    const double side_mm = cutting::sideLength_mm(f, c, n);
    const double overlap = label[n] == 0 ? 0 : double{cutting::overlap_mm(f, c, n)};
    if (overlap <= double{cutting::no_material_mm}) {
      t.outline.open_mm += side_mm;
    } else if (label[n] != t.part || isIn(t.low_cells, n)) {
      t.outline.web_mm += side_mm;
      t.outline.web_mm2 += side_mm * overlap;
    }
  });
}

// Adds one of its dexels to the part, unless it is low wood about its tabs.
void addCell(const Hanging& h, Cell c, TabbedPart& t) {
  const cutting::DexelField& f = h.search.after;
  if (isIn(t.low_cells, c)) {
    t.shape.plan_area_mm2 -= f.cellArea_mm2();
    t.shape.volume_mm3 -= f.cellArea_mm2() * double{f.meanThickness(c)};
    return;
  }
  t.cells.push_back(c);
  const auto [x, y] = f.place(c);
  t.shape.box.add(
      SetupPoint{f.centreX(x) - f.cell_x_mm / 2, f.centreY(y) - f.cell_y_mm / 2, cutting::shownHeight_mm(f.floor[c])});
  t.shape.box.add(
      SetupPoint{f.centreX(x) + f.cell_x_mm / 2, f.centreY(y) + f.cell_y_mm / 2, cutting::shownHeight_mm(f.top[c])});
}

void addCells(const Hanging& h, std::vector<TabbedPart>& parts) {
  const std::vector<Label>& label = h.regions.apart.label;
  std::vector<TabbedPart*> with_label(h.regions.apart.shapes.size() + 1, nullptr);
  for (TabbedPart& t : parts) {
    with_label[t.part] = &t;
    t.shape.box = {};
    std::sort(t.web_cells.begin(), t.web_cells.end());
    std::sort(t.low_cells.begin(), t.low_cells.end());
  }
  for (Cell c = 0; c < label.size(); ++c) {
    TabbedPart* t = with_label[label[c]];
    if (!t) continue;
    addCell(h, c, *t);
    addToOutline(h, c, *t);
  }
}

// True if a cut goes through, or leaves no more than a skin, anywhere.
bool anyThin(const cutting::DexelField& f) {
  for (int y = 0; y < f.ny; ++y) {
    for (Cell c = f.index(0, y), end = f.index(f.nx, y); c < end; ++c) {
      if (cutting::solid_mm(f, c) <= skin_mm) return true;
    }
  }
  return false;
}

}  // namespace

TabbedParts tabbedParts(const TabbedSearch& s, const HeldIn& held_in) {
  if (s.after.gaps.empty() && !anyThin(s.after)) return {};
  const std::vector<float> opening_distance_mm = openingDistances(s.after);
  const Regions regions = regionsOf(s.after, opening_distance_mm);
  TabbedParts found;
  if (regions.crossings.empty()) return found;
  Hanging h{s, regions, {}, {}, {}, {}};
  findNeighbours(h);
  findRoots(h, held_in);
  std::vector<TabbedPart> parts = allOnTabs(h, opening_distance_mm);
  addCells(h, parts);
  for (TabbedPart& t : parts) {
    if (isAttached(t)) {
      if (t.outline.open_mm > 0) found.still_attached.push_back(std::move(t));
    } else if (hangs(s, t)) {
      found.tabbed.push_back(std::move(t));
    }
  }
  return found;
}

Mask webMask(const cutting::DexelField& field, const std::vector<TabbedPart>& parts) {
  Mask mask(field.top.size(), 0);
  for (const TabbedPart& p : parts) {
    for (const Cell c : p.low_cells) mask[c] = 1;
  }
  return mask;
}

}  // namespace provecut::pieces
