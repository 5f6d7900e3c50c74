#include "sim/pieces/piece_events.h"

#include <algorithm>
#include <functional>

#include "parser/base/check.h"

namespace provecut::pieces {

namespace {

Piece& toldPiece(std::vector<ProgramRun>& runs, const Told& t) {
  CHECK(t.run >= 0 && t.run < std::ssize(runs) && t.place < runs[t.run].pieces.size());
  return runs[t.run].pieces[t.place];
}

}  // namespace

void settle(const std::vector<PieceEvents>& events, std::vector<ProgramRun>& runs) {
  std::vector<Told> settled;
  for (const PieceEvents& e : events) {
    for (const DoneTo& c : e.cut_beside) toldPiece(runs, c.piece).beside.push_back(c.by);
    for (const DoneTo& c : e.loosened) toldPiece(runs, c.piece).loosened_by = c.by;
    for (const CutLoose& c : e.cut_loose) toldPiece(runs, c.piece).cut_loose.push_back(c.cut);
    for (const Ended& end : e.ended) {
      toldPiece(runs, end.piece).ended_by = end.by;
      toldPiece(runs, end.piece).milled = end.milled;
    }
    settled.insert(settled.end(), e.doubts_settled.begin(), e.doubts_settled.end());
  }
  // From the back, so that the places before stay what they are; each once, whoever settled it again.
  std::sort(settled.begin(), settled.end(), std::greater{});
  settled.erase(std::unique(settled.begin(), settled.end()), settled.end());
  for (const Told& t : settled) {
    CHECK(t.run >= 0 && t.run < std::ssize(runs) && t.place < runs[t.run].doubtful_throughs.size());
    auto& doubts = runs[t.run].doubtful_throughs;
    doubts.erase(doubts.begin() + t.place);
  }
}

}  // namespace provecut::pieces
