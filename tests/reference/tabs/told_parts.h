// What provecut tells of parts on tabs and of loose ones, in the stock frame, and how it compares with the truth.
#pragma once

#include <vector>

#include "parser/job/job.h"
#include "sim/observed/observation.h"
#include "tests/reference/tabs/part_outline.h"
#include "tests/reference/tabs/tabbed_sheet.h"

namespace provecut::testing {

struct ToldTab {
  const Tab* tab = nullptr;
  reference::PlanPoint at;
};

struct ToldPart {
  const Piece* piece = nullptr;
  int program = 0;
  reference::PlanBox box;
  std::vector<ToldTab> tabs;
  bool matched = false;
};

reference::PlanBox planBoxOf(const Job& job, const Setup& setup, const WorkBox& box);

// All pieces of a run, in order.
std::vector<ToldPart> toldParts(const Job& job, const Run& run);

// Whether a box told is that of the part, with more or less of its tabs.
bool isBoxOf(const reference::TruePart& part, const reference::PlanBox& box);

// Within the tab's own size of its place.
bool standsAt(const reference::TrueTab& tab, reference::PlanPoint at, double cell_mm);

// Within 5 % or half a cell times the tab's height.
bool hasAreaOf(const reference::TrueTab& tab, double area_mm2, double cell_mm);

// The cell that tabs are judged by: 0.25 mm, or finer where the whole sheet is.
double judgedCell_mm(const Run& run);

// Floors on tabs that are told as too thin: an advice that would cut the tab.
int floorsOnTabs(const Job& job, const Run& run, const std::vector<reference::TrueTab>& tabs);

}  // namespace provecut::testing
