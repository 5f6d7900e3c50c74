#include "report/accept.h"

#include <string_view>

#include "report/rules/rule.h"
#include "sim/tolerance.h"

namespace provecut {

namespace {

// Today's id of a rule, whatever it was called when the job file was written.
std::string_view currentId(const std::string& id) {
  const Rule* rule = findRule(id);
  return rule ? rule->id : std::string_view(id);
}

bool meets(const Accept& accept, const Finding& f) {
  if (currentId(accept.rule) != f.rule) return false;
  if (!accept.program.empty() && accept.program != f.program) return false;
  if (!accept.subject.empty() && accept.subject != f.subject) return false;
  if (!accept.most) return true;
  return f.amount && *f.amount <= *accept.most + contact_tolerance_mm;
}

Finding unused(const Job& job, const Accept& accept) {
  Finding f;
  f.rule = "accept-unused";
  f.program = job.file;
  f.place = accept.place;
  f.last_line = accept.place.line;
  f.subject = accept.rule;
  f.message = "nothing is found that this accept of " + accept.rule;
  if (!accept.program.empty()) f.message += " in " + accept.program;
  if (!accept.subject.empty()) f.message += " on " + accept.subject;
  f.message += " meets";
  if (!findRule(accept.rule)) f.message += ": there is no rule of that name";
  f.help = findRule(accept.rule) ? "Take the entry out, or correct its program, subject or most."
                                 : "provecut explain lists the rules.";
  return f;
}

}  // namespace

std::vector<Finding> applyAccepts(const Job& job, std::span<Finding> findings) {
  std::vector<Finding> without_use;
  for (const Accept& accept : job.accepts) {
    bool used = false;
    for (Finding& f : findings) {
      if (!meets(accept, f)) continue;
      used = true;
      if (!f.accepted) f.accepted = accept.reason;
    }
    if (!used) without_use.push_back(unused(job, accept));
  }
  return without_use;
}

}  // namespace provecut
