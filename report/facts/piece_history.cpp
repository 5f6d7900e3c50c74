#include "report/facts/piece_history.h"

#include <algorithm>
#include <compare>
#include <map>
#include <utility>

#include "sim/path/setup_frame.h"

namespace provecut {

namespace {

// A part that is cut off its tabs is nearly as large as it was on them, and reaches beyond by their stubs at most.
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

// A tabbed part is told again once its tabs are cut: as the first piece of its size that is parted at its place.
void joinTabbed(const Facts& facts, std::vector<PieceHistory>& list) {
  for (std::size_t k = 0; k < list.size(); ++k) {
    const Piece& tabbed = *list[k].piece;
    if (tabbed.tabs.empty() || tabbed.bounds.empty) continue;
    double slack_mm = box_slack_mm;
    for (const Tab& tab : tabbed.tabs) slack_mm = std::max(slack_mm, tab.kerf_mm);
    const Box3<StockFrame> box = boxInStock(facts, list[k].run, tabbed.bounds);
    for (std::size_t later = k + 1; later < list.size(); ++later) {
      const Piece& piece = *list[later].piece;
      if (!piece.tabs.empty() || isReleased(piece) || piece.bounds.empty) continue;
      if (piece.plan_area_mm2 < least_share_of_tabbed * tabbed.plan_area_mm2) continue;
      if (!isWithin(boxInStock(facts, list[later].run, piece.bounds), box, slack_mm)) continue;
      list[k].parted_by = MoveRef{list[later].run, piece.move};
      if (!list[later].parent) list[later].parent = k;
      break;
    }
  }
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

}  // namespace

std::vector<PieceHistory> pieceHistories(const Facts& facts) {
  const std::vector<Moment> moments = momentsOf(facts);
  std::map<std::pair<int, std::size_t>, std::size_t> at;
  for (std::size_t n = 0; n < moments.size(); ++n) at[{moments[n].run, moments[n].piece}] = n;

  std::vector<PieceHistory> list;
  for (const Moment& m : moments) {
    const Piece& piece = facts.run.programs[m.run].pieces[m.piece];
    PieceHistory h;
    h.run = m.run;
    h.piece = &piece;
    if (piece.parent) h.parent = at.at({piece.parent->run, piece.parent->piece});
    if (piece.free) h.loose_from = MoveRef{m.run, piece.move};
    if (!piece.free && piece.loosened_by) h.loose_from = piece.loosened_by;
    if (piece.milled) h.milled_by = piece.ended_by;
    list.push_back(std::move(h));
  }
  joinTabbed(facts, list);
  for (std::size_t n = 0; n < list.size(); ++n) {
    if (list[n].parent) list[*list[n].parent].came_off_it.push_back(n);
  }
  return list;
}

std::uint32_t lineOf(const Facts& facts, MoveRef move) {
  const std::vector<Motion>& motions = facts.programs[move.run].program.motions;
  return move.move < motions.size() ? motions[move.move].line : 0;
}

}  // namespace provecut
