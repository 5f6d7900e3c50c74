// Every advice works: done by the letter, the finding is gone, and nothing that was well is found at fault.
//
//     PROVECUT_ADVICE=2000 property_tests --gtest_filter='Advice.*'
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <map>
#include <set>
#include <string>
#include <utility>

#include "report/facts/load.h"
#include "report/findings/report.h"
#include "tests/process.h"
#include "tests/property/advice_job.h"

namespace provecut::testing {
namespace advice_property_test {

using advice::AdviceJob;

using Key = std::pair<std::string, std::string>;  // rule and subject

struct Checked {
  std::unique_ptr<Facts> facts;
  std::vector<Finding> findings;
};

Checked checked(const TempFolder& folder, const AdviceJob& job) {
  folder.write("a.nc", programText(job));
  folder.write("job.toml", jobText(job));
  LoadOptions options;
  options.cell_mm = 0.5;
  Loading loading = loadJobFile((folder.path() / "job.toml").string(), options);
  Checked c{std::move(loading.facts), {}};
  for (const InputError& e : loading.errors) ADD_FAILURE() << e.message << "\n" << jobText(job);
  if (c.facts) c.findings = makeReport(*c.facts).findings;
  return c;
}

// Of a hold-down that was hit, a near pass is no new finding; and these speak of whatever is highest, or of all tools.
Key keyOf(const Finding& f) {
  if (f.rule == "first-move" || f.rule == "tool-change-low" || f.rule == "spindle-range") return {f.rule, ""};
  return {f.rule, f.subject};
}

std::set<Key> keysOf(const std::vector<Finding>& findings, Level at_least) {
  std::set<Key> keys;
  for (const Finding& f : findings) {
    if (f.level >= at_least) keys.insert(keyOf(f));
  }
  return keys;
}

std::string wrong(const std::vector<Finding>& before, const std::vector<Finding>& after, const Finding& finding) {
  const std::set<Key> left = keysOf(after, Level::note);
  const bool same_obstacle = finding.rule != "hold-down-hit" || !left.contains({"hold-down-close", finding.subject});
  if (left.contains(keyOf(finding))) return "is still there";
  if (!same_obstacle) return "is still close";
  std::set<Key> known = keysOf(before, Level::note);
  for (const Finding& f : before) {
    if (f.rule == "hold-down-hit") known.insert({"hold-down-close", f.subject});
  }
  // "A feed to match" leaves the feed to who sets it.
  const std::set<std::string> of_feeds{"chip-load",   "chip-thin",         "feed-over",
                                       "plunge-fast", "cutter-deflection", "power"};
  const bool to_match = finding.help.find("to match") != std::string::npos;
  // What a rapid no longer cuts, the plunge after it does; a pass taken twice goes down twice. The program's own
  // plunges set what is too fast then.
  const bool plunges =
      finding.rule == "rapid-in-stock" || finding.rule == "hold-down-hit" || finding.rule == "pass-too-deep";
  for (const Key& k : keysOf(after, Level::look)) {
    if (plunges && k.first == "plunge-fast") continue;
    if (to_match && of_feeds.contains(k.first)) continue;
    if (!known.contains(k)) return "brings " + k.first + " " + k.second;
  }
  return {};
}

int asked() {
  const char* count = std::getenv("PROVECUT_ADVICE");
  return count == nullptr ? 60 : std::atoi(count);
}

TEST(Advice, done_by_the_letter_it_ends_the_finding_and_makes_nothing_worse) {
  const TempFolder folder;
  std::map<std::string, int> tried, failed;
  int count = 0;
  for (unsigned seed = 1; count < asked(); ++seed) {
    const AdviceJob job = advice::randomJob(seed);
    const Checked before = checked(folder, job);
    for (const Finding& f : before.findings) {
      for (const std::vector<AdvisedChange>& way : f.ways) {
        const AdviceJob after = followed(job, f, way);
        const std::string fault = wrong(before.findings, checked(folder, after).findings, f);
        ++count;
        ++tried[f.rule];
        if (fault.empty()) continue;
        ++failed[f.rule];
        ADD_FAILURE() << "seed " << seed << ", way " << &way - f.ways.data() + 1 << ": " << f.rule << " " << fault
                      << "\n"
                      << f.message << "\n"
                      << f.help;
      }
    }
  }
  for (const auto& [rule, n] : tried) fmt::print("{}: {} tried, {} failed\n", rule, n, failed[rule]);
}

}  // namespace advice_property_test
}  // namespace provecut::testing
