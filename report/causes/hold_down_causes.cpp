// Hold-downs that the job file has and no setup or program lists.
#include <fmt/core.h>

#include <algorithm>

#include "report/causes/candidate.h"

namespace provecut::causes {

namespace {

std::vector<int> unlisted(const Job& job) {
  std::vector<int> none;
  for (int h = 0; h < std::ssize(job.hold_downs); ++h) {
    const auto lists = [&](const std::vector<int>& list) {
      return std::find(list.begin(), list.end(), h) != list.end();
    };
    const bool listed = std::any_of(job.setups.begin(), job.setups.end(), [&](const Setup& setup) {
      return lists(setup.hold_downs) || std::any_of(setup.programs.begin(), setup.programs.end(),
                                                    [&](const ProgramEntry& entry) { return lists(entry.hold_downs); });
    });
    if (!listed && !job.hold_downs[static_cast<std::size_t>(h)].unplaced) none.push_back(h);
  }
  return none;
}

std::string listLine(const Job& job, const std::vector<int>& hold_downs) {
  std::string names;
  for (const int h : hold_downs)
    names += fmt::format("{}\"{}\"", names.empty() ? "" : ", ", job.hold_downs[static_cast<std::size_t>(h)].name);
  return fmt::format("hold_downs = [{}]", names);
}

// The hold-downs fitted from that program on; from the first one, for the whole setup.
Candidate fittedFrom(const Suspect& suspect, std::size_t s, std::size_t from, const std::vector<int>& added) {
  const Facts& facts = suspect.facts;
  Candidate c;
  c.kind = "hold-downs";
  c.said_by_finding = true;  // hold-down-unlisted
  c.description = sameDescription(facts);
  Setup& setup = c.description.job.setups[s];
  ProgramEntry& entry = setup.programs[from];
  const bool whole_setup = from == 0 && !entry.hold_downs_given;
  std::vector<int>& list = whole_setup ? setup.hold_downs : entry.hold_downs;
  list.insert(list.end(), added.begin(), added.end());
  if (!whole_setup) entry.hold_downs_given = true;
  listHoldDownsAgain(setup);
  const std::string in_setup = inSetup(facts, facts.job.setups[s]);
  const std::string where = whole_setup ? in_setup : "the [[setup.program]] of " + entry.file;
  c.question = fmt::format("Are the hold-downs that the job file does not list fitted {} {}?",
                           whole_setup ? "in" : "from", whole_setup ? in_setup : entry.file + " on");
  if (added.size() == 1) {
    const std::string& name = facts.job.hold_downs[static_cast<std::size_t>(added.front())].name;
    c.question = fmt::format("Is {} fitted {} {}?", name, whole_setup ? "in" : "from",
                             whole_setup ? in_setup : entry.file + " on");
  }
  c.place = whole_setup ? facts.job.setups[s].place : facts.job.setups[s].programs[from].place;
  c.change = fmt::format("In {} of the job file, write:", where);
  if (!whole_setup) c.change = fmt::format("In {} in the job file, write:", where);
  c.lines = {listLine(facts.job, list)};
  return c;
}

}  // namespace

void listHoldDownsAgain(Setup& setup) {
  std::vector<int> standing = setup.hold_downs;
  for (ProgramEntry& entry : setup.programs) {
    if (entry.hold_downs_given)
      standing = entry.hold_downs;
    else
      entry.hold_downs = standing;
  }
}

void addUnlistedHoldDowns(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Job& job = suspect.facts.job;
  const std::vector<int> added = unlisted(job);
  if (added.empty()) return;
  for (std::size_t s = 0; s < job.setups.size(); ++s) {
    // Where a part or the stock comes loose, they would hold it.
    for (std::size_t from = 0; from < job.setups[s].programs.size(); ++from) {
      const ProgramEntry& entry = job.setups[s].programs[from];
      const bool loose =
          std::any_of(suspect.report.findings.begin(), suspect.report.findings.end(), [&](const Finding& f) {
            constexpr std::string_view rules[] = {"part-free",       "offcut-free",        "tabs-weak",
                                                  "tabs-overloaded", "cut-in-tabbed-part", "stock-unheld"};
            if (f.accepted || f.level == Level::note ||
                std::find(std::begin(rules), std::end(rules), f.rule) == std::end(rules))
              return false;
            return f.program_order < 0
                       ? from == 0 && ofSetup(suspect, f, static_cast<int>(s))
                       : suspect.facts.programs[static_cast<std::size_t>(f.program_order)].entry == &entry;
          });
      if (!loose) continue;
      candidates.push_back(fittedFrom(suspect, s, from, added));
      break;
    }
  }
}

}  // namespace provecut::causes
