#include "report/facts/piece_history.h"

#include <algorithm>
#include <compare>
#include <map>
#include <utility>

#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

// A part that is cut off its tabs is as large as it was on them, but for their stubs: about as wide as a kerf.
constexpr double least_share_of_tabbed = 0.5;
constexpr double box_slack_mm = 0.5;

Box3<StockFrame> boxInStock(const Facts& facts, int run, const WorkBox& bounds) {
  const Setup& setup = *facts.programs[run].setup;
  Box3<StockFrame> box;
  for (const WorkPoint p : {bounds.low, bounds.high})
    box.add(setupToStock(facts.job.stock, setup, workToSetup(setup, p)));
  return box;
}

bool isWithin(const Box3<StockFrame>& inner, const Box3<StockFrame>& outer, double slack_mm) {
  return inner.low.x > outer.low.x - slack_mm && inner.low.y > outer.low.y - slack_mm &&
         inner.high.x < outer.high.x + slack_mm && inner.high.y < outer.high.y + slack_mm;
}

// When a piece is told of, and which.
struct Moment {
  int run = 0;
  bool later = true;  // than the program's start
  std::uint32_t move = 0;
  std::size_t piece = 0;
  friend auto operator<=>(const Moment&, const Moment&) = default;
};

std::vector<Moment> momentsOf(const Facts& facts) {
  std::vector<Moment> moments;
  for (std::size_t i = 0; i < std::min(facts.run.programs.size(), facts.programs.size()); ++i) {
    const std::vector<Piece>& pieces = facts.run.programs[i].pieces;
    for (std::size_t k = 0; k < pieces.size(); ++k)
      moments.push_back({static_cast<int>(i), !isReleased(pieces[k]), pieces[k].move, k});
  }
  std::sort(moments.begin(), moments.end());
  return moments;
}

// All that is told, in order of time, and where each stands.
struct InOrder {
  std::vector<ToldPiece> list;
  std::map<std::pair<int, std::size_t>, std::size_t> at;

  std::size_t find(PieceRef ref) const { return at.at({ref.run, ref.piece}); }
};

InOrder toldInOrder(const Facts& facts) {
  InOrder told;
  for (const Moment& m : momentsOf(facts)) {
    told.at[{m.run, m.piece}] = told.list.size();
    told.list.push_back({m.run, &facts.run.programs[m.run].pieces[m.piece]});
  }
  return told;
}

// Whether `later` is the tabbed part once more: as large, and at its place.
bool isTabbedAgain(const Facts& facts, const ToldPiece& tabbed, const ToldPiece& later) {
  const Piece &was = *tabbed.piece, &now = *later.piece;
  if (isReleased(now) || was.bounds.empty || now.bounds.empty) return false;
  const auto [least, most] = std::minmax(was.plan_area_mm2, now.plan_area_mm2);
  if (least < least_share_of_tabbed * most) return false;
  double slack_mm = box_slack_mm;
  for (const Tab& tab : was.tabs) slack_mm = std::max(slack_mm, tab.kerf_mm);
  const auto box_was = boxInStock(facts, tabbed.run, was.bounds), box_now = boxInStock(facts, later.run, now.bounds);
  return isWithin(box_now, box_was, slack_mm) && isWithin(box_was, box_now, slack_mm);
}

// Of each that is told: as what it was told before, if it was.
std::vector<std::optional<std::size_t>> toldBefore(const Facts& facts, const InOrder& told) {
  std::vector<std::optional<std::size_t>> before(told.list.size());
  for (std::size_t n = 0; n < told.list.size(); ++n) {
    const Piece& piece = *told.list[n].piece;
    if (isReleased(piece) && piece.parent) before[n] = told.find(*piece.parent);
    if (piece.tabs.empty()) continue;
    for (std::size_t later = n + 1; later < told.list.size(); ++later) {
      if (before[later] || !isTabbedAgain(facts, told.list[n], told.list[later])) continue;
      before[later] = n;
      break;
    }
  }
  return before;
}

void addTold(const ToldPiece& told, PieceHistory& h) {
  const Piece& piece = *told.piece;
  const MoveRef by{told.run, piece.move};
  if (!h.told.empty() && !h.told.back().piece->tabs.empty() && piece.tabs.empty()) h.tabs_cut = by;
  if (piece.free) h.loose_from = by;
  if (!piece.free && piece.loosened_by) h.loose_from = piece.loosened_by;
  if (piece.milled) h.milled_by = piece.ended_by;
  h.told.push_back(told);
}

}  // namespace

std::vector<PieceHistory> pieceHistories(const Facts& facts) {
  const InOrder told = toldInOrder(facts);
  const auto before = toldBefore(facts, told);
  std::vector<std::size_t> history(told.list.size());  // in the list, of each that is told
  std::vector<PieceHistory> list;
  for (std::size_t n = 0; n < told.list.size(); ++n) {
    history[n] = before[n] ? history[*before[n]] : list.size();
    if (!before[n]) list.emplace_back();
    addTold(told.list[n], list[history[n]]);
  }
  for (std::size_t n = 0; n < told.list.size(); ++n) {
    const std::optional<PieceRef> parent = told.list[n].piece->parent;
    if (before[n] || !parent) continue;
    list[history[n]].parent = history[told.find(*parent)];
    list[history[told.find(*parent)]].came_off_it.push_back(history[n]);
  }
  return list;
}

const std::vector<StockRing>& outlineOf(const PieceHistory& history) {
  return history.told.back().piece->outline;
}

std::uint32_t lineOf(const Facts& facts, MoveRef move) {
  const std::vector<Motion>& motions = facts.programs[move.run].program.motions;
  return move.move < motions.size() ? motions[move.move].line : 0;
}

}  // namespace provecut
