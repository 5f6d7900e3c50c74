// Where one form of hold-down will do while some programs run: worked out once, for any number of searches in it.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "parser/job/job.h"
#include "sim/path/cut_round.h"
#include "sim/path/programs.h"
#include "sim/path/setup_frame.h"
#include "sim/placing/keep_out.h"
#include "sim/placing/placement.h"

namespace provecut::placing {

struct SpotField {
  const Job& job;
  Programs programs;
  const Setup& setup;             // places are given in it
  std::vector<int> for_programs;  // for which it must be clear
  HoldDown form;
  double step_mm = 0.1;  // places are whole multiples of it, in x and in y
  std::vector<Stretch> keep_out;
  std::vector<std::vector<CutRun>> cuts;  // of every program of the job; none unless the form is a screw
};

SpotField spotField(const Job& job, Programs programs, int setup, std::vector<int> for_programs, const HoldDown& form,
                    double step_mm);

// Where a place is looked for.
struct SpotWish {
  SetupPoint2 from;
  double max_way_mm = 150;
  Placement placement;
  std::vector<bool> may_be_inside;  // per program of the job: a screw may be in what it cuts out
};

// What a screw must stay out of when it stands at `home`: the rounds that do not go about it there.
std::vector<bool> insideAt(const SpotField& field, SetupPoint2 home);

// Whether the form, put there, is clear of every move of these programs: the exact check.
bool isClear(const Job& job, const Programs& programs, std::span<const int> for_programs, const HoldDown& form,
             SetupPoint2 at);

// Whether it is also placed as wished.
bool isFree(const SpotField& field, const SpotWish& wish, SetupPoint2 at);

// The place nearest to `from` that isFree().
std::optional<SetupPoint2> nearestIn(const SpotField& field, const SpotWish& wish);

}  // namespace provecut::placing
