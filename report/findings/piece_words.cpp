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
    tape = tape || isUnderStock(job.hold_downs[h].kind);
  }
  if (piece.held_by_tape && !tape) by.emplace_back("tape");
  return listText(by);
}

// "4 tabs (48 mm² in total, smallest 11 mm²; weakest holds 120 N, cutter's push 10 N)"
std::string tabsText(const Facts& facts, const Piece& piece) {
  if (hasSkin(piece)) return skinText(facts.job, piece);
  double area_mm2 = 0, smallest_mm2 = piece.tabs.front().area_mm2;
  for (const Tab& tab : piece.tabs) {
    area_mm2 += tab.area_mm2;
    smallest_mm2 = std::min(smallest_mm2, tab.area_mm2);
  }
  const bool several = piece.tabs.size() > 1;
  std::string text =
      fmt::format("{} ({}", tabsCounted(piece.tabs.size()), quantityText(facts.job, Quantity::area, area_mm2));
  if (several) text += fmt::format(" in total, smallest {}", quantityText(facts.job, Quantity::area, smallest_mm2));
  if (const auto margin = tabMargin(facts, piece)) {
    text += fmt::format("; {} holds {}, cutter's push {}", several ? "weakest" : "it", tabForceText(margin->weakest_n),
                        tabForceText(margin->tooth_n));
  }
  return text + ")";
}

// "the part that came loose on line 11", that something comes off.
std::string wholeText(const Facts& facts, const PieceHistory& h, const PieceHistory& whole) {
  const MoveRef loose = whole.loose_from.value_or(MoveRef{whole.run(), whole.piece().move});
  return fmt::format("the {} that came loose on {}", pieceWord(whole.piece()), momentFrom(facts, h.run(), loose));
}

std::string beginText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h) {
  const Piece& piece = h.piece();
  const std::string held = holdDowns(facts.job, piece);
  if (!piece.tabs.empty()) {
    const std::string on = "left on " + tabsText(facts, piece);
    return held.empty() ? on : on + ", held by " + held + " too";
  }
  if (!piece.free) return "cut out, held by " + held;
  if (!piece.of_loose || !h.parent) return "comes loose";
  return "cut off " + wholeText(facts, h, pieces[*h.parent]);
}

// How a part that was told before is held from now on.
std::string nowText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h, const Piece& now) {
  if (!now.free) return "now held only by " + holdDowns(facts.job, now);
  if (!now.of_loose || !h.parent) return "now loose";
  return "now off " + wholeText(facts, h, pieces[*h.parent]);
}

// "b.nc line 12 cuts its last tab: now loose"
std::string againText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h, std::size_t n) {
  const auto& [run, now] = h.told[n];
  if (isReleased(*now)) {
    std::vector<std::string> held;
    for (const int hold : now->held_before) held.push_back(shownHoldDown(facts.job, hold));
    return fmt::format("{} starts without {}: now {}", shownFile(facts, run), listText(held),
                       now->tabs.empty() ? "loose" : "only on " + tabsText(facts, *now));
  }
  if (!now->tabs.empty())
    return fmt::format("{} leaves {}", momentFrom(facts, h.run(), {run, now->move}), tabsText(facts, *now));
  return fmt::format("{} cuts its {}: {}", momentFrom(facts, h.run(), {run, now->move}),
                     lastTabText(*h.told[n - 1].piece), nowText(facts, pieces, h, *now));
}

// "line 31 mills away the wood under screw M: now loose"
std::string loosenedText(const Facts& facts, const PieceHistory& h) {
  const Piece& piece = *h.told.back().piece;
  const std::string hold = lastHoldText(facts.job, piece);
  return fmt::format(
      "{} mills away {}: now loose", momentFrom(facts, h.run(), *piece.loosened_by),
      hold.empty() ? fmt::format("the last {} that held it", materialWord(facts.job.stock)) : visibleText(hold));
}

// The moves that cut into it while it is loose: of the first program that does.
struct CutsInto {
  MoveRef first, last;
  bool others = false;  // another program does too
};

std::optional<CutsInto> cutsInto(const PieceHistory& h) {
  std::optional<CutsInto> cuts;
  for (const ToldPiece& told : h.told) {
    for (const CutAtLoose& c : told.piece->cut_loose) {
      if (!c.into) continue;
      const bool earlier = cuts && c.by.run < cuts->first.run;
      const bool others = cuts && (cuts->others || c.by.run != cuts->first.run);
      if (!cuts || earlier) cuts = CutsInto{c.by, c.by, others};
      cuts->others = others;
      if (c.by.run != cuts->first.run) continue;
      if (c.by.move < cuts->first.move) cuts->first = c.by;
      if (c.by.move > cuts->last.move) cuts->last = c.by;
    }
  }
  return cuts;
}

// "the bit cuts into it on lines 14-15"
std::string cutsIntoText(const Facts& facts, const PieceHistory& h, const CutsInto& cuts) {
  const auto from = lineOf(facts, cuts.first), to = lineOf(facts, cuts.last);
  return fmt::format(
      "{} {}cuts into it on {}", cuts.first.run == h.run() ? "the bit" : shownFile(facts, cuts.first.run),
      cuts.others ? "first " : "", from == to ? fmt::format("line {}", from) : fmt::format("lines {}-{}", from, to));
}

}  // namespace

std::string pieceMoment(const Facts& facts, MoveRef move) {
  const std::string line = "line " + std::to_string(lineOf(facts, move));
  return facts.programs.size() > 1 ? shownFile(facts, move.run) + " " + line : line;
}

std::vector<std::string> pieceChanges(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index) {
  const PieceHistory& h = pieces[index];
  std::vector<std::string> changes;
  for (std::size_t n = 1; n < h.told.size(); ++n) changes.push_back(againText(facts, pieces, h, n));
  const Piece& last = *h.told.back().piece;
  if (last.loosened_by && !last.free) changes.push_back(loosenedText(facts, h));
  if (const auto cuts = cutsInto(h)) changes.push_back(cutsIntoText(facts, h, *cuts));
  if (h.milled_by) changes.push_back("milled away by " + momentFrom(facts, h.run(), *h.milled_by));
  return changes;
}

namespace {

// "60 × 40 mm left on 4 tabs (…); b.nc line 12 cuts its last tab: now loose"
std::string fateText(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index) {
  const Piece& piece = pieces[index].piece();
  std::string text = fmt::format("{} {}", sizeText(facts.job, flat(piece.bounds.high - piece.bounds.low)),
                                 beginText(facts, pieces, pieces[index]));
  for (const std::string& change : pieceChanges(facts, pieces, index)) text += "; " + change;
  return text;
}

struct SameFate {
  std::string_view word;
  std::string fate;
  MoveRef first, last;
  std::size_t count = 1;
};

std::string sameFateText(const Facts& facts, const SameFate& s) {
  std::string moment = pieceMoment(facts, s.first);
  const std::uint32_t from = lineOf(facts, s.first), to = lineOf(facts, s.last);
  if (from != to) {
    moment =
        fmt::format("{}lines {}-{}", facts.programs.size() > 1 ? shownFile(facts, s.first.run) + " " : "", from, to);
  }
  if (s.count == 1) return fmt::format("{}: {} {}", moment, s.word, s.fate);
  return fmt::format("{}: {} {}s {}", moment, s.count, s.word, s.fate);
}

}  // namespace

std::string pieceLine(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index) {
  const PieceHistory& h = pieces[index];
  return fmt::format("{}: {} {}", pieceMoment(facts, {h.run(), h.piece().move}), pieceWord(h.piece()),
                     fateText(facts, pieces, index));
}

std::vector<std::string> pieceLines(const Facts& facts, std::span<const PieceHistory> pieces) {
  std::vector<SameFate> all;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const PieceHistory& h = pieces[k];
    SameFate s{pieceWord(h.piece()), fateText(facts, pieces, k), {h.run(), h.piece().move}, {h.run(), h.piece().move}};
    const auto same = std::find_if(all.begin(), all.end(), [&](const SameFate& other) {
      return other.first.run == s.first.run && other.word == s.word && other.fate == s.fate;
    });
    if (same == all.end()) {
      all.push_back(std::move(s));
    } else {
      ++same->count;
      same->last = s.last;
    }
  }
  std::vector<std::string> lines;
  for (const SameFate& s : all) lines.push_back(sameFateText(facts, s));
  return lines;
}

}  // namespace provecut
