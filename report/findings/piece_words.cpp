#include "report/findings/piece_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/facts/shown_names.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/tab_margin.h"

namespace provecut {

namespace {

// A moment as it is named beside a piece of program `run`: the program's name goes without saying there.
std::string momentFrom(const Facts& facts, int run, MoveRef move) {
  return move.run == run ? "line " + std::to_string(lineOf(facts, move)) : pieceMoment(facts, move);
}

std::string holdDowns(const Job& job, const Piece& piece) {
  std::vector<std::string> by;
  bool tape = false;
  for (const int h : piece.held_by_hold_downs) {
    by.push_back(shownHoldDown(job, h));
    tape = tape || job.hold_downs[h].kind == HoldDownKind::tape;
  }
  if (piece.held_by_tape && !tape) by.emplace_back("tape");
  return listText(by);
}

// "4 tabs (48 mm² in total, the smallest 11 mm², the weakest holds 120 N, the cutter pushes with 10 N)"
std::string tabsText(const Facts& facts, const Piece& piece) {
  if (const std::string skin = skinText(facts.job, piece); !skin.empty()) return skin;
  double area_mm2 = 0, smallest_mm2 = piece.tabs.front().area_mm2;
  for (const Tab& tab : piece.tabs) {
    area_mm2 += tab.area_mm2;
    smallest_mm2 = std::min(smallest_mm2, tab.area_mm2);
  }
  const bool several = piece.tabs.size() > 1;
  std::string text =
      fmt::format("{} ({}", tabsCounted(piece.tabs.size()), quantityText(facts.job, Quantity::area, area_mm2));
  if (several) text += fmt::format(" in total, the smallest {}", quantityText(facts.job, Quantity::area, smallest_mm2));
  if (const auto margin = tabMargin(facts, piece)) {
    text += fmt::format(", {} holds {}, the cutter pushes with {}", several ? "the weakest" : "it",
                        tabForceText(margin->weakest_n), tabForceText(margin->tooth_n));
  }
  return text + ")";
}

// "the loose part of line 11", that something comes off.
std::string wholeText(const Facts& facts, const PieceHistory& h, const PieceHistory& whole) {
  return fmt::format("the loose {} of {}", pieceWord(whole.piece()),
                     momentFrom(facts, h.run(), {whole.run(), whole.piece().move}));
}

// "held by clamp A", "loose, held by nothing": how it is held from then on.
std::string holdText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h,
                     const Piece& piece) {
  if (!piece.free) return "held by " + holdDowns(facts.job, piece);
  if (!piece.of_loose || !h.parent) return "loose, held by nothing";
  return "loose, off " + wholeText(facts, h, pieces[*h.parent]);
}

std::string beginText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h) {
  const Piece& piece = h.piece();
  const std::string held = holdDowns(facts.job, piece);
  if (!piece.tabs.empty()) {
    const std::string on = "left on " + tabsText(facts, piece);
    return held.empty() ? on : on + ", held by " + held + " too";
  }
  if (!piece.free) return "cut out, held by " + held;
  if (!piece.of_loose || !h.parent) return "comes loose, held by nothing";
  return "cut off " + wholeText(facts, h, pieces[*h.parent]);
}

// "b.nc line 12 cuts the last of them: loose, held by nothing", of a part that was told before.
std::string againText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h, std::size_t n) {
  const auto& [run, now] = h.told[n];
  const Piece& was = *h.told[n - 1].piece;
  if (isReleased(*now)) {
    std::vector<std::string> held;
    for (const int hold : now->held_before) held.push_back(shownHoldDown(facts.job, hold));
    return fmt::format("{} starts without {}: loose, held by nothing", shownFile(facts, run), listText(held));
  }
  if (!now->tabs.empty())
    return fmt::format("{} leaves {}", run == h.run() ? "this program" : shownFile(facts, run), tabsText(facts, *now));
  const std::string_view last = !skinText(facts.job, was).empty() ? "the skin"
                                : was.tabs.size() > 1             ? "the last of them"
                                                                  : "it";
  return fmt::format("{} cuts {}: {}", momentFrom(facts, h.run(), {run, now->move}), last,
                     holdText(facts, pieces, h, *now));
}

// "the bit cuts into it on lines 14-15", of the first program that does.
std::string cutsIntoText(const Facts& facts, const PieceHistory& h) {
  std::optional<MoveRef> first, last;
  for (const ToldPiece& told : h.told) {
    for (const CutAtLoose& c : told.piece->cut_loose) {
      if (!c.into || (first && c.by.run > first->run)) continue;
      if (!first || c.by.run < first->run) first = last = c.by;
      if (c.by.move < first->move) first = c.by;
      if (c.by.move > last->move) last = c.by;
    }
  }
  if (!first) return {};
  const auto from = lineOf(facts, *first), to = lineOf(facts, *last);
  return fmt::format("{} cuts into it on {}", first->run == h.run() ? "the bit" : shownFile(facts, first->run),
                     from == to ? fmt::format("line {}", from) : fmt::format("lines {}-{}", from, to));
}

}  // namespace

std::string pieceMoment(const Facts& facts, MoveRef move) {
  const std::string line = "line " + std::to_string(lineOf(facts, move));
  return facts.programs.size() > 1 ? shownFile(facts, move.run) + " " + line : line;
}

std::string pieceLine(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index) {
  const PieceHistory& h = pieces[index];
  const Piece& piece = h.piece();
  std::string text =
      fmt::format("{}: {} {}", pieceMoment(facts, {h.run(), piece.move}),
                  sizeText(facts.job, flat(piece.bounds.high - piece.bounds.low)), beginText(facts, pieces, h));
  for (std::size_t n = 1; n < h.told.size(); ++n) text += "; " + againText(facts, pieces, h, n);
  const Piece& last = *h.told.back().piece;
  if (last.loosened_by && !last.free) text += "; comes loose on " + momentFrom(facts, h.run(), *last.loosened_by);
  if (const std::string cuts = cutsIntoText(facts, h); !cuts.empty()) text += "; " + cuts;
  if (h.milled_by) text += "; milled away by " + momentFrom(facts, h.run(), *h.milled_by);
  return text;
}

}  // namespace provecut
