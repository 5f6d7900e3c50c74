#include "report/causes/effect.h"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <utility>

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

// By kind, those that another description may change.
std::map<Kind, Count> kindsOf(const Report& report, const Scope& scope) {
  std::map<Kind, Count> kinds;
  for (const Finding& f : report.findings) {
    if (!scope.holds(f) || ofProgramAlone(f)) continue;
    const bool by_subject = ofHoldDown(f);
    // A hold-down that is hit and one that is only close are one.
    const std::string& rule = f.rule == "hold-down-close" ? std::string("hold-down-hit") : f.rule;
    Count& count = kinds[{rule, f.setup, by_subject ? "" : f.program, by_subject ? f.subject : ""}];
    if (by_subject)
      count = f.level == Level::stop || count.stops > 0 ? Count{1, 0} : Count{0, 1};
    else
      ++(f.level == Level::stop ? count.stops : count.looks);
  }
  return kinds;
}

void compare(std::size_t before, std::size_t after, std::size_t& gone, std::size_t& added) {
  gone += before > after ? before - after : 0;
  added += after > before ? after - before : 0;
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

bool signOfCause(const std::string& rule) {
  return rule == "cuts-nothing" || rule == "units-doubt" || rule == "cut-outside-stock" || rule == "sides-apart";
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
