// Where a hold-down of a given form may stand on the bed while programs run.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/path/stock_plan.h"
#include "sim/placing/free_region.h"

namespace provecut {

// A shape of hold-down to find a place for.
struct PlaceForm {
  HoldDown shape;            // its own place does not count
  std::vector<int> members;  // hold-downs of the job that have it
};

// Pins and tapes stand elsewhere than beside the tool.
bool holdsDown(const HoldDown& h);

HoldDown usualScrew();

// The form asked for, else those of the job, else a usual screw.
std::vector<PlaceForm> placeForms(const Job& job, const std::optional<HoldDown>& asked);

// How far beyond the stock places are looked for, and how finely: a sheet has so much more outline that a coarser one
// is enough.
double placeMargin(std::span<const PlaceForm> forms);
double placeResolution(const Job& job, double margin_mm, double wanted_mm);

// Places of the form's centre that are clear of all the programs; these belong to one setup. Quick: what
// is given is clear for certain all the same, but more beside it may be clear than the resolution says.
enum class Pains { full, quick };
placing::FreeRegion freePlaces(const Job& job, const Setup& setup, std::span<const Program* const> programs,
                               const HoldDown& form, double margin_mm, double resolution_mm, Pains pains = Pains::full);

// Share of the stock's area that a region covers.
double stockShare(const placing::FreeRegion& region, const StockPlan& stock);

// Why a program's places may be too many: what follows its name. Nothing where it is known whole.
std::vector<std::string_view> placeDoubts(const Job& job, const Program& program);

// "9 mm screw, top 4.5 mm", "30 × 60 mm clamp at 30°, top 35 mm"
std::string formText(const Job& job, const HoldDown& shape);

}  // namespace provecut
