#include "report/rules/shared/piece_findings.h"

#include <fmt/core.h>

#include <algorithm>

#include "report/base/wording.h"
#include "report/rules/shared/grouping.h"

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

std::string pieceSize(const Job& job, const Piece& piece) {
  return sizeText(job, piece.bounds.high - piece.bounds.low);
}

std::string skinText(const Job& job, const Piece& piece) {
  for (const Tab& t : piece.tabs) {
    if (!t.onion_skin) continue;
    return fmt::format("an onion skin {} thick and {} long ({} of wood)",
                       quantityText(job, Quantity::length, t.thickness_mm),
                       quantityText(job, Quantity::length, t.length_mm), quantityText(job, Quantity::area, t.area_mm2));
  }
  return {};
}

namespace {

// The piece is loose as the program begins, because what held it is listed no longer.
void wordReleased(const Facts& facts, std::string_view what, const Piece& piece, Finding& f) {
  std::vector<std::string> names;
  for (const int h : piece.held_before) names.push_back(facts.job.hold_downs[h].name);
  const std::string held = listText(names);
  f.message = fmt::format("{} {} is loose when this program starts: {} held it until then",
                          withArticle(pieceSize(facts.job, piece)), what, held);
  f.help = fmt::format("Keep {} in this program's `hold_downs`, or take the {} out before this program.", held, what);
  if (f.program_order >= 0) {
    relateToJob(facts, f, facts.programs[f.program_order].entry->place, "the program is listed here");
  }
}

}  // namespace

void addLoosePieces(const Facts& facts, const Rule& rule, std::string_view what,
                    const std::function<bool(const Piece&)>& concerns, const std::string& help,
                    std::vector<Finding>& findings) {
  addPieceFindings(
      facts, rule, what, [&](const Piece& p) { return p.free && concerns(p); },
      [&](const Piece& piece, Finding& f) {
        f.amount = piece.plan_area_mm2;
        f.unit = unitOf(Quantity::area);
        if (!piece.held_before.empty()) {
          wordReleased(facts, what, piece, f);
          return;
        }
        f.message =
            fmt::format("this move cuts {} {} loose; nothing holds it", withArticle(pieceSize(facts.job, piece)), what);
        f.help = help;
      },
      findings);
}

}  // namespace provecut
