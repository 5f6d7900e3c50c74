#include "report/formats/text/holding_text.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <vector>

#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/formats/base/table.h"

namespace provecut {

namespace {

// One piece of a program's holding: "screw SW and clamp N", "2 tabs", "nothing listed".
std::string holdingText(const Job& job, const PieceHeld& piece) {
  std::vector<std::string> by;
  if (piece.tabs > 0) by.push_back(plural(piece.tabs, "tab", "tabs"));
  if (piece.skin_mm > 0) by.push_back("a skin of " + quantityText(job, Quantity::length, piece.skin_mm));
  for (const int h : piece.by) by.push_back(job.hold_downs[static_cast<std::size_t>(h)].name);
  if (piece.tape_mm2 > 0) by.back() += " (" + quantityText(job, Quantity::area, piece.tape_mm2) + " of tape)";
  return by.empty() ? std::string("nothing listed") : listText(by);
}

}  // namespace

// What holds what, a line for each program that changes it.
void writeHolding(const Facts& facts, std::ostream& out) {
  const Job& job = facts.job;
  if (job.hold_downs.empty()) return;
  const double factor = job.inches ? 1 / 25.4 : 1;
  constexpr std::size_t max_pieces = 4;
  std::string before;
  bool any = false;
  for (std::size_t i = 0; i < std::min(facts.run.programs.size(), facts.programs.size()); ++i) {
    const std::vector<PieceHeld>& holding = facts.run.programs[i].holding;
    std::string text;
    for (std::size_t k = 0; k < std::min(holding.size(), max_pieces); ++k) {
      const PieceHeld& piece = holding[k];
      const Vec3 size = piece.bounds.high - piece.bounds.low;
      const std::string name = !piece.part ? "stock"
                                           : "part " + fixedText(size.x * factor, job.inches ? 2 : 0) + " x " +
                                                 fixedText(size.y * factor, job.inches ? 2 : 0);
      text += (text.empty() ? "" : "; ") + name + " by " + holdingText(job, piece);
    }
    if (holding.size() > max_pieces) text += "; and " + std::to_string(holding.size() - max_pieces) + " more";
    if (text == before) continue;
    if (!any) out << "\n  held\n";
    any = true;
    before = text;
    writeWrapped(visibleText("from " + facts.programs[i].entry->file + ": " + text), 2, out);
  }
}

// What stock off by the tolerance does to each setup's cuts (the web between pockets from both sides gains the error
// where both zeros are on top, loses it where both are on the spoilboard).
void writeThickness(const Facts& facts, std::ostream& out) {
  const Job& job = facts.job;
  const double tolerance = job.stock.thickness_tolerance_mm;
  if (tolerance <= 0 || job.setups.empty()) return;
  const std::string by = quantityText(job, Quantity::length, tolerance);
  out << "\n  if the stock is " << by << " thicker or thinner\n";
  for (const Setup& s : job.setups) {
    writeWrapped(
        visibleText(s.name) +
            (s.zero_z_on_top ? ": zero on the top, so depths from the top stay and floors follow the stock"
                             : ": zero on the underside, so floors stay and depths from the top follow the stock"),
        2, out);
  }
  const auto is_back = [](const Setup& s) { return s.flip != Flip::none; };
  const auto front = std::find_if_not(job.setups.begin(), job.setups.end(), is_back);
  const auto back = std::find_if(job.setups.begin(), job.setups.end(), is_back);
  if (front == job.setups.end() || back == job.setups.end()) return;
  const int gains = (front->zero_z_on_top ? 1 : 0) + (back->zero_z_on_top ? 1 : 0) - 1;
  const std::string pair = visibleText(front->name + " and " + back->name);
  writeWrapped("webs between " + pair +
                   (gains == 0  ? std::string(" stay as they are")
                    : gains > 0 ? " are thicker or thinner by the same"
                                : " are thinner in a thicker stock, by the same"),
               2, out);
}

}  // namespace provecut
