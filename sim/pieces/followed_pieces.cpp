#include "sim/pieces/followed_pieces.h"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <span>
#include <tuple>

#include "sim/path/setup_frame.h"
#include "sim/pieces/piece_outline.h"
#include "sim/pieces/piece_size.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;

constexpr std::size_t nobody = std::numeric_limits<std::size_t>::max();
// Of the rasters about loose pieces, all together: 100 MB. Beyond that a piece is told to be loose, but not what the
// bit does to it next.
constexpr std::size_t max_loose_cells = 25'000'000;

StockPoint2 placeInStock(const ProgramAt& at, const cutting::DexelField& f, Cell c) {
  const auto [x, y] = f.place(c);
  return setupToStock(at.job.stock, at.setup, f.centre(x, y));
}

bool tapeIn(const Job& job, const std::vector<int>& hold_downs) {
  return std::any_of(hold_downs.begin(), hold_downs.end(), [&](int h) { return isUnderStock(job.hold_downs[h].kind); });
}

// The pieces of one program, and who of those followed each of them is.
struct Following {
  const ProgramCut& cut;
  const Pieces& was;
  const Pieces& now;
  const Parting& parting;
  ProgramRun& run;
  std::vector<FollowedPiece>& followed;
  PieceEvents& events;
  std::vector<std::size_t> who;                    // per piece
  std::vector<std::vector<std::size_t>> children;  // per piece
  std::vector<std::size_t> told;                   // pieces that are told in this program
  std::vector<std::optional<std::size_t>> place;   // per piece, in the run's list
};

bool spans(const PartedPiece& p, const cutting::DexelField& f) {
  PieceShape shape;
  shape.box = p.box;
  return spansStock(shape, f);
}

// Of the pieces that one was parted into, the one that it goes on as: what something holds, else the frame that spans
// the stock, else the largest.
std::size_t restOf(const Following& f, const std::vector<std::size_t>& pieces) {
  return *std::max_element(pieces.begin(), pieces.end(), [&](std::size_t a, std::size_t b) {
    const auto rank = [&](const PartedPiece& p) {
      return std::tuple(!p.held_by.empty(), spans(p, f.cut.after), p.plan_area_mm2);
    };
    return rank(f.parting.pieces[a]) < rank(f.parting.pieces[b]);
  });
}

// A frame has nearly all of the stock's edge: a lead-in may have crossed it.
constexpr double edge_of_frame = 0.95;
// It is waste where what it is about is large beside it. A screw in the waste of an opening holds no part (our
// estimate, no source).
constexpr double least_share_inside = 0.1;

// Whether it is all round the stock's edge.
bool isAtEdge(const cutting::DexelField& f, const std::vector<Cell>& cells) {
  const auto at_edge = std::count_if(cells.begin(), cells.end(), [&](Cell c) {
    const auto [x, y] = f.place(c);
    return x == 0 || y == 0 || x == f.nx - 1 || y == f.ny - 1;
  });
  return static_cast<double>(at_edge) >= edge_of_frame * 2 * (f.nx + f.ny - 2);
}

bool reachesEdge(const PartedPiece& p, const cutting::DexelField& f) {
  const double slack_x = 1.5 * f.cell_x_mm, slack_y = 1.5 * f.cell_y_mm;
  return p.box.low.x < slack_x || p.box.low.y < slack_y || p.box.high.x > f.nx * f.cell_x_mm - slack_x ||
         p.box.high.y > f.ny * f.cell_y_mm - slack_y;
}

// Of the pieces that the stock was parted into, the loose frame about a part that something holds.
std::optional<std::size_t> frameOf(const Following& f, const std::vector<std::size_t>& pieces) {
  double inside_mm2 = 0;  // held
  std::optional<std::size_t> frame;
  for (const std::size_t k : pieces) {
    const PartedPiece& p = f.parting.pieces[k];
    if (!p.held_by.empty()) {
      if (reachesEdge(p, f.cut.after)) return std::nullopt;
      if (p.plan_area_mm2 >= least_part_area_mm2) inside_mm2 += p.plan_area_mm2;
    } else if (spans(p, f.cut.after)) {
      frame = k;
    }
  }
  if (!frame || inside_mm2 <= 0 || inside_mm2 < least_share_inside * f.parting.pieces[*frame].plan_area_mm2)
    return std::nullopt;
  return isAtEdge(f.cut.after, cellsOf(f.parting, f.now, std::span(&*frame, 1)).front()) ? frame : std::nullopt;
}

// Who the pieces are that the program began with.
void recogniseFirst(Following& f) {
  std::map<Label, std::size_t> with_label;
  for (std::size_t k = 0; k < f.parting.pieces.size(); ++k) {
    const PartedPiece& p = f.parting.pieces[k];
    if (!p.parent) with_label[f.was.label[p.seed]] = k;
  }
  for (std::size_t k = 0; k < f.followed.size(); ++k) {
    const auto c = cellAt(f.cut.before, f.cut.at, f.followed[k].seed);
    const auto found = c ? with_label.find(f.was.label[*c]) : with_label.end();
    if (found != with_label.end()) f.who[found->second] = k;
  }
  for (const auto& [label, piece] : with_label) {
    if (f.who[piece] != nobody) continue;
    f.who[piece] = f.followed.size();
    f.followed.emplace_back();
  }
}

bool isLoose(const FollowedPiece& p) {
  return p.told && p.held_by.empty();
}

void tellNew(Following& f, std::size_t piece, std::size_t parent) {
  const PartedPiece& p = f.parting.pieces[piece];
  Piece told;
  told.move = *p.parted_by;
  if (const Tool* tool = findTool(f.cut.at.job, f.cut.program.motions[told.move].tool))
    told.cutter_mm = tool->diameter_mm;
  told.plan_area_mm2 = p.plan_area_mm2;
  told.bounds = setupToWork(f.cut.at.setup, p.box);
  told.at = setupToWork(f.cut.at.setup, cellCentre(f.cut.after, p.seed));
  told.held_by_hold_downs = namesOf(p.held_by);
  told.held_by_tape = tapeIn(f.cut.at.job, told.held_by_hold_downs);
  told.free = p.held_by.empty();
  told.of_loose = isLoose(f.followed[f.who[parent]]);
  if (const auto& from = f.followed[f.who[parent]].told) told.parent = PieceRef{from->run, from->place};
  FollowedPiece follow;
  follow.told = Told{f.cut.at.run, f.run.pieces.size()};
  follow.held_by = told.held_by_hold_downs;
  follow.plan_area_mm2 = p.plan_area_mm2;
  f.who[piece] = f.followed.size();
  f.followed.push_back(std::move(follow));
  f.told.push_back(piece);
  f.place[piece] = f.run.pieces.size();
  f.run.pieces.push_back(std::move(told));
}

// From the program's begin to its end: parents stand behind their children.
void tellInOrder(Following& f) {
  for (std::size_t k = f.parting.pieces.size(); k-- > 0;) {
    const PartedPiece& p = f.parting.pieces[k];
    FollowedPiece& self = f.followed[f.who[k]];
    // The rest of a piece may lose its hold as it is parted, such as tape that the kerf leaves too little of.
    const bool later = p.loosened_by && (!p.parted_by || *p.loosened_by > *p.parted_by || !self.held_by.empty());
    if (later && self.told) f.events.loosened.push_back({*self.told, {f.cut.at.run, *p.loosened_by}});
    if (p.loose) self.held_by.clear();
    if (p.milled && self.told) f.events.ended.push_back({*self.told, {f.cut.at.run, *p.ended_by}, true});
    const std::vector<std::size_t>& into = f.children[k];
    if (into.empty()) continue;
    const auto frame = self.told ? std::nullopt : frameOf(f, into);
    const std::size_t rest = restOf(f, into);
    if (!frame) f.who[rest] = f.who[k];
    for (const std::size_t child : into) {
      if (child == rest && !frame) continue;
      tellNew(f, child, k);
      if (child != frame) continue;
      f.followed[f.who[child]].frame = true;
      f.run.pieces[*f.place[child]].frame = true;
    }
  }
}

// Of the free ones: tape under them, too little to hold them.
void measureTape(Following& f, const std::vector<std::vector<Cell>>& cells) {
  const Job& job = f.cut.at.job;
  std::vector<Label> label(f.cut.after.top.size(), 0);
  for (std::size_t k = 0; k < cells.size(); ++k) {
    for (const Cell c : cells[k]) label[c] = static_cast<Label>(k + 1);
  }
  const auto holds = areasUnder(f.cut.after, label, cells.size(), job, f.cut.at.entry.hold_downs);
  for (std::size_t k = 0; k < cells.size(); ++k) {
    Piece& piece = f.run.pieces[*f.place[f.told[k]]];
    for (const Hold& h : holds[k]) {
      if (piece.free && job.hold_downs[h.hold_down].kind == HoldDownKind::tape) piece.little_tape_mm2 += h.area_mm2;
    }
  }
}

// The volume of pieces told, of what they lost since they were parted as the program found it; and how high they are.
void measureTold(Following& f) {
  const cutting::DexelField &before = f.cut.before, &after = f.cut.after;
  const auto cells = cellsOf(f.parting, f.now, f.told);
  measureTape(f, cells);
  for (std::size_t k = 0; k < f.told.size(); ++k) {
    Piece& piece = f.run.pieces[f.followed[f.who[f.told[k]]].told->place];
    for (const Cell c : cells[k]) {
      const double height = f.now.label[c] != 0 ? double{after.meanThickness(c)} : double{before.thickness(c)};
      piece.volume_mm3 += height * after.cellArea_mm2();
    }
    const bool whole = std::all_of(cells[k].begin(), cells[k].end(), [&](Cell c) { return f.now.label[c] != 0; });
    if (whole) piece.bounds = setupToWork(f.cut.at.setup, exactBox(after, cells[k], f.parting.pieces[f.told[k]].box));
    if (f.cut.at.outlines) piece.outline = pieceOutline(after, cells[k], f.cut.at.job.stock, f.cut.at.setup);
  }
}

// The moves of the program that cut at the piece while it was loose.
void addCutsAt(const ProgramCut& cut, const ProgramRun& run, const FollowedPiece& piece, std::uint32_t first,
               std::uint32_t end, PieceEvents& events) {
  const CutsAtLoose cuts =
      cutsAtLoose(*piece.loose, cut.at.job, cut.at.setup, cut.program, cut.cutters, run.cuts, {first, end});
  for (const std::uint32_t m : cuts.into) events.cut_loose.push_back({*piece.told, {{cut.at.run, m}, true}});
  for (const std::uint32_t m : cuts.beside) events.cut_loose.push_back({*piece.told, {{cut.at.run, m}, false}});
}

// Gives those that came loose in this program their outline, and notes what cut at any loose piece.
void followLoose(Following& f) {
  const auto none = std::numeric_limits<std::uint32_t>::max();
  std::vector<std::size_t> loose;  // a piece before those that it was split into
  for (std::size_t k = f.parting.pieces.size(); k-- > 0;) {
    const FollowedPiece& self = f.followed[f.who[k]];
    if (f.parting.pieces[k].loosened_by && self.told && !self.loose) loose.push_back(k);
  }
  std::vector<std::uint32_t> end(f.followed.size(), none);
  for (std::size_t k = 0; k < f.parting.pieces.size(); ++k) {
    const PartedPiece& p = f.parting.pieces[k];
    if (p.milled) end[f.who[k]] = *p.ended_by + 1;
  }
  std::size_t raster = 0;
  for (std::size_t k = 0; k < f.followed.size(); ++k) {
    const FollowedPiece& p = f.followed[k];
    if (!p.loose) continue;
    raster += p.loose->distance_mm.cells.size();
    addCutsAt(f.cut, f.run, p, 0, end[k], f.events);
  }
  const auto cells = cellsOf(f.parting, f.now, loose);
  for (std::size_t i = 0; i < loose.size(); ++i) {
    const PartedPiece& p = f.parting.pieces[loose[i]];
    FollowedPiece& self = f.followed[f.who[loose[i]]];
    if (raster > max_loose_cells) return;
    if (self.loose) continue;  // it was loose before it was split
    if (self.told->run == f.cut.at.run && f.run.pieces[self.told->place].of_loose) continue;  // told with that one
    self.loose = loosePiece(f.cut.after, f.cut.at.setup, cells[i], p.box, widestCutter_mm(f.cut.at.job) / 2);
    raster += self.loose->distance_mm.cells.size();
    addCutsAt(f.cut, f.run, self, *p.loosened_by + 1, p.milled ? *p.ended_by + 1 : none, f.events);
  }
}

// Where they are as the program ends; those that are no more are followed no longer.
void bringUpToDate(Following& f) {
  std::vector<FollowedPiece> left;
  for (std::size_t k = 0; k < f.parting.pieces.size(); ++k) {
    const PartedPiece& p = f.parting.pieces[k];
    if (p.now == 0) continue;
    FollowedPiece& self = f.followed[f.who[k]];
    self.seed = placeInStock(f.cut.at, f.cut.after, f.now.shape(p.now).seed);
    left.push_back(std::move(self));
  }
  f.followed = std::move(left);
}

}  // namespace

void observeReleased(const ProgramAt& at, const cutting::DexelField& field, const Pieces& pieces, ProgramRun& run,
                     std::vector<FollowedPiece>& followed) {
  const auto held = heldBy(field, pieces, at.job, at.entry.hold_downs);
  for (FollowedPiece& f : followed) {
    const auto c = cellAt(field, at, f.seed);
    if (!f.told || f.held_by.empty() || !c || pieces.label[*c] == 0) continue;
    const Label label = pieces.label[*c];
    if (!held[label - 1].empty()) {
      f.held_by = held[label - 1];
      continue;
    }
    Piece p;
    p.volume_mm3 = pieces.shape(label).volume_mm3;
    p.plan_area_mm2 = f.plan_area_mm2;
    p.bounds = setupToWork(at.setup, pieces.shape(label).box);
    p.at = setupToWork(at.setup, cellCentre(field, *c));
    p.held_before = f.held_by;
    p.told_before = PieceRef{f.told->run, f.told->place};
    p.free = true;
    f.told = Told{at.run, run.pieces.size()};
    f.held_by.clear();
    std::vector<Cell> cells;
    for (Cell cell = 0; cell < pieces.label.size(); ++cell) {
      if (pieces.label[cell] == label) cells.push_back(cell);
    }
    if (at.outlines) p.outline = pieceOutline(field, cells, at.job.stock, at.setup);
    p.bounds = setupToWork(at.setup, exactBox(field, cells, pieces.shape(label).box));
    f.loose = loosePiece(field, at.setup, cells, pieces.shape(label).box, widestCutter_mm(at.job) / 2);
    run.pieces.push_back(std::move(p));
  }
}

std::vector<std::optional<std::size_t>> observeParted(const ProgramCut& cut, const Pieces& was, const Pieces& now,
                                                      const Parting& parting, ProgramRun& run,
                                                      std::vector<FollowedPiece>& followed, PieceEvents& events) {
  Following f{cut, was, now, parting, run, followed, events, {}, {}, {}, {}};
  f.who.assign(parting.pieces.size(), nobody);
  f.place.resize(parting.pieces.size());
  f.children.resize(parting.pieces.size());
  for (std::size_t k = 0; k < parting.pieces.size(); ++k) {
    if (parting.pieces[k].parent) f.children[*parting.pieces[k].parent].push_back(k);
  }
  recogniseFirst(f);
  tellInOrder(f);
  measureTold(f);
  followLoose(f);
  bringUpToDate(f);
  return std::move(f.place);
}

void observeCutsAtLoose(const ProgramCut& cut, const ProgramRun& run, const std::vector<FollowedPiece>& followed,
                        PieceEvents& events) {
  for (const FollowedPiece& p : followed) {
    if (p.loose) addCutsAt(cut, run, p, 0, std::numeric_limits<std::uint32_t>::max(), events);
  }
}

}  // namespace provecut::pieces
