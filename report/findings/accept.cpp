#include "report/findings/accept.h"

#include <string_view>

#include "parser/base/units.h"
#include "report/rules/rule.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

// Today's id of a rule, whatever it was called when the job file was written.
std::string_view currentId(const std::string& id) {
  const Rule* rule = findRule(id);
  return rule ? rule->id : std::string_view(id);
}

// `max_amount` is in the job file's unit; findings are in mm.
double mostAllowed(const Accept& accept, const Finding& f, bool inches) {
  const bool length = f.unit == "mm" || f.unit == "mm/min", area = f.unit == "mm²";
  const double factor = length ? mm_per_inch : area ? mm_per_inch * mm_per_inch : 1;
  return *accept.max_amount * (inches ? factor : 1) + clearance::contact_tolerance_mm;
}

bool meets(const Accept& accept, const Finding& f, bool inches) {
  if (currentId(accept.rule) != f.rule) return false;
  if (!accept.program.empty() && accept.program != f.program) return false;
  if (!accept.subject.empty() && accept.subject != f.subject) return false;
  if (!accept.max_amount) return true;
  return f.amount && *f.amount <= mostAllowed(accept, f, inches);
}

Finding unused(const Facts& facts, const Accept& accept) {
  Finding f;
  f.rule = "accept-unused";
  f.program = facts.job.file;
  f.place = shownPlace(lineOfText(facts.job_text, accept.place.line), accept.place);
  f.last_line = accept.place.line;
  f.subject = accept.rule;
  if (!findRule(accept.rule)) {
    f.message = "there is no rule named \"" + accept.rule + "\"";
    f.help = "Run `provecut explain` for the list of rules.";
    return f;
  }
  f.message = "no finding matches this [[accept]]: " + accept.rule;
  if (!accept.program.empty()) f.message += " in " + accept.program;
  if (!accept.subject.empty()) f.message += " on " + accept.subject;
  f.help = "Delete the entry, or correct its program, subject or max_amount.";
  return f;
}

}  // namespace

std::vector<Finding> applyAccepts(const Facts& facts, std::span<Finding> findings) {
  std::vector<Finding> without_use;
  for (const Accept& accept : facts.job.accepts) {
    bool used = false;
    for (Finding& f : findings) {
      if (!meets(accept, f, facts.job_file_in_inches)) continue;
      used = true;
      if (!f.accepted) f.accepted = accept.reason;
    }
    if (!used) without_use.push_back(unused(facts, accept));
  }
  return without_use;
}

}  // namespace provecut
