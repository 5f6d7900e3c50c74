// The stock flipped about its other axis, turned by a quarter, or of another thickness.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "parser/job/real_thickness.h"
#include "report/base/dimension_text.h"
#include "report/causes/candidate.h"
#include "report/causes/zero.h"
#include "sim/path/setup_frame.h"

namespace provecut::causes {

namespace {

constexpr double same_side_mm = 0.05;
constexpr double most_times = 11;  // thicker than told: a lost decimal point, and a little

std::string_view flipWord(Flip flip) {
  return flip == Flip::left_right ? "left-right" : "front-back";
}

std::string_view flipText(Flip flip) {
  return flip == Flip::left_right ? "left to right" : "front to back";
}

double allBesideStock_mm(const Job& job, const std::vector<WorkBox>& cuts) {
  double sum_mm = 0;
  for (std::size_t s = 0; s < job.setups.size(); ++s) sum_mm += besideStock_mm(job, job.setups[s], cuts[s]);
  return sum_mm;
}

// The line of the job file for a stock of this size.
std::string sizeLine(const Job& job, bool job_file_in_inches) {
  Job file_job;
  file_job.inches = job_file_in_inches;
  const Vec3 size = job.stock.size_mm;
  return fmt::format("size = [{}, {}, {}]", dimensionText(file_job, size.x), dimensionText(file_job, size.y),
                     dimensionText(file_job, size.z));
}

// The deepest cut below the top of the setups whose zero is there, mm; 0: none.
double deepest_mm(const Suspect& suspect) {
  double deepest = 0;
  for (std::size_t s = 0; s < suspect.cuts.size(); ++s) {
    const Setup& setup = suspect.facts.job.setups[s];
    if (suspect.cuts[s].empty || !setup.zero_z_on_top || deepestAreSlips(suspect, s)) continue;
    deepest = std::max(deepest, suspect.facts.job.stock.size_mm.z - workToSetup(setup, suspect.cuts[s].low).z);
  }
  return deepest;
}

}  // namespace

void addFlips(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  for (std::size_t s = 0; s < facts.job.setups.size(); ++s) {
    const Flip now = facts.job.setups[s].flip;
    if (now == Flip::none) continue;
    const Flip flip = now == Flip::left_right ? Flip::front_back : Flip::left_right;
    Candidate c;
    c.kind = "flip";
    c.question = fmt::format("Is the stock flipped {} for {}?", flipText(flip), inSetup(facts, facts.job.setups[s]));
    // What does not fit shows in the holes and parts of any setup.
    c.description = sameDescription(facts);
    Setup& setup = c.description.job.setups[s];
    setup.flip = flip;
    c.place = setup.place;
    c.change = fmt::format("In {} of the job file, write:", inSetup(facts, setup));
    c.lines = {fmt::format("flip = \"{}\"", flipWord(flip))};
    candidates.push_back(std::move(c));
  }
}

void addTurnedStock(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  const Vec3 size = facts.job.stock.size_mm;
  if (std::fabs(size.x - size.y) < same_side_mm) return;
  Candidate c;
  c.kind = "stock-turned";
  c.description = sameDescription(facts);
  Job& job = c.description.job;
  std::vector<Zero> zeros;
  for (const Setup& setup : job.setups) zeros.push_back(zeroOf(job.stock, setup));
  std::swap(job.stock.size_mm.x, job.stock.size_mm.y);
  for (std::size_t s = 0; s < job.setups.size(); ++s) setZero(job.stock, job.setups[s], zeros[s]);
  const double now_mm = allBesideStock_mm(facts.job, suspect.cuts);
  if (now_mm < same_side_mm || allBesideStock_mm(job, suspect.cuts) > now_mm / 2) return;
  c.question =
      fmt::format("Does the {} side of the stock lie along X?", dimensionWithUnit(facts.job, job.stock.size_mm.x));
  c.change = "In [stock] of the job file, write:";
  c.lines = {sizeLine(job, facts.job_file_in_inches)};
  candidates.push_back(std::move(c));
}

namespace {

Candidate withThickness(const Suspect& suspect, double thickness_mm, std::string question) {
  const Facts& facts = suspect.facts;
  Candidate c;
  c.kind = "thickness";
  c.question = std::move(question);
  c.description = sameDescription(facts);
  const double tolerance_mm = facts.job.stock.thickness_tolerance_mm;
  setRealThickness(c.description.job, thickness_mm);
  c.description.job.stock.thickness_tolerance_mm = tolerance_mm;
  c.change = "Measure it, and write the thickness in [stock] of the job file:";
  c.lines = {sizeLine(c.description.job, facts.job_file_in_inches)};
  return c;
}

// The setups whose zero is on the underside do not cut far into the spoilboard.
bool staysAboveBoard(const Suspect& suspect) {
  const Job& job = suspect.facts.job;
  for (std::size_t s = 0; s < job.setups.size(); ++s) {
    const Setup& setup = job.setups[s];
    if (!suspect.cuts[s].empty && !setup.zero_z_on_top &&
        !notTooDeep(job, setup, workToSetup(setup, suspect.cuts[s].low).z))
      return false;
  }
  return true;
}

// Where the first cut of the programs whose zero is on the underside begins, the highest, above it, mm; 0: nowhere.
// Above the stock by all likelihood.
double firstCuts_mm(const Facts& facts) {
  double highest = 0;
  for (const ProgramFacts& p : facts.programs) {
    if (p.setup->zero_z_on_top) continue;
    const std::vector<Motion>& motions = p.program.motions;
    const auto first = std::find_if(motions.begin(), motions.end(),
                                    [](const Motion& m) { return moves(m) && m.kind != MotionKind::rapid; });
    if (first == motions.end() || (first->flags & (motion_height_unknown | motion_start_unknown))) continue;
    highest = std::max(highest, workToSetup(*p.setup, first->start).z);
  }
  return highest;
}

}  // namespace

void addThicknesses(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  const double said_mm = facts.job.stock.size_mm.z;
  const double deepest = throughStock_mm(facts.job, deepest_mm(suspect));
  if (deepest > 0 && std::fabs(deepest - said_mm) > 2 * same_side_mm && deepest < most_times * said_mm &&
      hasFinding(suspect, -1, {"bed-hit", "spoilboard-cut", "not-through", "part-attached"})) {
    const std::string thick = dimensionWithUnit(facts.job, deepest);
    const std::string question = deepest > said_mm ? fmt::format("Is the stock {} thick or more?", thick)
                                                   : fmt::format("Is the stock about {} thick?", thick);
    candidates.push_back(withThickness(suspect, deepest, question));
  }
  const double below_cuts = std::floor(firstCuts_mm(facts) * 10) / 10;
  if (below_cuts > 0 && below_cuts < said_mm - 2 * same_side_mm && staysAboveBoard(suspect) &&
      hasFinding(suspect, -1, {"rapid-in-stock", "low-rapid"}))
    candidates.push_back(
        withThickness(suspect, below_cuts,
                      fmt::format("Is the stock thinner, {} or less?", dimensionWithUnit(facts.job, below_cuts))));
}

}  // namespace provecut::causes
