#include "report/facts/piece_history.h"

#include <algorithm>
#include <compare>
#include <map>
#include <utility>

#include "parser/base/check.h"

namespace provecut {

namespace {

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
  std::vector<std::size_t> history(told.list.size());  // in the list, of each that is told
  std::vector<PieceHistory> list;
  for (std::size_t n = 0; n < told.list.size(); ++n) {
    const std::optional<PieceRef> before = told.list[n].piece->told_before;
    CHECK(!before || told.find(*before) < n);
    history[n] = before ? history[told.find(*before)] : list.size();
    if (!before) list.emplace_back();
    addTold(told.list[n], list[history[n]]);
  }
  for (std::size_t n = 0; n < told.list.size(); ++n) {
    const Piece& piece = *told.list[n].piece;
    if (piece.told_before || !piece.parent) continue;
    list[history[n]].parent = history[told.find(*piece.parent)];
    list[history[told.find(*piece.parent)]].came_off_it.push_back(history[n]);
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
