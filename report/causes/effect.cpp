#include "report/causes/effect.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <span>
#include <string_view>
#include <utility>

#include "report/rules/problem_rules.h"

namespace provecut::causes {

namespace {

// So many stops of several rules are nonsense rather than faults.
constexpr std::size_t nonsense_stops = 3;
// That a program which cut nothing may have of its own once it cuts.
constexpr std::size_t hidden_looks = 3;

// One thing that was found: what, and where.
struct Kind {
  std::string rule, setup, program, subject;
  friend auto operator<=>(const Kind&, const Kind&) = default;
};

// Rules that tell one matter at different levels: a part that is free under one description and on weak tabs under
// another is no new fault. The first of each names the matter.
constexpr std::array<std::array<std::string_view, 7>, 5> matters{{
    {"hold-down-hit", "hold-down-close"},
    {"part-free", "offcut-free", "tabs-weak", "tabs-overloaded", "held-by-one", "cut-in-tabbed-part"},
    {"bed-hit", "spoilboard-cut", "not-through", "through-cut-short", "floor-thin", "tape-edge-cut"},
    {"rapid-in-stock", "rapid-to-surface", "rapid-grazes", "low-rapid"},
    {"flute-too-short", "pass-too-deep", "chip-load", "power", "cutter-deflection", "shank-brushes", "shank-grip"},
}};

std::string matterOf(const std::string& rule) {
  for (const auto& matter : matters) {
    if (std::find(matter.begin(), matter.end(), rule) != matter.end()) return std::string(matter.front());
  }
  return rule;
}

// What lines of a program bring about that no other description of the job changes, as a rule.
bool ofLines(const std::string& rule) {
  constexpr std::string_view rules[] = {"first-move", "plunge-fast",     "setup-change",
                                        "feed-slip",  "tool-change-low", "spindle-sync"};
  const std::span<const Rule> problems = problemRules();
  return std::find(std::begin(rules), std::end(rules), rule) != std::end(rules) ||
         std::any_of(problems.begin(), problems.end(), [&](const Rule& r) { return r.id == rule; });
}

// By kind, those that another description may change.
std::map<Kind, Count> kindsOf(const Report& report, const Scope& scope) {
  std::map<Kind, Count> kinds;
  for (const Finding& f : report.findings) {
    if (!scope.holds(f) || ofProgramAlone(f)) continue;
    const bool by_subject = ofHoldDown(f);
    Count& count = kinds[{matterOf(f.rule), f.setup, by_subject ? "" : f.program, by_subject ? f.subject : ""}];
    if (by_subject)
      count = f.level == Level::stop || count.stops > 0 ? Count{1, 0} : Count{0, 1};
    else
      ++(f.level == Level::stop ? count.stops : count.looks);
    if (report.facts && signOfCause(report.facts->job, f)) ++count.signs;
  }
  return kinds;
}

std::size_t more(std::size_t a, std::size_t b) {
  return a > b ? a - b : 0;
}

void compare(const Count& before, const Count& after, Effect& e) {
  const std::size_t stops_gone = more(before.stops, after.stops);
  e.gone.stops += stops_gone;
  e.added.stops += more(after.stops, before.stops);
  e.gone.looks += more(before.looks, after.looks);
  // A stop that is only a look then is nothing new.
  e.added.looks += more(after.looks, before.looks + stops_gone);
}

}  // namespace

bool Scope::holds(const Finding& f) const {
  return !f.accepted && f.level > Level::note && (everywhere || f.setup == setup);
}

Count countOf(const Report& report, const Scope& scope) {
  Count count;
  for (const Finding& f : report.findings) {
    if (scope.holds(f)) ++(f.level == Level::stop ? count.stops : count.looks);
  }
  return count;
}

std::size_t faultsIn(const Report& report, const Scope& scope) {
  std::size_t faults = 0;
  for (const auto& [kind, count] : kindsOf(report, scope)) faults += count.stops + count.looks;
  return faults;
}

Effect effectOf(const Report& before, const Report& after, const Scope& scope) {
  Effect e;
  std::map<Kind, std::pair<Count, Count>> both;
  for (const auto& [kind, count] : kindsOf(before, scope)) both[kind].first = count;
  for (const auto& [kind, count] : kindsOf(after, scope)) both[kind].second = count;
  std::set<std::string> rules;
  for (const auto& [kind, counts] : both) {
    const std::size_t gone_before = e.gone.stops + e.gone.looks;
    const bool unchanged = counts.first.stops == counts.second.stops && counts.first.looks == counts.second.looks;
    if (unchanged && ofLines(kind.rule)) continue;
    e.before.stops += counts.first.stops;
    e.before.looks += counts.first.looks;
    compare(counts.first, counts.second, e);
    e.signs_gone += more(counts.first.signs, counts.second.signs);
    e.signs_added += more(counts.second.signs, counts.first.signs);
    if (e.gone.stops + e.gone.looks == gone_before) continue;
    rules.insert(kind.rule);
  }
  e.rules_gone = rules.size();
  return e;
}

bool explains(const Effect& e, Support support, std::size_t least) {
  if (e.signs_added > 0 || e.gone.stops + e.gone.looks < (e.signs_gone > 0 ? 1 : least)) return false;
  const bool most =
      2 * e.weightGone() > e.weightBefore() || (e.signs_gone > 0 && 2 * e.weightGone() == e.weightBefore());
  // Where a finding asks the same, the job may have as much of its own.
  const bool asked_alone = support.asked && e.signs_gone == 0;
  const bool enough = most || (asked_alone && e.gone.stops + e.gone.looks >= least_gone);
  if (!enough || (!asked_alone && 2 * e.gone.stops < e.before.stops)) return false;
  const bool hidden_stop = support.asked && e.added.stops <= 1 && e.gone.stops >= nonsense_stops;
  if (e.added.stops > 0 && !hidden_stop) return false;
  if (e.added.looks == 0) return true;
  // Where the cut is nonsense, what the job has of its own is hidden and comes to light with it.
  const bool nonsense = e.gone.stops >= nonsense_stops && e.rules_gone >= 2 && e.gone.stops == e.before.stops;
  return (support.nothing_was_cut && e.added.looks <= hidden_looks) ||
         (nonsense && stop_weight * e.added.looks <= e.weightGone());
}

bool signOfCause(const Job& job, const Finding& f) {
  // Nobody means to cut that far into the board; our own choice, no source.
  constexpr double far_into_board_mm = 1.5;
  constexpr std::string_view rules[] = {"cuts-nothing", "units-doubt", "cut-outside-stock", "sides-apart",
                                        "sides-break-through"};
  return std::find(std::begin(rules), std::end(rules), f.rule) != std::end(rules) ||
         (f.rule == "spoilboard-cut" && f.amount && *f.amount > job.spoilboard.allowed_cut_mm + far_into_board_mm);
}

bool ofProgramAlone(const Finding& f) {
  constexpr std::string_view rules[] = {"spindle-off", "spindle-range", "start-state",
                                        "end-state",   "feed-missing",  "not-accepted"};
  return std::find(std::begin(rules), std::end(rules), f.rule) != std::end(rules);
}

bool ofHoldDown(const Finding& f) {
  return f.rule.starts_with("hold-down") || f.rule.starts_with("pin") || f.rule.starts_with("screw");
}

bool cutsNothing(const Report& report, const Scope& scope) {
  return std::any_of(report.findings.begin(), report.findings.end(),
                     [&](const Finding& f) { return f.rule == "cuts-nothing" && scope.holds(f); });
}

}  // namespace provecut::causes
