#include "report/formats/text/holding_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <vector>

#include "report/base/dimension_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/formats/base/table.h"
#include "report/rules/shared/piece_findings.h"

namespace provecut {

namespace {

// One piece of a program's holding: "screw SW and clamp N", "2 tabs", "nothing listed".
std::string holdingText(const Job& job, const PieceHeld& piece) {
  std::vector<std::string> by;
  if (piece.tabs > 0) by.push_back(tabsCounted(piece.tabs));
  if (piece.skin_mm > 0) by.push_back(quantityText(job, Quantity::length, piece.skin_mm) + " of skin");
  for (const int h : piece.by) by.push_back(job.hold_downs[h].name);
  if (piece.tape_mm2 > 0) by.back() += " (" + quantityText(job, Quantity::area, piece.tape_mm2) + " of tape)";
  return by.empty() ? std::string("nothing listed") : listText(by);
}

}  // namespace

// What holds the stock and the parts, a line for each program that changes it.
void writeHolding(const Facts& facts, std::ostream& out) {
  const Job& job = facts.job;
  if (job.hold_downs.empty()) return;
  constexpr std::size_t max_pieces = 4;
  std::string before;
  bool any = false;
  for (std::size_t i = 0; i < std::min(facts.run.programs.size(), facts.programs.size()); ++i) {
    const std::vector<PieceHeld>& holding = facts.run.programs[i].holding;
    std::string text;
    for (std::size_t k = 0; k < std::min(holding.size(), max_pieces); ++k) {
      const PieceHeld& piece = holding[k];
      const Vec3 size = piece.bounds.high - piece.bounds.low;
      const std::string name =
          !piece.part ? "stock" : fmt::format("{} {}", pieceWord(piece.plan_area_mm2), sizeText(job, flat(size)));
      text += (text.empty() ? "" : "; ") + name + ": " + holdingText(job, piece);
    }
    if (holding.size() > max_pieces) text += "; and " + std::to_string(holding.size() - max_pieces) + " more";
    if (text == before) continue;
    if (!any) out << "\n  what holds the stock and the parts\n";
    any = true;
    before = text;
    writeWrapped(visibleText("from " + facts.programs[i].entry->file + " on: " + text), 2, out);
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
