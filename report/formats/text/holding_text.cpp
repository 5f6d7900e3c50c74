#include "report/formats/text/holding_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/formats/base/table.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace {

// "held by screw SW and clamp N", "held by 2 tabs", of a part that nothing holds "loose".
std::string howHeld(const Job& job, const PieceHeld& piece) {
  std::vector<std::string> by;
  if (piece.tabs > 0) by.push_back(tabsCounted(piece.tabs));
  if (piece.skin_mm > 0)
    by.push_back(fmt::format("{} onion skin", withArticle(quantityText(job, Quantity::length, piece.skin_mm))));
  for (const int h : piece.by) by.push_back(job.hold_downs[h].name);
  if (piece.tape_mm2 > 0)
    by.back() += " (" + quantityText(job, Quantity::area, piece.tape_mm2) + " of " + heldUnderBy(job) + ")";
  if (by.empty()) return piece.part || piece.frame ? "loose" : "held by nothing listed";
  return "held by " + listText(by);
}

// Pieces of one size that are held alike.
struct HeldAlike {
  std::string noun, size, how;
  std::size_t count = 1;

  std::string text() const {
    const std::string name = count > 1 ? std::to_string(count) + " " + noun + "s" : noun;
    return name + (size.empty() ? "" : " " + size) + " " + how;
  }
};

std::vector<HeldAlike> heldAlike(const Job& job, const std::vector<PieceHeld>& holding) {
  std::vector<HeldAlike> all;
  for (const PieceHeld& piece : holding) {
    HeldAlike held{piece.frame ? "frame of waste" : "stock", "", howHeld(job, piece)};
    if (piece.part) {
      held.noun = pieceWord(piece.plan_area_mm2);
      held.size = sizeText(job, flat(piece.bounds.high - piece.bounds.low));
    }
    const auto same = std::find_if(all.begin(), all.end(), [&](const HeldAlike& h) {
      return piece.part && h.noun == held.noun && h.size == held.size && h.how == held.how;
    });
    if (same == all.end()) {
      all.push_back(std::move(held));
    } else {
      ++same->count;
    }
  }
  return all;
}

std::string heldText(const Job& job, const std::vector<PieceHeld>& holding) {
  constexpr std::size_t max_shown = 4;
  const std::vector<HeldAlike> all = heldAlike(job, holding);
  std::string text;
  std::size_t more = 0;
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (k < max_shown) {
      text += (text.empty() ? "" : "; ") + all[k].text();
    } else {
      more += all[k].count;
    }
  }
  return more > 0 ? text + "; and " + std::to_string(more) + " more" : text;
}

}  // namespace

// What holds the stock and the parts, a line for each program that changes it.
void writeHolding(const Facts& facts, std::ostream& out) {
  if (facts.job.hold_downs.empty()) return;
  std::string before;
  bool any = false;
  for (std::size_t i = 0; i < std::min(facts.run.programs.size(), facts.programs.size()); ++i) {
    const std::string text = heldText(facts.job, facts.run.programs[i].holding);
    if (text == before) continue;
    if (!any) out << "\n  what holds the stock and the parts\n";
    any = true;
    before = text;
    writeWrapped(visibleText("after " + facts.programs[i].entry->file + ": " + text), 2, out);
  }
}

// Where a zero that is not on top is: "on the underside", "17.5 mm above the underside".
std::string aboveUnderside(const Job& job, const Setup& setup) {
  const double z = setup.zero_mm.z;
  if (std::fabs(z) < 1e-9) return "on the underside";
  return dimensionWithUnit(job, std::fabs(z)) + (z > 0 ? " above" : " below") + " the underside";
}

// The web between pockets from both sides gains the error where both zeros are on top, loses it where both are on the
// spoilboard.
void writeThickness(const Facts& facts, std::ostream& out) {
  const Job& job = facts.job;
  const double tolerance = job.stock.thickness_tolerance_mm;
  if (tolerance <= 0 || job.setups.empty()) return;
  const std::string by = dimensionWithUnit(job, tolerance);
  out << "\n  if the stock is " << by << " thicker or thinner than the job file says\n";
  for (const Setup& s : job.setups) {
    writeWrapped(
        visibleText(s.name) +
            (s.zero_z_on_top
                 ? ": zero on top. Pocket depths stay the same; floors get thicker or thinner with the stock."
                 : ": zero " + aboveUnderside(job, s) + ". Floors stay the same; pocket depths change with the stock."),
        2, out);
  }
  const auto is_back = [](const Setup& s) { return s.flip != Flip::none; };
  const auto front = std::find_if_not(job.setups.begin(), job.setups.end(), is_back);
  const auto back = std::find_if(job.setups.begin(), job.setups.end(), is_back);
  if (front == job.setups.end() || back == job.setups.end()) return;
  const int gains = (front->zero_z_on_top ? 1 : 0) + (back->zero_z_on_top ? 1 : 0) - 1;
  const std::string pair = visibleText(front->name + " and " + back->name);
  writeWrapped("Webs between " + pair +
                   (gains == 0  ? std::string(" stay the same.")
                    : gains > 0 ? " get thicker or thinner with the stock."
                                : " get thinner as the stock gets thicker."),
               2, out);
}

}  // namespace provecut
