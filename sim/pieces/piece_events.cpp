#include "sim/pieces/piece_events.h"

#include <algorithm>

namespace provecut::pieces {

void settle(const std::vector<PieceEvents>& events, std::vector<ProgramRun>& runs) {
  std::vector<Told> settled;
  for (const PieceEvents& e : events) {
    for (const Told& t : e.tabs_cut) runs[t.run].pieces[t.place].tabs_cut_later = true;
    for (const CutBeside& c : e.cut_beside) runs[c.piece.run].pieces[c.piece.place].beside.push_back(c.by);
    settled.insert(settled.end(), e.doubts_settled.begin(), e.doubts_settled.end());
  }
  // From the back, so that the places before stay what they are.
  std::sort(settled.begin(), settled.end(), [](const Told& a, const Told& b) { return a.place > b.place; });
  for (const Told& t : settled) {
    auto& doubts = runs[t.run].doubtful_throughs;
    doubts.erase(doubts.begin() + t.place);
  }
}

}  // namespace provecut::pieces
