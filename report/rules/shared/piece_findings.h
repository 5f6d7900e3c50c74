// What the rules about pieces share: parts and offcuts, what to call them, where they came loose.
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/rules/rule.h"
#include "sim/observed/pieces.h"

namespace provecut {

inline bool isOffcut(const Piece& piece) {
  return piece.plan_area_mm2 < least_part_area_mm2;
}

// Told by offcut-free; else by part-free.
inline bool isWaste(const Piece& piece) {
  return piece.frame || isOffcut(piece);
}

// What it is called: "part" or "offcut".
inline std::string_view pieceWord(double plan_area_mm2) {
  return plan_area_mm2 < least_part_area_mm2 ? "offcut" : "part";
}

inline std::string_view pieceWord(const Piece& piece) {
  return piece.frame ? "frame of waste" : pieceWord(piece.plan_area_mm2);
}

// Which pieces a rule tells of, which of a program have one cause, and how those are told; the first is first.
struct PieceRule {
  std::function<bool(const Piece&)> concerns;
  std::function<bool(const Piece&, const Piece&)> alike;  // none: no two are
  std::function<void(const std::vector<const Piece*>&, Finding&)> word;
};

// One finding for every piece of every program, or for all that are alike, placed at the move that cut it loose or left
// it held by tabs. Several in one program are told apart by their subject: "part 1", "part 2" ("offcut 1" ...).
void addPieceFindings(const Facts& facts, const Rule& rule, const PieceRule& pieces, std::vector<Finding>& findings);

// One finding for every loose piece that `concerns` accepts; `what` is "part" or "offcut". `help` is for those that a
// move cuts loose, not for those that lose their hold-down as a program begins.
void addLoosePieces(const Facts& facts, const Rule& rule, std::string_view what,
                    const std::function<bool(const Piece&)>& concerns,
                    const std::function<std::string(const Piece&)>& help, std::vector<Finding>& findings);

// No hold-down, no tape.
inline bool heldByTabsAlone(const Piece& piece) {
  return !piece.free && !piece.tabs.empty() && piece.held_by_hold_downs.empty() && !piece.held_by_tape;
}

inline bool hasSkin(const Piece& piece) {
  return std::any_of(piece.tabs.begin(), piece.tabs.end(), [](const Tab& t) { return t.onion_skin; });
}

// What may hold it against the cutter besides tabs: no clamp fits on an offcut.
inline std::string_view otherHold(const Piece& piece) {
  return isOffcut(piece) ? "tape" : "tape or a clamp";
}

// The last cut of what was left of a piece's tabs: "last tab", "tab", "onion skin"; `was` is the piece while they held.
std::string_view lastTabText(const Piece& was);

// "wood" where the stock is wood or made of it, else "material".
std::string_view materialWord(const Stock& stock);

// What a move milled away last of all that held a piece: "the tape", "the wood under screw M"; where more than one may
// have been the last, nothing.
std::string lastHoldText(const Job& job, const Piece& piece);

// "96 × 45 × 18 mm"
std::string pieceSize(const Job& job, const Piece& piece);

// "one tab", "4 tabs"
std::string tabsCounted(std::size_t tabs);

// "an onion skin 0.4 mm thick and 260 mm long", of a piece that has one.
std::string skinText(const Job& job, const Piece& piece);

// What holds pieces from below in this job: "tape", "glue" or "vacuum".
std::string heldUnderBy(const Job& job);

}  // namespace provecut
