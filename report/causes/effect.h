// How much of what was found is gone under another description, and how much is new.
#pragma once

#include <cstddef>
#include <string>

#include "report/findings/report.h"

namespace provecut::causes {

struct Count {
  std::size_t stops = 0, looks = 0;
  std::size_t signs = 0;  // of either level
};

// Whose findings are counted: those of one setup, or all.
struct Scope {
  std::string setup;
  bool everywhere = true;
  bool holds(const Finding& f) const;
};

Count countOf(const Report& report, const Scope& scope);

// How many faults those may be: what one hold-down brings about is one.
std::size_t faultsIn(const Report& report, const Scope& scope);

// One fault alone needs no explanation.
inline constexpr std::size_t least_gone = 2;
// A stop weighs as much as this many looks.
inline constexpr std::size_t stop_weight = 4;

struct Effect {
  Count before, gone, added;
  std::size_t signs_gone = 0, signs_added = 0, rules_gone = 0;
  std::size_t weightGone() const { return stop_weight * gone.stops + gone.looks; }
  std::size_t weightBefore() const { return stop_weight * before.stops + before.looks; }
};

// Of what another description may change.
Effect effectOf(const Report& before, const Report& after, const Scope& scope);

// What else speaks for a description.
struct Support {
  bool asked = false;            // a finding asks the same
  bool nothing_was_cut = false;  // what the job has of its own could not show
};

// True where most is gone, at least so many, and no more is new than a wrong description may have hidden.
bool explains(const Effect& effect, Support support, std::size_t least);

// Findings that one wrong word of the description alone brings about.
bool signOfCause(const Job& job, const Finding& f);

// What a program says of the spindle, the feed and its first words: true under any description.
bool ofProgramAlone(const Finding& f);

// A hold-down in the way of several programs is one fault.
bool ofHoldDown(const Finding& f);

// Cuts that the description as it is keeps off the material cannot be judged: what is found of them then is not new.
bool cutsNothing(const Report& report, const Scope& scope);

}  // namespace provecut::causes
