#include "report/causes/trial.h"

#include <memory>
#include <tuple>

#include "report/base/visible_text.h"
#include "report/causes/findings_gone.h"

namespace provecut::causes {

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
  const Effect in_scope = effectOf(report, then, scope), in_all = effectOf(report, then, all);
  const bool nothing_was_cut = cutsNothing(report, scope);
  // Without tabs some of it is not seen.
  if (!explains(in_scope, nothing_was_cut, options.tabs ? least_gone : 1) || in_all.added.stops > 0 ||
      (in_all.added.looks > in_scope.added.looks && !nothing_was_cut))
    return std::nullopt;
  return Trial{&candidate, in_scope, countOf(report, scope), countOf(then, scope), findingsGone(report, then)};
}

bool better(const Trial& a, const Trial& b) {
  return std::tuple(b.effect.weightGone(), a.effect.added.looks, a.candidate->unusual) <
         std::tuple(a.effect.weightGone(), b.effect.added.looks, b.candidate->unusual);
}

}  // namespace provecut::causes
