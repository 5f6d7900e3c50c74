#include "report/causes/likely_causes.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string_view>
#include <tuple>
#include <utility>

#include "report/base/visible_text.h"
#include "report/causes/candidate.h"

namespace provecut {

namespace {

using causes::Candidate;
using causes::Suspect;

// A check and its trials take at most ten times as long as the check alone.
constexpr std::size_t max_trials = 16, max_told = 3;
constexpr double coarse_factor = 4;
// One fault alone needs no explanation.
constexpr std::size_t least_gone = 2;
// So many stops of several rules are nonsense rather than faults.
constexpr std::size_t nonsense_stops = 3;
// That a program which cut nothing may have of its own once it cuts.
constexpr std::size_t hidden_looks = 3;
// A stop weighs as much as this many looks.
constexpr std::size_t stop_weight = 4;

struct Count {
  std::size_t stops = 0, looks = 0;
};

// One thing that was found: what, and where.
struct Kind {
  std::string rule, setup, program, subject;
  friend auto operator<=>(const Kind&, const Kind&) = default;
};

// What a program says of the spindle, the feed and its first words: true under any description.
bool ofProgramAlone(const Finding& f) {
  constexpr std::string_view rules[] = {"spindle-off", "spindle-range", "start-state",
                                        "end-state",   "feed-missing",  "not-accepted"};
  return std::find(std::begin(rules), std::end(rules), f.rule) != std::end(rules);
}

// Whose findings are counted.
struct Scope {
  std::string setup;
  bool everywhere = true;
  bool holds(const Finding& f) const {
    return !f.accepted && f.level > Level::note && (everywhere || f.setup == setup);
  }
};

// By kind, those that another description may change.
std::map<Kind, Count> kindsOf(const Report& report, const Scope& scope) {
  std::map<Kind, Count> kinds;
  for (const Finding& f : report.findings) {
    if (!scope.holds(f) || ofProgramAlone(f)) continue;
    // A hold-down in the way of several programs is one fault.
    const bool by_subject = f.rule.starts_with("hold-down") || f.rule.starts_with("pin") || f.rule.starts_with("screw");
    Count& count = kinds[{f.rule, f.setup, by_subject ? "" : f.program, by_subject ? f.subject : ""}];
    if (by_subject)
      (f.level == Level::stop ? count.stops : count.looks) = 1;
    else
      ++(f.level == Level::stop ? count.stops : count.looks);
  }
  return kinds;
}

struct Effect {
  Count before, gone, added;
  std::size_t signs_gone = 0, signs_added = 0, rules_gone = 0;
  std::size_t weightGone() const { return stop_weight * gone.stops + gone.looks; }
  std::size_t weightBefore() const { return stop_weight * before.stops + before.looks; }
};

// Findings that one wrong word of the description alone brings about.
bool signOfCause(const std::string& rule) {
  return rule == "cuts-nothing" || rule == "units-doubt" || rule == "cut-outside-stock" || rule == "sides-apart";
}

void compare(std::size_t before, std::size_t after, std::size_t& gone, std::size_t& added) {
  gone += before > after ? before - after : 0;
  added += after > before ? after - before : 0;
}

Effect effectOf(const std::map<Kind, Count>& before, const std::map<Kind, Count>& after) {
  Effect e;
  std::map<Kind, std::pair<Count, Count>> both;
  for (const auto& [kind, count] : before) both[kind].first = count;
  for (const auto& [kind, count] : after) both[kind].second = count;
  std::set<std::string> rules;
  for (const auto& [kind, counts] : both) {
    const std::size_t gone_before = e.gone.stops + e.gone.looks, added_before = e.added.stops + e.added.looks;
    e.before.stops += counts.first.stops;
    e.before.looks += counts.first.looks;
    compare(counts.first.stops, counts.second.stops, e.gone.stops, e.added.stops);
    compare(counts.first.looks, counts.second.looks, e.gone.looks, e.added.looks);
    if (signOfCause(kind.rule) && e.added.stops + e.added.looks > added_before) ++e.signs_added;
    if (e.gone.stops + e.gone.looks == gone_before) continue;
    rules.insert(kind.rule);
    if (signOfCause(kind.rule)) ++e.signs_gone;
  }
  e.rules_gone = rules.size();
  return e;
}

// Cuts that the description as it is keeps off the material cannot be judged: what is found of them then is not new.
bool cutsNothing(const Report& report, const Scope& scope) {
  return std::any_of(report.findings.begin(), report.findings.end(),
                     [&](const Finding& f) { return f.rule == "cuts-nothing" && scope.holds(f); });
}

bool explains(const Effect& e, bool nothing_was_cut, std::size_t least) {
  if (e.signs_added > 0 || e.gone.stops + e.gone.looks < (e.signs_gone > 0 ? 1 : least)) return false;
  const bool most =
      2 * e.weightGone() > e.weightBefore() || (e.signs_gone > 0 && 2 * e.weightGone() == e.weightBefore());
  if (!most || 2 * e.gone.stops < e.before.stops || e.added.stops > 0) return false;
  if (e.added.looks == 0) return true;
  // Where the cut is nonsense, what the job has of its own is hidden and comes to light with it.
  const bool nonsense = e.gone.stops >= nonsense_stops && e.rules_gone >= 2 && e.gone.stops == e.before.stops;
  return (nothing_was_cut && e.added.looks <= hidden_looks) ||
         (nonsense && stop_weight * e.added.looks <= e.weightGone());
}

struct Trial {
  const Candidate* candidate = nullptr;
  Effect effect;
  Count before, after;  // all findings of the scope
};

Count countOf(const Report& report, const Scope& scope) {
  Count count;
  for (const Finding& f : report.findings) {
    if (scope.holds(f)) ++(f.level == Level::stop ? count.stops : count.looks);
  }
  return count;
}

Gone goneOf(std::size_t before, std::size_t after) {
  return {before - std::min(before, after), before};
}

// Do both speak of the findings of one setup, or one of them of all?
bool sameFindings(const Candidate& a, const Candidate& b) {
  return a.setup == b.setup || a.setup < 0 || b.setup < 0;
}

bool better(const Trial& a, const Trial& b) {
  return std::tuple(b.effect.weightGone(), a.effect.added.looks, a.candidate->unusual) <
         std::tuple(a.effect.weightGone(), b.effect.added.looks, b.candidate->unusual);
}

std::optional<Trial> tried(const Report& report, const Candidate& candidate, const LoadOptions& options) {
  const Facts& facts = *report.facts;
  const std::unique_ptr<Facts> other = factsUnder(facts, candidate.description, options);
  const Report then = makeReport(*other);
  // What that description hides from the check would be gone for nothing.
  if (then.not_checked.size() > report.not_checked.size()) return std::nullopt;
  const Scope all;
  Scope scope;
  if (candidate.setup >= 0)
    scope = {visibleText(facts.job.setups[static_cast<std::size_t>(candidate.setup)].name), false};
  const Effect in_scope = effectOf(kindsOf(report, scope), kindsOf(then, scope));
  const Effect in_all = effectOf(kindsOf(report, all), kindsOf(then, all));
  const bool nothing_was_cut = cutsNothing(report, scope);
  // Without tabs some of it is not seen.
  if (!explains(in_scope, nothing_was_cut, options.tabs ? least_gone : 1) || in_all.added.stops > 0 ||
      (in_all.added.looks > in_scope.added.looks && !nothing_was_cut))
    return std::nullopt;
  return Trial{&candidate, in_scope, countOf(report, scope), countOf(then, scope)};
}

std::string countText(std::size_t gone, std::size_t of, std::string_view what) {
  return fmt::format("{} of {} {}", gone, of, what);
}

std::string effectText(const Facts& facts, const Candidate& c, Gone stops, Gone looks) {
  std::string text;
  if (stops.of > 0) text = countText(stops.gone, stops.of, stops.of == 1 ? "stop" : "stops");
  if (looks.gone > 0) text += (text.empty() ? "" : " and ") + countText(looks.gone, looks.of, "to check first");
  const bool several = facts.job.setups.size() > 1;
  const std::string of =
      c.setup >= 0 && several ? " of setup " + facts.job.setups[static_cast<std::size_t>(c.setup)].name : std::string();
  return fmt::format("Then {}{} {} gone.", text, of, stops.gone + looks.gone == 1 ? "is" : "are");
}

LikelyCause told(const Facts& facts, const Trial& trial) {
  const Candidate& c = *trial.candidate;
  LikelyCause cause;
  cause.kind = c.kind;
  cause.question = visibleText(c.question);
  if (c.setup >= 0) cause.setup = visibleText(facts.job.setups[static_cast<std::size_t>(c.setup)].name);
  cause.stops = goneOf(trial.before.stops, trial.after.stops);
  cause.looks = goneOf(trial.before.looks, trial.after.looks);
  cause.effect = visibleText(effectText(facts, c, cause.stops, cause.looks));
  const bool no_job_file = facts.job.file.empty() && c.file.empty();
  cause.change = visibleText((no_job_file ? "Make a job file (provecut init). " : "") + c.change);
  for (const std::string& line : c.lines) cause.lines.push_back(visibleText(line));
  cause.file = visibleText(c.file.empty() ? facts.job.file : c.file);
  cause.place = shownPlace(c.file.empty() ? lineOfText(facts.job_text, c.place.line) : std::string_view(), c.place);
  return cause;
}

// True where the setup has a finding that one wrong word brings about.
bool hasSign(const Suspect& suspect, int setup) {
  return std::any_of(suspect.report.findings.begin(), suspect.report.findings.end(), [&](const Finding& f) {
    return !f.accepted && f.level > Level::note && signOfCause(f.rule) && causes::ofSetup(suspect, f, setup);
  });
}

std::vector<Candidate> candidatesFor(const Suspect& suspect) {
  std::vector<Candidate> candidates;
  causes::addZeroFaces(suspect, candidates);
  causes::addUnits(suspect, candidates);
  causes::addArcCentres(suspect, candidates);
  causes::addTurnedStock(suspect, candidates);
  causes::addThicknesses(suspect, candidates);
  causes::addTools(suspect, candidates);
  causes::addFlips(suspect, candidates);
  causes::addZeroCorners(suspect, candidates);
  causes::addMissingPrograms(suspect, candidates);
  causes::addOrders(suspect, candidates);
  // A setup without anything to explain is as it was meant, and one finding of no tell-tale kind is a fault of its own.
  std::erase_if(candidates, [&](const Candidate& c) {
    const std::size_t found =
        causes::countFindings(suspect, c.setup, Level::stop) + causes::countFindings(suspect, c.setup, Level::look);
    return found == 0 || (found < least_gone && !hasSign(suspect, c.setup));
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

std::vector<Trial> proven(const Report& report, std::span<const Candidate* const> candidates,
                          const LoadOptions& options) {
  std::vector<Trial> trials;
  for (const Candidate* candidate : candidates) {
    if (std::optional<Trial> trial = tried(report, *candidate, options)) trials.push_back(*trial);
  }
  return trials;
}

// Those worth a trial at the cells of the check: cells four times as large tell nearly the same in a fraction of its
// time.
std::vector<const Candidate*> atCoarseCells(const Report& report, const std::vector<Candidate>& candidates,
                                            const LoadOptions& options) {
  std::vector<const Candidate*> all;
  for (const Candidate& candidate : candidates) all.push_back(&candidate);
  if (all.size() <= max_told) return all;
  LoadOptions coarse = trialOptions(options);
  const Vec3 cell = report.facts->run.stock.cell_mm;
  coarse.tabs = false;
  coarse.cell_mm = coarse_factor * std::max(cell.x, cell.y);
  const std::unique_ptr<Facts> as_told = factsUnder(*report.facts, causes::sameDescription(*report.facts), coarse);
  const Report before = makeReport(*as_told);
  std::vector<Trial> trials = proven(before, all, coarse);
  std::stable_sort(trials.begin(), trials.end(), better);
  std::vector<const Candidate*> worth;
  for (std::size_t i = 0; i < trials.size() && i < max_told; ++i) worth.push_back(trials[i].candidate);
  return worth;
}

}  // namespace

std::vector<LikelyCause> likelyCauses(const Report& report, const LoadOptions& options) {
  const Suspect suspect = causes::suspectOf(report);
  const std::vector<Candidate> candidates = candidatesFor(suspect);
  std::vector<Trial> trials = proven(report, atCoarseCells(report, candidates, options), trialOptions(options));
  std::stable_sort(trials.begin(), trials.end(), better);
  std::vector<LikelyCause> likely;
  for (std::size_t i = 0; i < trials.size() && likely.size() < max_told; ++i) {
    const auto rival = [&](const Trial& other) {
      return &other != &trials[i] && sameFindings(*other.candidate, *trials[i].candidate);
    };
    // Of what explains the same findings only the best is told, or all that are as good.
    if (std::any_of(trials.begin(), trials.end(), [&](const Trial& t) { return rival(t) && better(t, trials[i]); }))
      continue;
    LikelyCause cause = told(*report.facts, trials[i]);
    cause.tied =
        std::any_of(trials.begin(), trials.end(), [&](const Trial& t) { return rival(t) && !better(trials[i], t); });
    likely.push_back(std::move(cause));
  }
  return likely;
}

}  // namespace provecut
