// Every advice works: done by the letter, the finding is gone, and nothing that was well is found at fault.
//
//     PROVECUT_ADVICE=2000 property_tests --gtest_filter='Advice.*'
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
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
  for (const advice::SceneTool& t : job.tools) {
    if (t.diameter < 1) options.cell_mm = 0.2;
  }
  Loading loading = loadJobFile((folder.path() / "job.toml").string(), options);
  Checked c{std::move(loading.facts), {}};
  for (const InputError& e : loading.errors) ADD_FAILURE() << e.message << "\n" << jobText(job);
  if (c.facts) c.findings = makeReport(*c.facts).findings;
  return c;
}

// These speak of whatever is highest, or of all tools beyond one limit.
Key keyOf(const Finding& f) {
  if (f.rule == "first-move" || f.rule == "tool-change-low") return {f.rule, ""};
  if (f.rule == "spindle-range") return {f.rule, f.message.find("maximum") != std::string::npos ? "fast" : "slow"};
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
    // Under what hangs over a neck nothing is measured.
    if (f.rule == "flute-too-short") known.insert({{"sliver-standing", ""}, {"floor-thin", ""}});
    if (f.rule == "hold-down-hit") known.insert({{"hold-down-close", f.subject}, {"low-rapid", f.subject}});
  }
  for (const Key& k : keysOf(after, Level::look)) {
    if (!known.contains(k)) return "brings " + k.first + " " + k.second;
  }
  return {};
}

const Finding* laterRapids(const Finding& first, const std::vector<Finding>& findings) {
  if (first.rule != "rapid-in-stock") return nullptr;
  const auto again = std::find_if(findings.begin(), findings.end(),
                                  [](const Finding& f) { return f.rule == "rapid-in-stock" && !f.ways.empty(); });
  return again == findings.end() || again->place.line <= first.place.line ? nullptr : &*again;
}

int asked() {
  const char* count = std::getenv("PROVECUT_ADVICE");
  return count == nullptr ? 60 : std::atoi(count);
}

// PROVECUT_ADVICE_SEED: other jobs.
unsigned firstSeed() {
  const char* seed = std::getenv("PROVECUT_ADVICE_SEED");
  return seed == nullptr ? 1 : static_cast<unsigned>(std::atoi(seed));
}

TEST(Advice, done_by_the_letter_it_ends_the_finding_and_makes_nothing_worse) {
  const TempFolder folder;
  std::map<std::string, int> tried, failed;
  int count = 0;
  for (unsigned seed = firstSeed(); count < asked(); ++seed) {
    const AdviceJob job = advice::randomJob(seed);
    const Checked before = checked(folder, job);
    for (const Finding& f : before.findings) {
      for (const std::vector<AdvisedChange>& way : f.ways) {
        AdviceJob after = followed(job, f, way);
        Checked then = checked(folder, after);
        // What one rapid cut away is left for a later one to cut: that is told next.
        if (const Finding* later = laterRapids(f, then.findings)) {
          after = followed(after, *later, later->ways.front());
          then = checked(folder, after);
        }
        const std::string fault = wrong(before.findings, then.findings, f);
        ++count;
        ++tried[f.rule];
        if (fault.empty()) continue;
        ++failed[f.rule];
        ADD_FAILURE() << "seed " << seed << ", way " << &way - f.ways.data() + 1 << ": " << f.rule << " " << fault
                      << "\n"
                      << f.message << "\n"
                      << f.help << "\n"
                      << jobText(job) << programText(job) << "---\n"
                      << programText(after);
      }
    }
  }
  for (const auto& [rule, n] : tried) fmt::print("{}: {} tried, {} failed\n", rule, n, failed[rule]);
}

}  // namespace advice_property_test
}  // namespace provecut::testing
