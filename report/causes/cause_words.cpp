#include "report/causes/cause_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "report/base/visible_text.h"

namespace provecut::causes {

namespace {

Gone goneOf(std::size_t before, std::size_t after) {
  return {before - std::min(before, after), before};
}

std::string goneText(const Gone& gone, std::string_view what) {
  return fmt::format("{} of {} {}", gone.gone, gone.of, what);
}

std::string effectText(const Facts& facts, const Candidate& c, Gone stops, Gone looks, std::size_t others) {
  std::string text;
  if (stops.gone > 0 || (stops.of > 0 && looks.gone == 0)) text = goneText(stops, stops.of == 1 ? "stop" : "stops");
  if (looks.gone > 0) {
    text += (text.empty() ? "" : " and ") +
            goneText(looks, looks.of == 1 ? "finding to check first" : "findings to check first");
  }
  const bool several = facts.job.setups.size() > 1;
  const std::string of =
      c.setup >= 0 && several ? " of setup " + facts.job.setups[static_cast<std::size_t>(c.setup)].name : std::string();
  const std::string come = others == 0   ? ""
                           : others == 1 ? ", and another shows up"
                                         : fmt::format(", and {} others show up", others);
  return fmt::format("Then {}{} {} gone{}.", text, of, stops.gone + looks.gone == 1 ? "is" : "are", come);
}

}  // namespace

LikelyCause told(const Facts& facts, const Trial& trial) {
  const Candidate& c = *trial.candidate;
  LikelyCause cause;
  cause.kind = c.kind;
  cause.question = visibleText(c.question);
  if (c.setup >= 0) cause.setup = visibleText(facts.job.setups[static_cast<std::size_t>(c.setup)].name);
  cause.stops = goneOf(trial.before.stops, trial.after.stops);
  cause.looks = goneOf(trial.before.looks, trial.after.looks);
  // As many of the job's own have come to light.
  std::size_t others = 0;
  if (cause.stops.gone + cause.looks.gone == 0) {
    cause.stops.gone = std::min(trial.effect.gone.stops, trial.before.stops);
    cause.looks.gone = std::min(trial.effect.gone.looks, trial.before.looks);
    others = trial.after.stops + trial.after.looks + cause.stops.gone + cause.looks.gone - trial.before.stops -
             trial.before.looks;
  }
  cause.effect = visibleText(effectText(facts, c, cause.stops, cause.looks, others));
  const bool no_job_file = facts.job.file.empty() && c.file.empty();
  cause.change = visibleText((no_job_file ? "Make a job file (provecut init). " : "") + c.change);
  for (const std::string& line : c.lines) cause.lines.push_back(visibleText(line));
  cause.file = visibleText(c.file.empty() ? facts.job.file : c.file);
  cause.place = shownPlace(c.file.empty() ? lineOfText(facts.job_text, c.place.line) : std::string_view(), c.place);
  return cause;
}

}  // namespace provecut::causes
