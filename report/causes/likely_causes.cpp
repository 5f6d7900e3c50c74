#include "report/causes/likely_causes.h"

#include <algorithm>
#include <ctime>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "report/causes/candidate.h"
#include "report/causes/cause_words.h"
#include "report/causes/trial.h"

namespace provecut {

namespace {

using causes::Candidate;
using causes::Suspect;
using causes::Trial;

// A check and its trials take about ten times as long as the check alone. What bounds them is a backstop, for jobs that
// are far slower to cut as they were meant: no trial begins after so many times what cutting took.
constexpr double most_times_cutting = 25, least_limit_s = 2;
constexpr std::size_t max_trials = 16, max_told = 3;
constexpr double coarse_factor = 4;

// Do both speak of the findings of one setup, or one of them of all?
bool sameFindings(const Candidate& a, const Candidate& b) {
  return a.setup == b.setup || a.setup < 0 || b.setup < 0;
}

// True where the setup has a finding that one wrong word brings about.
bool hasSign(const Suspect& suspect, int setup) {
  return std::any_of(suspect.report.findings.begin(), suspect.report.findings.end(), [&](const Finding& f) {
    return !f.accepted && f.level > Level::note && causes::signOfCause(suspect.facts.job, f) &&
           causes::ofSetup(suspect, f, setup);
  });
}

bool anythingToExplain(const Report& report) {
  return std::any_of(report.findings.begin(), report.findings.end(),
                     [](const Finding& f) { return !f.accepted && f.level > Level::note; });
}

std::vector<Candidate> candidatesFor(const Suspect& suspect) {
  std::vector<Candidate> candidates;
  if (!anythingToExplain(suspect.report)) return candidates;
  causes::addUnits(suspect, candidates);
  causes::addJobUnit(suspect, candidates);
  causes::addDecimalPoints(suspect, candidates);
  causes::addAbsoluteModes(suspect, candidates);
  causes::addToolCalls(suspect, candidates);
  causes::addUnlistedHoldDowns(suspect, candidates);
  causes::addTurnedStock(suspect, candidates);
  causes::addZeroFaces(suspect, candidates);
  causes::addArcCentres(suspect, candidates);
  causes::addThicknesses(suspect, candidates);
  causes::addZeroHeights(suspect, candidates);
  causes::addTools(suspect, candidates);
  causes::addFlips(suspect, candidates);
  causes::addZeroCorners(suspect, candidates);
  causes::addMissingPrograms(suspect, candidates);
  causes::addOrders(suspect, candidates);
  // A setup without anything to explain is as it was meant, and one finding of no tell-tale kind is a fault of its own.
  std::erase_if(candidates, [&](const Candidate& c) {
    const std::size_t found = causes::faultsIn(suspect.report, causes::scopeOf(suspect.facts, c));
    return found == 0 || (found < causes::least_gone && !hasSign(suspect, c.setup));
  });
  if (candidates.size() > max_trials) candidates.resize(max_trials);
  return candidates;
}

// Of what a run can hand out only the facts are wanted.
LoadOptions trialOptions(const LoadOptions& options) {
  LoadOptions quiet = options;
  quiet.finished_stock = {};
  quiet.stage = {};
  quiet.outlines = false;
  quiet.replay = nullptr;
  return quiet;
}

// Processor time, so that other work on the machine changes nothing.
struct TimeLimit {
  std::clock_t begun = std::clock();
  double most_s = 0;
  bool over() const { return static_cast<double>(std::clock() - begun) > most_s * CLOCKS_PER_SEC; }
};

// Nothing that explains less needs a trial.
bool explainsAll(const Trial& trial) {
  return trial.candidate->said_by_finding && trial.effect.weightGone() == trial.effect.weightBefore();
}

// The best first. Those that the time is not enough for are left out, but for the first.
std::vector<Trial> proven(const Report& report, std::span<const Candidate* const> candidates,
                          const LoadOptions& options, const TimeLimit& limit) {
  std::vector<Trial> trials;
  bool explained = false;
  for (const Candidate* candidate : candidates) {
    if (candidate != candidates.front() && limit.over()) break;
    if (explained && !candidate->said_by_finding) continue;
    if (std::optional<Trial> trial = causes::tried(report, *candidate, options)) trials.push_back(std::move(*trial));
    explained = explained || (!trials.empty() && explainsAll(trials.back()));
  }
  std::stable_sort(trials.begin(), trials.end(), causes::better);
  return trials;
}

// Those worth a trial at the cells of the check: cells four times as large tell nearly the same in a fraction of its
// time.
std::vector<const Candidate*> atCoarseCells(const Report& report, const std::vector<Candidate>& candidates,
                                            const LoadOptions& options, const TimeLimit& limit) {
  std::vector<const Candidate*> all;
  for (const Candidate& candidate : candidates) all.push_back(&candidate);
  if (all.size() <= max_told) return all;
  LoadOptions coarse = trialOptions(options);
  const Vec3 cell = report.facts->run.stock.cell_mm;
  coarse.tabs = false;
  coarse.cell_mm = coarse_factor * std::max(cell.x, cell.y);
  const std::unique_ptr<Facts> as_told = factsUnder(*report.facts, causes::sameDescription(*report.facts), coarse);
  const Report before = makeReport(*as_told);
  const std::vector<Trial> trials = proven(before, all, coarse, limit);
  std::vector<const Candidate*> worth;
  for (std::size_t i = 0; i < trials.size() && i < max_told; ++i) worth.push_back(trials[i].candidate);
  return worth;
}

// A finding that is gone under several causes names the first that speaks of its setup, else the first.
void nameCauses(Report& report, const std::vector<const Trial*>& trials) {
  for (const bool of_its_setup : {true, false}) {
    for (std::size_t c = 0; c < trials.size(); ++c) {
      const LikelyCause& cause = report.likely_causes[c];
      if (cause.tied) continue;
      for (const std::size_t i : trials[c]->gone) {
        Finding& f = report.findings[i];
        if (f.likely_cause || (of_its_setup && !cause.setup.empty() && cause.setup != f.setup)) continue;
        f.likely_cause = c;
      }
    }
  }
}

}  // namespace

void addLikelyCauses(Report& report, const LoadOptions& options) {
  const Suspect suspect = causes::suspectOf(report);
  const std::vector<Candidate> candidates = candidatesFor(suspect);
  const TimeLimit limit{.most_s = std::max(least_limit_s, most_times_cutting * report.facts->run_s)};
  const std::vector<Trial> trials =
      proven(report, atCoarseCells(report, candidates, options, limit), trialOptions(options), limit);
  std::vector<const Trial*> told;
  for (std::size_t i = 0; i < trials.size() && told.size() < max_told; ++i) {
    const auto rival = [&](const Trial& other) {
      return &other != &trials[i] && sameFindings(*other.candidate, *trials[i].candidate);
    };
    // Of what explains the same findings only the best is told, or all that are as good.
    if (std::any_of(trials.begin(), trials.end(),
                    [&](const Trial& t) { return rival(t) && causes::better(t, trials[i]); }))
      continue;
    LikelyCause cause = causes::told(*report.facts, trials[i]);
    cause.tied = std::any_of(trials.begin(), trials.end(),
                             [&](const Trial& t) { return rival(t) && !causes::better(trials[i], t); });
    report.likely_causes.push_back(std::move(cause));
    told.push_back(&trials[i]);
  }
  nameCauses(report, told);
}

}  // namespace provecut
