#include "sim/pieces/tabs.h"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <boost/range/iterator_range.hpp>
#include <iterator>
#include <map>

#include "sim/observed/pieces.h"
#include "sim/pieces/tab_measure.h"
#include "sim/pieces/webs.h"
#include "sim/stock/dexel_walk.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

// Of a part's outline at least this share is open, or it does not hang but stands in a pocket.
constexpr double least_open_share = 0.25;
// A thin web along at least this share of a part's outline is an onion skin.
constexpr double skin_share = 0.5;
// Parts on necks and thick webs are told of only where these are less wood than this in all: more is a part of the
// design. Our estimate, no source.
constexpr double max_neck_mm2 = 100;

struct Outline {  // sides of cells along a part's edge
  std::size_t open = 0, web = 0;
  double web_thickness = 0;
};

double sides(const Outline& o) {
  return static_cast<double>(o.open + o.web);
}

// A web's cells, and the cells of each part beside it.
struct Web {
  std::vector<Cell> cells;
  std::map<Label, std::vector<Cell>> beside;
};

// Which parts are connected by webs, and which of them something holds: parts and webs are nodes, and node 0 is what
// is held. The webs in one biconnected component with the way from a part back to node 0 lead there without going back
// through the part; what lies in the part's other components is held by it.
struct EdgeComponent {
  std::size_t component = 0;
};
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property, EdgeComponent>;

struct TabbedGraph {
  std::size_t parts;  // node 1 … parts: by label; then the webs
  Graph graph;
  std::vector<std::size_t> from;  // the node before each on the way from node 0; itself: not reached from there
};

TabbedGraph graphOf(const Pieces& apart, const std::vector<Web>& webs, const std::vector<Label>& held) {
  TabbedGraph g{apart.shapes.size(), Graph(1 + apart.shapes.size() + webs.size()), {}};
  for (std::size_t w = 0; w < webs.size(); ++w) {
    for (const auto& [part, side] : webs[w].beside) boost::add_edge(part, 1 + g.parts + w, g.graph);
  }
  for (const Label part : held) boost::add_edge(0, part, g.graph);
  g.from.resize(boost::num_vertices(g.graph));
  for (std::size_t node = 0; node < g.from.size(); ++node) g.from[node] = node;
  boost::biconnected_components(g.graph, boost::get(&EdgeComponent::component, g.graph),
                                boost::predecessor_map(g.from.data()));
  return g;
}

bool reached(const TabbedGraph& g, std::size_t node) {
  while (g.from[node] != node) node = g.from[node];
  return node == 0;
}

// The webs of `part` that lead to something held without going back through it: what the part itself holds bears
// nothing.
std::vector<std::size_t> holdingWebs(const TabbedGraph& g, Label part) {
  std::vector<std::size_t> webs;
  if (!reached(g, part)) return webs;
  const std::size_t back = g.graph[boost::edge(part, g.from[part], g.graph).first].component;
  for (const auto& e : boost::make_iterator_range(boost::out_edges(part, g.graph))) {
    const std::size_t node = boost::target(e, g.graph);
    if (node > g.parts && g.graph[e].component == back) webs.push_back(node - 1 - g.parts);
  }
  return webs;
}

// What falls apart once `web` is taken away.
struct Falling {
  const TabbedSearch& search;
  const Mask& web;
  const Pieces& apart;
  std::vector<Outline> outlines;            // by part
  std::vector<std::vector<Label>> part_of;  // the parts of each whole piece
  std::vector<Web> webs;
};

void findParts(Falling& f) {
  f.part_of.resize(f.search.pieces.shapes.size());
  for (Label l = 1; l <= f.apart.shapes.size(); ++l) {
    if (!f.apart.shape(l).crumb) f.part_of[f.search.pieces.label[f.apart.shape(l).seed] - 1].push_back(l);
  }
}

void findOutlines(Falling& f) {
  const cutting::DexelField& field = f.search.after;
  f.outlines.resize(f.apart.shapes.size());
  for (Cell c = 0; c < f.web.size(); ++c) {
    if (f.apart.label[c] == 0) continue;
    Outline& o = f.outlines[f.apart.label[c] - 1];
    cutting::beside(field, c, [&](Cell n) {
      if (f.web[n]) {
        ++o.web;
        o.web_thickness += double{cutting::solid_mm(field, n)};
      } else if (isOpen(field, n)) {
        ++o.open;
      }
    });
  }
}

void findWebs(Falling& f) {
  const cutting::DexelField& field = f.search.after;
  const Mask not_web = inverted(f.web);
  const Pieces labels = labelPieces(field, &not_web);
  f.webs.resize(labels.shapes.size());
  for (Cell c = 0; c < f.web.size(); ++c) {
    if (!f.web[c]) continue;
    Web& w = f.webs[labels.label[c] - 1];
    w.cells.push_back(c);
    cutting::beside(field, c, [&](Cell n) {
      const Label l = f.apart.label[n];
      if (l != 0 && !f.apart.shape(l).crumb) w.beside[l].push_back(n);
    });
  }
}

// The part with its tabs; without any where nothing held bears it.
TabbedPart onItsTabs(const Falling& f, const TabbedGraph& graph, Label part) {
  const Outline& o = f.outlines[part - 1];
  TabbedPart t;
  t.part = part;
  t.shape = f.apart.shape(part);
  t.open_share = static_cast<double>(o.open) / sides(o);
  for (const std::size_t k : holdingWebs(graph, part)) {
    const Web& w = f.webs[k];
    const std::vector<Cell>& part_side = w.beside.at(part);
    const bool all_round = static_cast<double>(part_side.size()) >= skin_share * sides(o);
    FoundTab tab = measureTab(f.search.after, {w.cells, part_side, all_round}, f.search.grain);
    tab.onion_skin = all_round && tab.thickness_mm <= double{skin_mm};
    t.tabs.push_back(tab);
    t.web_cells.insert(t.web_cells.end(), w.cells.begin(), w.cells.end());
  }
  return t;
}

// Gives the parts their cells.
void addCells(const Pieces& apart, TabbedParts& parts) {
  std::vector<TabbedPart*> with_label(apart.shapes.size() + 1, nullptr);
  for (auto* list : {&parts.tabbed, &parts.still_attached}) {
    for (TabbedPart& t : *list) with_label[t.part] = &t;
  }
  for (Cell c = 0; c < apart.label.size(); ++c) {
    if (TabbedPart* t = with_label[apart.label[c]]) t->cells.push_back(c);
  }
}

struct Wanted {
  bool still_attached = true;
  double least_mm2 = 0;  // in plan
};

// What falls apart into `apart` once `web` is taken away.
TabbedParts partsOn(const TabbedSearch& s, const Mask& web, const Pieces& apart, const HeldIn& held_in,
                    const Wanted& wanted = {}) {
  Falling f{s, web, apart, {}, {}, {}};
  findParts(f);
  if (std::none_of(f.part_of.begin(), f.part_of.end(), [](const auto& p) { return p.size() > 1; })) return {};
  findOutlines(f);
  findWebs(f);
  const std::vector<bool> held = held_in(apart);
  std::vector<Label> roots;
  std::vector<bool> is_rest(apart.shapes.size() + 1, false);
  for (const auto& parts : f.part_of) {
    if (parts.size() < 2) continue;
    roots.push_back(restOfStock(apart, parts, held, s.after));
    is_rest[roots.back()] = true;
    std::copy_if(parts.begin(), parts.end(), std::back_inserter(roots),
                 [&](Label part) { return held[part - 1] && !is_rest[part]; });
  }
  const TabbedGraph graph = graphOf(apart, f.webs, roots);
  TabbedParts found;
  for (const auto& parts : f.part_of) {
    if (parts.size() < 2) continue;
    for (const Label part : parts) {
      const Outline& o = f.outlines[part - 1];
      if (is_rest[part] || o.web == 0 || apart.shape(part).plan_area_mm2 < wanted.least_mm2) continue;
      const double mean_web = o.web_thickness / static_cast<double>(o.web);
      const bool open = static_cast<double>(o.open) >= least_open_share * sides(o);
      const bool attached = !open && mean_web > double{skin_mm};
      if (attached && (o.open == 0 || !wanted.still_attached)) continue;
      TabbedPart t = onItsTabs(f, graph, part);
      if (t.tabs.empty()) continue;
      (attached ? found.still_attached : found.tabbed).push_back(std::move(t));
    }
  }
  addCells(apart, found);
  return found;
}

}  // namespace

TabbedParts tabbedParts(const TabbedSearch& s, const HeldIn& held_in) {
  const cutting::DexelField& f = s.after;
  bool opened = false;
  cutting::eachCell(f, [&](Cell c) { opened = opened || (isOpen(f, c) && cutHere(s, c)); });
  const Mask thin = thinWebs(s);
  TabbedParts found;
  std::size_t pieces = wholePieces(s.pieces);
  if (std::find(thin.begin(), thin.end(), 1) != thin.end()) {
    const Pieces apart = labelPieces(f, &thin);
    pieces = wholePieces(apart);
    found = partsOn(s, thin, apart, held_in);
  }
  if (!opened) return found;
  const Mask necks = neckWebs(s, thin);
  if (necks == thin) return found;
  const Pieces apart = labelPieces(f, &necks);
  if (wholePieces(apart) <= pieces) return found;  // corners and the like
  Mask known(f.top.size(), 0);
  for (const TabbedPart& t : found.tabbed) {
    for (const Cell c : t.cells) known[c] = 1;
  }
  for (TabbedPart& t : partsOn(s, necks, apart, held_in, {false, least_part_area_mm2}).tabbed) {
    double wood_mm2 = 0;
    for (const FoundTab& tab : t.tabs) wood_mm2 += tab.area_mm2;
    if (!known[t.shape.seed] && wood_mm2 < max_neck_mm2) found.tabbed.push_back(std::move(t));
  }
  return found;
}

Mask webMask(const cutting::DexelField& field, const std::vector<TabbedPart>& parts) {
  Mask mask(field.top.size(), 0);
  for (const TabbedPart& p : parts) {
    for (const Cell c : p.web_cells) mask[c] = 1;
  }
  return mask;
}

}  // namespace provecut::pieces
