#include "tests/reference/tabs/told_parts.h"

#include <algorithm>
#include <cmath>

#include "sim/path/setup_frame.h"

namespace provecut::testing {
namespace {

reference::PlanPoint inStock(const Job& job, const Setup& setup, WorkPoint at) {
  const StockPoint2 p = setupToStock(job.stock, setup, flat(workToSetup(setup, at)));
  return {p.x, p.y};
}

}  // namespace

reference::PlanBox planBoxOf(const Job& job, const Setup& setup, const WorkBox& box) {
  const auto a = inStock(job, setup, box.low), b = inStock(job, setup, box.high);
  return {std::min(a.x, b.x), std::max(a.x, b.x), std::min(a.y, b.y), std::max(a.y, b.y)};
}

std::vector<ToldPart> toldParts(const Job& job, const Run& run) {
  std::vector<ToldPart> told;
  for (std::size_t i = 0; i < run.programs.size(); ++i) {
    const Setup& setup = job.setups[static_cast<std::size_t>(run.programs[i].setup)];
    for (const Piece& piece : run.programs[i].pieces) {
      ToldPart part{&piece, static_cast<int>(i), planBoxOf(job, setup, piece.bounds), {}, false};
      for (const Tab& tab : piece.tabs) part.tabs.push_back({&tab, inStock(job, setup, tab.at)});
      told.push_back(part);
    }
  }
  return told;
}

bool isBoxOf(const reference::TruePart& part, const reference::PlanBox& box) {
  constexpr double off = 0.8;
  return box.x0 > part.most.x0 - off && box.x0 < part.least.x0 + off && box.x1 > part.least.x1 - off &&
         box.x1 < part.most.x1 + off && box.y0 > part.most.y0 - off && box.y0 < part.least.y0 + off &&
         box.y1 > part.least.y1 - off && box.y1 < part.most.y1 + off;
}

bool standsAt(const reference::TrueTab& tab, reference::PlanPoint at, double cell_mm) {
  return std::hypot(at.x - tab.at.x, at.y - tab.at.y) <= std::hypot(tab.length_mm, tab.kerf_mm) / 2 + cell_mm;
}

bool hasAreaOf(const reference::TrueTab& tab, double area_mm2, double cell_mm) {
  // The least cut is known to within a hundredth.
  const double unsure = tab.closed_form ? 0 : 0.01 * tab.area_mm2;
  return std::abs(area_mm2 - tab.area_mm2) <= std::max(0.05 * tab.area_mm2, cell_mm / 2 * tab.height_mm) + unsure;
}

double judgedCell_mm(const Run& run) {
  return std::min(0.25, std::max(run.stock.cell_mm.x, run.stock.cell_mm.y));
}

int floorsOnTabs(const Job& job, const Run& run, const std::vector<reference::TrueTab>& tabs) {
  int floors = 0;
  for (const ProgramRun& program : run.programs) {
    const Setup& setup = job.setups[static_cast<std::size_t>(program.setup)];
    for (const ThinFloor& floor : program.thin_floors) {
      const auto at = inStock(job, setup, floor.at);
      floors += std::any_of(tabs.begin(), tabs.end(), [&](const auto& tab) { return standsAt(tab, at, 0.25); });
    }
  }
  return floors;
}

}  // namespace provecut::testing
