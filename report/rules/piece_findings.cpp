#include "report/rules/piece_findings.h"

#include <algorithm>

#include "report/rules/grouping.h"
#include "report/rules/wording.h"

namespace provecut {

void addPieceFindings(const Facts& facts, const Rule& rule, std::string_view name,
                      const std::function<bool(const Piece&)>& concerns,
                      const std::function<void(const Piece&, Finding&)>& word, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::vector<const Piece*> pieces;
    for (const Piece& p : facts.run.programs[i].pieces) {
      if (concerns(p)) pieces.push_back(&p);
    }
    std::stable_sort(pieces.begin(), pieces.end(), [](const Piece* a, const Piece* b) { return a->move < b->move; });
    for (std::size_t n = 0; n < pieces.size(); ++n) {
      const Piece& piece = *pieces[n];
      const Place place = piece.move < motions.size() ? placeOf(motions[piece.move]) : Place{};
      Finding f = placeFinding(facts, i, rule, place);
      f.moves = 1;
      f.at = piece.at;
      if (pieces.size() > 1) f.subject = std::string(name) + " " + std::to_string(n + 1);
      word(piece, f);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace provecut
