// Where each hold-down should stand for which programs, so that it is moved as seldom as can be.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/path/programs.h"

namespace provecut::placing {

// Programs first … last in a row.
struct Stay {
  int first = 0, last = 0;
  bool possible = true;  // false: there is no way to stay even for that one
};

// 0 … count - 1 in the fewest stays. `can(first, last)`: whether one place serves all of them; a place that serves them
// serves every part of them. The longest stay from the left is then never worse than a shorter one (it leaves less to
// do).
template <class Can>
std::vector<Stay> fewestStays(int count, const Can& can) {
  std::vector<Stay> stays;
  for (int first = 0; first < count;) {
    int last = first;
    const bool possible = can(first, first);
    while (possible && last + 1 < count && can(first, last + 1)) ++last;
    stays.push_back({first, last, possible});
    first = last + 1;
  }
  return stays;
}

// One hold-down for some programs in a row of one setup.
struct PlannedStay {
  int setup = 0, hold_down = 0;
  int first = 0, last = 0;        // programs in the order of the job
  bool moved = false;             // not where the job has it
  std::optional<SetupPoint2> at;  // nothing: leave it out
};

// For every setup and hold-down (tape and pins apart), the stays that keep it clear of every program for which the job
// lists it, in the order of setups, hold-downs and programs. Where the job's own place serves as many programs as any,
// it is kept. Where all that holds the stock would be left out for a program, places farther off are looked for too.
std::vector<PlannedStay> planHoldDowns(const Job& job, const Programs& programs);

// Programs for which the job lists something that holds the stock, but nothing that this plan leaves does.
std::vector<int> unheldPrograms(const Job& job, std::span<const PlannedStay> plan);

}  // namespace provecut::placing
