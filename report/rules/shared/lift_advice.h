// Over what a rapid clears by too little: at which height, and how, it is to cross.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

struct Lift {
  std::string text;  // "retract to Z 7.5 mm or higher before this move"
  std::vector<AdvisedChange> changes;
};

// How far the tool's body reaches below its tip, mm: a dust shoe may.
double reachBelowTip(const Facts& facts, int tool);

// For sideways rapids of a program, so that nothing of the tool comes below `clear_z_mm`. A rapid that comes down on
// its way goes down after it; in a canned cycle R is raised, since a G0 would end the cycle. Absent where the machine
// cannot go so high.
std::optional<Lift> liftOver(const Facts& facts, std::size_t program, std::span<const std::uint32_t> moves,
                             double clear_z_mm);

// Takes out the moves of a tool that are still where the one before it was changed, down in the stock. What is missing
// is a retract: "retract to Z 5 mm before the tool change on line 16". Absent where there is no such move.
std::optional<Lift> takeMovesFromLowChange(const Facts& facts, std::size_t program, std::vector<Occurrence>& moves);

// To be done beside each way of the finding; where it has none, tool-change-low alone asks for it.
void adviseToo(const Lift& lift, Finding& finding);

// The moves after which the tool must come down again if they are lifted, each the last of its run.
std::vector<std::uint32_t> comingDown(const Program& program, std::span<const std::uint32_t> lifted, double z_mm);

}  // namespace provecut
