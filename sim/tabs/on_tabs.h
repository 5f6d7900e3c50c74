// Parts that a program leaves on their tabs: which move left them so, what holds them besides, and what is cut beside
// them and in them until their tabs are gone.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "sim/pieces/parting.h"
#include "sim/pieces/piece_events.h"
#include "sim/pieces/program_cut.h"
#include "sim/tabs/opened_by.h"
#include "sim/tabs/tabbed_parts.h"
#include "sim/tabs/tabs.h"

namespace provecut::pieces {

// The parts that are on tabs as the program has run; `pieces`: of its `after`; `only`: those that have any of these
// dexels (none given: all).
TabbedParts partsOnTabs(const ProgramCut& cut, const Pieces& pieces, std::span<const cutting::Cell> only = {});

// Adds to `run` the parts that the program left on tabs, and follows them in `tabbed`. `were`: on tabs before, which
// the program cut.
void observeTabbed(const ProgramCut& cut, const std::vector<TabbedPart>& parts, const std::vector<TabbedNow>& were,
                   const OpenedBy& opened_by, ProgramRun& run, std::vector<TabbedNow>& tabbed);

// Leaves out what is told already: parts that are on tabs which nothing has cut since.
void leaveOutKnown(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed, std::vector<TabbedPart>& parts);

// A program that has run, and how it parted the stock.
struct PartedCut {
  const ProgramCut& cut;
  const Pieces& now;
  const Parting& parting;
  std::span<const std::optional<std::size_t>> told;  // per piece of `parting`: its place among those of the run
};

// Which of some sets of dexels each part is; none: none is. `part_of`: per dexel the part that it belongs to, index
// + 1. Most of a part's dexels are in its set, which is hardly larger; of several the last.
std::vector<std::optional<std::size_t>> whichAre(const std::vector<std::vector<cutting::Cell>>& sets,
                                                 const std::vector<Label>& part_of, std::size_t parts);

// The pieces of the parting that are told: without what each piece goes on as.
std::vector<std::size_t> toldPieces(const PartedCut& parted);

// The piece was told before, as the part on its tabs.
void linkToPiece(const PartedCut& parted, std::size_t piece, Told on_tabs, ProgramRun& run);

// What some moves cut beside the part and in it.
void observeAbout(const ProgramCut& cut, const TabbedNow& part, MoveSpan moves, ProgramRun& run, PieceEvents& events);

// True if the program cuts any tab of these.
bool cutsTabs(const ProgramCut& cut, const std::vector<TabbedNow>& tabbed);

// Parts whose tabs an earlier program left and this one cuts are followed no longer. Of those that come off them it is
// told what is cut beside and in them before, unless something else holds them; those that keep some are returned.
std::vector<TabbedNow> observeCutTabs(const PartedCut& parted, ProgramRun& run, std::vector<TabbedNow>& tabbed,
                                      PieceEvents& events);

// What the program cut beside and in those that kept some tabs, until it left these; `tabbed`: as it left them.
void observeAboutKept(const ProgramCut& cut, const std::vector<TabbedNow>& were, const std::vector<TabbedNow>& tabbed,
                      ProgramRun& run, PieceEvents& events);

// Adds to `run` the parts on tabs that something else held so far, and does not any more as this program begins; each
// once, however often it is fitted again.
void observeReleasedTabbed(const ProgramAt& at, const cutting::DexelField& field, ProgramRun& run,
                           std::vector<TabbedNow>& tabbed);

// Moves that cut in the parts that are on tabs alone as the program ends, and beside them.
void observeAboutTabbed(const ProgramCut& cut, ProgramRun& run, const std::vector<TabbedNow>& tabbed,
                        PieceEvents& events);

}  // namespace provecut::pieces
