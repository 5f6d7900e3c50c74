#include "report/causes/trial.h"

#include <memory>
#include <tuple>

#include "report/base/visible_text.h"
#include "report/causes/findings_gone.h"

namespace provecut::causes {

Scope scopeOf(const Facts& facts, const Candidate& candidate) {
  if (candidate.setup < 0) return {};
  return {visibleText(facts.job.setups[static_cast<std::size_t>(candidate.setup)].name), false};
}

std::optional<Trial> tried(const Report& report, const Candidate& candidate, const LoadOptions& options) {
  const Facts& facts = *report.facts;
  const std::unique_ptr<Facts> other = factsUnder(facts, candidate.description, options);
  other->advice_is_tried = true;  // nobody reads it
  const Report then = makeReport(*other);
  // What that description hides from the check would be gone for nothing.
  // Coarse cells leave more unchecked where more is cut: that is for the trial at the check's own cells.
  if (options.tabs && then.not_checked.size() > report.not_checked.size()) return std::nullopt;
  const Scope all, scope = scopeOf(facts, candidate);
  const Effect in_scope = effectOf(report, then, scope), in_all = effectOf(report, then, all);
  // Cuts in the wrong unit are as far from what is meant as none.
  const bool asked = candidate.said_by_finding, nothing_was_cut = asked || cutsNothing(report, scope);
  // Without tabs some of it is not seen.
  if (!explains(in_scope, {asked, nothing_was_cut}, options.tabs ? least_gone : 1) ||
      in_all.added.stops > in_scope.added.stops || (in_all.added.looks > in_scope.added.looks && !nothing_was_cut))
    return std::nullopt;
  return Trial{&candidate, in_scope, countOf(report, scope), countOf(then, scope), findingsGone(report, then)};
}

bool better(const Trial& a, const Trial& b) {
  const auto order = [](const Trial& first, const Trial& second) {
    return std::tuple(!first.candidate->said_by_finding, second.effect.weightGone(), first.effect.added.looks,
                      first.candidate->unusual);
  };
  return order(a, b) < order(b, a);
}

}  // namespace provecut::causes
