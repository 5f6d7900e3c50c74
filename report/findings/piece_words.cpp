#include "report/findings/piece_words.h"

#include <fmt/format.h>

#include <algorithm>
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

// "4 tabs of 48 mm² in all, the weakest takes 37 times the cutter's push of 10 N"
std::string tabsText(const Facts& facts, const Piece& piece) {
  if (const std::string skin = skinText(facts.job, piece); !skin.empty()) return skin;
  double area_mm2 = 0;
  for (const Tab& tab : piece.tabs) area_mm2 += tab.area_mm2;
  const bool several = piece.tabs.size() > 1;
  std::string text = fmt::format("{} of {}{}", plural(piece.tabs.size(), "tab", "tabs"),
                                 quantityText(facts.job, Quantity::area, area_mm2), several ? " in all" : "");
  if (const auto margin = tabMargin(facts, piece)) {
    text += fmt::format(" ({} takes {} times the cutter's push of {:.0f} N)", several ? "the weakest" : "it",
                        shortNumber(margin->weakest(), margin->weakest() < 10 ? 1 : 0), margin->tooth_n);
  }
  return text;
}

std::string beginText(const Facts& facts, std::span<const PieceHistory> pieces, const PieceHistory& h) {
  const Piece& piece = *h.piece;
  if (isReleased(piece)) {
    std::vector<std::string> held;
    for (const int hold : piece.held_before) held.push_back(shownHoldDown(facts.job, hold));
    return fmt::format("is loose from the start; {} held it until then", listText(held));
  }
  const std::string held = holdDowns(facts.job, piece);
  if (!piece.tabs.empty())
    return "hangs on " + tabsText(facts, piece) + (held.empty() ? std::string() : ", held by " + held + " too");
  if (!piece.free) return "parted, held by " + held;
  if (!piece.of_loose || !h.parent) return "comes loose, held by nothing";
  const PieceHistory& whole = pieces[*h.parent];
  return "comes off the loose piece of " + momentFrom(facts, h.run, {whole.run, whole.piece->move});
}

}  // namespace

std::string pieceMoment(const Facts& facts, MoveRef move) {
  const std::string line = "line " + std::to_string(lineOf(facts, move));
  return facts.programs.size() > 1 ? shownFile(facts, move.run) + " " + line : line;
}

std::string pieceLine(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index) {
  const PieceHistory& h = pieces[index];
  const Piece& piece = *h.piece;
  const std::string size = sizeText(facts.job, flat(piece.bounds.high - piece.bounds.low));
  std::string text = isReleased(piece) ? shownFile(facts, h.run) : pieceMoment(facts, {h.run, piece.move});
  text += ": " + size + " " + beginText(facts, pieces, h);
  if (h.parted_by) text += "; tabs cut by " + momentFrom(facts, h.run, *h.parted_by);
  if (h.loose_from && !piece.free) text += "; comes loose at " + momentFrom(facts, h.run, *h.loose_from);
  if (h.milled_by) text += "; milled away by " + momentFrom(facts, h.run, *h.milled_by);
  return text;
}

}  // namespace provecut
