#include "sim/pieces/parting.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include "parser/base/check.h"
#include "sim/numeric/union_find.h"

namespace provecut::pieces {

namespace {

using cutting::Cell;
using cutting::ContactLoss;
using cutting::lost_all;

// A set of dexels that hang together, as far as they have come back.
struct Growing {
  std::size_t cells = 0;
  SetupBox box;
  Label first = 0, last = 0;         // its chain of numbers
  std::vector<Hold> under;           // hold-downs that meet it, enough to hold it or not
  std::optional<std::size_t> piece;  // none: crumbs as yet
  bool touched = false;              // by the move at work
  std::vector<std::size_t> met;      // the pieces that this move had parted
};

// The stock on its way back. A number stands for a label of the program's end or, after those, for a dexel that is
// gone.
struct Reversal {
  const PartingSearch& search;
  std::vector<cutting::Lost> lost;  // per dexel
  std::vector<Label> number;        // per dexel; 0: not there (yet)
  UnionFind sets;                   // of numbers
  std::vector<std::uint32_t> at;    // per number that is a root: its Growing
  std::vector<Growing> growing;
  std::vector<std::uint32_t> unused;        // places in `growing`
  std::vector<std::uint32_t> touched;       // by the move at work
  std::vector<clearance::Obstacle> bodies;  // of the fitted hold-downs
  Parting parting;
};

void addUnder(std::vector<Hold>& under, const Hold& hold) {
  const auto same =
      std::find_if(under.begin(), under.end(), [&](const Hold& h) { return h.hold_down == hold.hold_down; });
  if (same != under.end()) {
    same->area_mm2 += hold.area_mm2;
    same->sides |= hold.sides;
  } else {
    under.push_back(hold);
  }
}

bool isHeld(const Job& job, const std::vector<Hold>& under) {
  return !thoseThatHold(job, under).empty();
}

std::uint32_t addGrowing(Reversal& r, Label number) {
  std::uint32_t place = static_cast<std::uint32_t>(r.growing.size());
  if (r.unused.empty()) {
    r.growing.emplace_back();
  } else {
    place = r.unused.back();
    r.unused.pop_back();
    r.growing[place] = {};
  }
  r.growing[place].first = r.growing[place].last = number;
  r.at[number] = place;
  return place;
}

std::size_t addPiece(Reversal& r, Cell seed) {
  PartedPiece p;
  p.seed = seed;
  r.parting.pieces.push_back(std::move(p));
  r.parting.first.push_back(0);
  r.parting.last.push_back(0);
  return r.parting.pieces.size() - 1;
}

// The piece as it stands at this point of the way back: the next move may join it to others.
void describe(Reversal& r, const Growing& g) {
  PartedPiece& p = r.parting.pieces[*g.piece];
  p.held_by = thoseThatHold(r.search.job, g.under);
  p.plan_area_mm2 = static_cast<double>(g.cells) * r.search.after.cellArea_mm2();
  p.box = g.box;
  r.parting.first[*g.piece] = g.first;
  r.parting.last[*g.piece] = g.last;
}

Growing& touch(Reversal& r, std::uint32_t place) {
  Growing& g = r.growing[place];
  if (g.touched) return g;
  g.touched = true;
  r.touched.push_back(place);
  g.met.clear();
  if (g.piece) {
    g.met.push_back(*g.piece);
    describe(r, g);
  }
  return g;
}

void join(Reversal& r, Label a, Label b) {
  const std::uint32_t root_a = r.sets.find(a), root_b = r.sets.find(b);
  if (root_a == root_b) return;
  std::uint32_t into = r.at[root_a], from = r.at[root_b];
  if (r.growing[into].cells < r.growing[from].cells) std::swap(into, from);
  Growing &g = touch(r, into), &other = touch(r, from);
  g.cells += other.cells;
  g.box.add(other.box);
  // One chain after the other: what was a stretch of it stays one, and so a piece is told by its ends.
  r.parting.next[g.last] = other.first;
  g.last = other.last;
  for (const Hold& h : other.under) addUnder(g.under, h);
  g.met.insert(g.met.end(), other.met.begin(), other.met.end());
  if (!g.piece) g.piece = other.piece;
  other.touched = false;
  other.first = 0;
  r.unused.push_back(from);
  r.at[r.sets.join(root_a, root_b)] = into;
}

SetupBox boxOf(const cutting::DexelField& f, Cell c, float low, float high) {
  const auto [x, y] = f.place(c);
  SetupBox box;
  box.add(SetupPoint{f.centreX(x) - f.cell_x_mm / 2, f.centreY(y) - f.cell_y_mm / 2, cutting::shownHeight_mm(low)});
  box.add(SetupPoint{f.centreX(x) + f.cell_x_mm / 2, f.centreY(y) + f.cell_y_mm / 2, cutting::shownHeight_mm(high)});
  return box;
}

// A dexel that the program emptied is there again.
void bringBack(Reversal& r, Cell c, std::size_t place) {
  const cutting::DexelField& before = r.search.before;
  const auto number = static_cast<Label>(r.parting.labels + 1 + place);
  r.number[c] = number;
  r.parting.gone[place] = c;
  Growing& g = r.growing[addGrowing(r, number)];
  g.cells = 1;
  g.box = boxOf(before, c, before.floor[c], before.top[c]);
  for (std::size_t k = 0; k < r.bodies.size(); ++k) {
    const Meets m = meets(r.search.job, r.search.fitted[k], r.bodies[k], before, c);
    if (m.meets) g.under.push_back({r.search.fitted[k], before.cellArea_mm2(), m.sides});
  }
}

void joinBeside(Reversal& r, const ContactLoss& loss) {
  const Cell c = loss.cell;
  cutting::eachNeighbour(r.search.after, c, [&](const cutting::Neighbour& n) {
    if (!(loss.lost & (lost_all | n.mine)) || r.number[n.cell] == 0 || r.number[c] == 0) return;
    if ((r.lost[c] & (lost_all | n.mine)) || (r.lost[n.cell] & (lost_all | n.its))) return;
    join(r, r.number[c], r.number[n.cell]);
  });
}

// Whether some square that holds the dexel and is as wide as a piece must be somewhere is all one set.
bool wideAbout(Reversal& r, Cell c) {
  const cutting::DexelField& f = r.search.after;
  const int side = widthOfPiece(f);
  const std::uint32_t root = r.sets.find(r.number[c]);
  const auto [x, y] = f.place(c);
  const auto all = [&](int left, int front) {
    for (int iy = front; iy < front + side; ++iy) {
      for (int ix = left; ix < left + side; ++ix) {
        if (!f.inside(ix, iy)) return false;
        const Label number = r.number[f.index(ix, iy)];
        if (number == 0 || r.sets.find(number) != root) return false;
      }
    }
    return true;
  };
  for (int front = y - side + 1; front <= y; ++front) {
    for (int left = x - side + 1; left <= x; ++left) {
      if (all(left, front)) return true;
    }
  }
  return false;
}

// Crumbs that have grown into a piece: the move milled it away.
void noteMilled(Reversal& r, const ContactLoss& loss) {
  if (r.number[loss.cell] == 0) return;
  Growing& g = r.growing[r.at[r.sets.find(r.number[loss.cell])]];
  if (g.piece || static_cast<double>(g.cells) * r.search.after.cellArea_mm2() < least_piece_mm2) return;
  if (!wideAbout(r, loss.cell)) return;
  g.piece = addPiece(r, loss.cell);
  PartedPiece& p = r.parting.pieces[*g.piece];
  p.ended_by = loss.motion;
  p.milled = true;
  p.loose = !isHeld(r.search.job, g.under);
}

// What the move did to the pieces that its contacts have brought together.
void tellParted(Reversal& r, Growing& g, std::uint32_t motion) {
  if (g.met.size() > 1) {
    const std::size_t whole = addPiece(r, r.parting.pieces[g.met.front()].seed);
    for (const std::size_t k : g.met) {
      PartedPiece& p = r.parting.pieces[k];
      p.parent = whole;
      p.parted_by = motion;
      if (p.held_by.empty()) p.loosened_by = motion;
    }
    g.piece = whole;
    r.parting.pieces[whole].ended_by = motion;
    r.parting.pieces[whole].loose = !isHeld(r.search.job, g.under);
  } else if (g.met.size() == 1) {
    PartedPiece& p = r.parting.pieces[g.met.front()];
    if (p.held_by.empty() && isHeld(r.search.job, g.under)) p.loosened_by = motion;
  }
}

void undo(Reversal& r, std::span<const ContactLoss> move, std::size_t& gone) {
  for (const ContactLoss& loss : move) {
    r.lost[loss.cell] &= static_cast<cutting::Lost>(~loss.lost);
    if ((loss.lost & lost_all) && r.number[loss.cell] == 0) bringBack(r, loss.cell, gone++);
  }
  for (const ContactLoss& loss : move) joinBeside(r, loss);
  for (const ContactLoss& loss : move) noteMilled(r, loss);
  for (const std::uint32_t place : r.touched) {
    Growing& g = r.growing[place];
    if (!g.touched) continue;  // it went into another
    g.touched = false;
    tellParted(r, g, move.front().motion);
  }
  r.touched.clear();
}

Reversal startOf(const PartingSearch& s) {
  Reversal r{s, s.contacts.lost, s.now.label, UnionFind(), {}, {}, {}, {}, {}, {}};
  const std::size_t gone = std::count_if(s.contacts.list.begin(), s.contacts.list.end(),
                                         [](const ContactLoss& l) { return (l.lost & lost_all) != 0; });
  r.parting.labels = s.now.shapes.size();
  r.parting.gone.resize(gone);
  r.parting.next.assign(r.parting.labels + 1 + gone, 0);
  r.sets = UnionFind(r.parting.next.size());
  r.at.assign(r.parting.next.size(), 0);
  for (const int h : s.fitted) r.bodies.push_back(clearance::obstacle(s.job.hold_downs[h], s.after.thickness_mm));
  const auto under = areasUnder(s.after, s.now.label, r.parting.labels, s.job, s.fitted);
  for (Label l = 1; l <= r.parting.labels; ++l) {
    const PieceShape& shape = s.now.shape(l);
    Growing& g = r.growing[addGrowing(r, l)];
    g.cells = static_cast<std::size_t>(std::lround(shape.plan_area_mm2 / s.after.cellArea_mm2()));
    g.box = shape.box;
    g.under = under[l - 1];
    if (shape.crumb) continue;
    g.piece = addPiece(r, shape.seed);
    r.parting.pieces[*g.piece].now = l;
    r.parting.pieces[*g.piece].loose = !isHeld(s.job, g.under);
  }
  return r;
}

// The pieces as the program began. Those that were one by then and have not met, as undercuts can have it, were parted
// by its last cut.
void finish(Reversal& r) {
  std::map<Label, std::vector<std::uint32_t>> of_piece;
  for (std::uint32_t place = 0; place < r.growing.size(); ++place) {
    const Growing& g = r.growing[place];
    if (!g.piece || g.first == 0) continue;
    describe(r, g);
    of_piece[r.search.was.label[r.parting.pieces[*g.piece].seed]].push_back(g.first);
  }
  for (const auto& [label, numbers] : of_piece) {
    if (label == 0) continue;
    for (std::size_t k = 1; k < numbers.size(); ++k) join(r, numbers[0], numbers[k]);
  }
  for (const std::uint32_t place : r.touched) {
    Growing& g = r.growing[place];
    if (!g.touched) continue;
    g.touched = false;
    r.parting.in_undercuts = r.parting.in_undercuts || g.met.size() > 1;
    tellParted(r, g, r.search.last_cut);
    describe(r, g);
  }
  r.touched.clear();
}

}  // namespace

Parting partingOf(const PartingSearch& search) {
  Reversal r = startOf(search);
  const std::vector<ContactLoss>& list = search.contacts.list;
  std::size_t gone = 0;
  for (std::size_t end = list.size(), begin = end; end > 0; end = begin) {
    while (begin > 0 && list[begin - 1].motion == list[end - 1].motion) --begin;
    undo(r, std::span(list).subspan(begin, end - begin), gone);
  }
  finish(r);
  return std::move(r.parting);
}

std::vector<std::vector<Cell>> cellsOf(const Parting& parting, const Pieces& now, std::span<const std::size_t> pieces) {
  std::vector<std::vector<Cell>> cells(pieces.size());
  std::unordered_map<Label, std::vector<std::size_t>> wanted;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const Label last = parting.last[pieces[k]];
    for (Label number = parting.first[pieces[k]]; number != 0; number = number == last ? 0 : parting.next[number]) {
      if (number <= parting.labels) {
        wanted[number].push_back(k);
      } else {
        cells[k].push_back(parting.gone[number - parting.labels - 1]);
      }
    }
  }
  if (wanted.empty()) return cells;
  for (Cell c = 0; c < now.label.size(); ++c) {
    if (now.label[c] == 0) continue;
    const auto found = wanted.find(now.label[c]);
    if (found == wanted.end()) continue;
    for (const std::size_t k : found->second) cells[k].push_back(c);
  }
  return cells;
}

}  // namespace provecut::pieces
