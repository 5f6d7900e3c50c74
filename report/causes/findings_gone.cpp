#include "report/causes/findings_gone.h"

#include <algorithm>
#include <tuple>

#include "report/causes/effect.h"

namespace provecut::causes {

namespace {

// Parts are numbered as they come off, so that their names tell nothing of another cut.
bool sameKind(const Finding& a, const Finding& b) {
  return std::tie(a.rule, a.setup, a.program) == std::tie(b.rule, b.setup, b.program) &&
         (!ofHoldDown(a) || a.subject == b.subject);
}

bool linesMeet(const Finding& a, const Finding& b) {
  return a.place.line <= b.last_line && b.place.line <= a.last_line;
}

bool mayStay(const Finding& f, const Report& before, const Report& after) {
  return std::any_of(after.findings.begin(), after.findings.end(), [&](const Finding& then) {
    if (!sameKind(f, then)) return false;
    // One that meets none of its kind may be any of them, moved.
    return linesMeet(f, then) || std::none_of(before.findings.begin(), before.findings.end(), [&](const Finding& own) {
             return sameKind(own, then) && linesMeet(own, then);
           });
  });
}

}  // namespace

std::vector<std::size_t> findingsGone(const Report& before, const Report& after) {
  std::vector<std::size_t> gone;
  for (std::size_t i = 0; i < before.findings.size(); ++i) {
    const Finding& f = before.findings[i];
    if (!f.accepted && !ofProgramAlone(f) && !mayStay(f, before, after)) gone.push_back(i);
  }
  return gone;
}

}  // namespace provecut::causes
