// Every advice works: done by the letter, the finding is gone, and nothing that was well is found at fault.
//
//     PROVECUT_ADVICE=2000 property_tests --gtest_filter='Advice.*'
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <utility>

#include "report/base/wording.h"
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

// Quick, and what is looked at again where it shows a fault.
constexpr double coarse_cell_mm = 0.5, fine_cell_mm = 0.1;

Checked checked(const TempFolder& folder, const AdviceJob& job, double cell_mm) {
  folder.write("a.nc", programText(job));
  folder.write("job.toml", jobText(job));
  LoadOptions options;
  options.cell_mm = cell_mm;
  for (const advice::SceneTool& t : job.tools) {
    if (t.diameter < 1) options.cell_mm = std::min(options.cell_mm, 0.2);
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

// How near other moves of the job pass the hold-down: while one hits it they are not told.
double nearestPass_mm(const Facts& facts, const std::string& hold_down) {
  double nearest_mm = std::numeric_limits<double>::infinity();
  for (const ProgramRun& run : facts.run.programs) {
    for (const NearPass& pass : run.near_passes) {
      if (facts.job.hold_downs[pass.hold_down].name == hold_down) nearest_mm = std::min(nearest_mm, pass.clearance_mm);
    }
  }
  return nearest_mm;
}

bool isCloserNow(const Checked& before, const std::vector<Finding>& after, const std::string& hold_down) {
  constexpr double rounding_mm = 1e-6;
  return std::any_of(after.begin(), after.end(), [&](const Finding& f) {
    return f.rule == "hold-down-close" && f.subject == hold_down &&
           *f.amount < nearestPass_mm(*before.facts, hold_down) - rounding_mm;
  });
}

// True where the tool took chips as thick before, though too seldom to be told.
bool tookSuchChips(const Facts& facts, const Finding& now) {
  constexpr double same = 1.01;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    for (std::size_t m = 0; m < motions.size(); ++m) {
      if (toolText(facts.job, motions[m].tool) == now.subject &&
          double{facts.run.programs[i].loads[m].max_chip_thickness_mm} * same >= *now.amount)
        return true;
    }
  }
  return false;
}

bool hasTips(const AdviceJob& job) {
  return std::any_of(job.tools.begin(), job.tools.end(), [](const advice::SceneTool& t) { return t.shape != "flat"; });
}

bool onLines(const Finding& f, std::uint32_t line) {
  return std::any_of(f.lines.begin(), f.lines.end(),
                     [&](const LineSpan& s) { return line >= s.first && line <= s.last; });
}

// True where no depth both goes through and is allowed in the spoilboard, or a tip leaves a rim.
bool cannotGoThrough(const AdviceJob& job) {
  constexpr double sure_mm = 0.1;
  return job.allowed_cut < sure_mm || hasTips(job);
}

std::string wrong(const AdviceJob& job, const Checked& checked_before, const std::vector<Finding>& after,
                  const Finding& finding) {
  const std::vector<Finding>& before = checked_before.findings;
  for (const Finding& f : after) {
    if (keyOf(f) != keyOf(finding)) continue;
    // A floor nearly as thin was told as one with it.
    if (f.rule == "floor-thin" && !onLines(finding, f.place.line)) continue;
    return fmt::format("is still there on line {}: {}", f.place.line, f.message);
  }
  if (finding.rule == "hold-down-hit" && isCloserNow(checked_before, after, finding.subject)) return "is still close";
  std::set<Key> known = keysOf(before, Level::note);
  std::set<std::string> told_next;  // rules, whatever their subject
  for (const Finding& f : before) {
    // Under what hangs over a neck nothing is measured.
    if (f.rule == "flute-too-short") known.insert({{"sliver-standing", ""}, {"floor-thin", ""}, {"part-free", ""}});
    if (f.rule == "hold-down-hit") known.insert({{"hold-down-close", f.subject}, {"low-rapid", f.subject}});
    // A rapid that cuts is not told as low, and a feed that is only low as a slip where it costs no minutes.
    if (f.rule == "rapid-in-stock" || f.rule == "rapid-grazes") known.insert({"low-rapid", ""});
    if (f.rule == "chip-thin") known.insert({"feed-slip", f.subject});
    // Feeds that only rub are not told beside one that crawls.
    if (f.rule == "feed-slip") known.insert({"chip-thin", f.subject});
    // What comes loose, or hangs on little, once cuts go through, or are no longer made by rapids, is told next.
    if (f.rule == "through-cut-short" || f.rule == "rapid-in-stock")
      told_next.insert({"offcut-free", "part-free", "held-by-one", "tabs-weak", "tabs-overloaded"});
    if ((f.rule == "spoilboard-cut" || f.rule == "bed-hit") && cannotGoThrough(job))
      told_next.insert({"not-through", "through-cut-short", "floor-thin", "sliver-standing", "rapid-in-stock"});
    // Where a rapid had cleared the way, another may end on the top of the stock now, and feeds cut that went through
    // air. How fast plunges may be is told from the slowest of them.
    if (f.rule == "rapid-in-stock") told_next.insert({"rapid-to-surface", "feed-over", "plunge-fast"});
    // A floor beside the skin was one with it.
    if (f.rule == "through-cut-short") known.insert({"floor-thin", ""});
    // In passes the last one frees it, and comes back to it where cuts cross.
    if (f.rule == "pass-too-deep") known.insert({"offcut-free", ""});
    // How far a bit bends is not told where its shank rubs.
    if (f.rule == "flute-too-short") known.insert({"cutter-deflection", f.subject});
    // A rapid down before X and Y are known is a feed move then, and feed moves that start nowhere are told.
    if (f.rule == "rapid-in-stock") known.insert({"position-unknown", ""});
    // What goes down before any height is known is first-move's.
    if (f.rule == "first-move") known.insert({"rapid-to-surface", ""});
  }
  for (const Finding& f : after) {
    if (f.rule == "chip-load" && tookSuchChips(*checked_before.facts, f)) known.insert(keyOf(f));
  }
  for (const Finding& f : after) {
    if (f.level >= Level::look && !known.contains(keyOf(f)) && !told_next.contains(f.rule))
      return fmt::format("brings {} on line {}: {}", f.rule, f.place.line, f.message);
  }
  return {};
}

const Finding* laterRapids(const Finding& first, const std::vector<Finding>& findings) {
  if (first.rule != "rapid-in-stock") return nullptr;
  const auto again = std::find_if(findings.begin(), findings.end(),
                                  [](const Finding& f) { return f.rule == "rapid-in-stock" && !f.ways.empty(); });
  return again == findings.end() || again->place.line <= first.place.line ? nullptr : &*again;
}

// A lip that a neck left over a groove goes up with the groove's floor.
bool overhangs(const AdviceJob& job) {
  return std::any_of(job.tools.begin(), job.tools.end(),
                     [](const advice::SceneTool& t) { return t.shank < t.diameter; });
}

// True where the help has a figure and there is no way to try. Left out: walls, tabs and ridges, which no line of the
// program stands for.
bool tellsUntried(const Finding& f, const AdviceJob& job) {
  static const std::set<std::string> drawn{"sliver-standing", "tabs-weak", "tabs-overloaded", "offcut-free",
                                           "part-free"};
  if (!f.ways.empty() || drawn.contains(f.rule)) return false;
  // How deep a tip that is not level must go to leave no rim is not worked out.
  if (f.rule == "not-through" && hasTips(job)) return false;
  // It warns of what comes then.
  if (f.help.find("loose: leave tabs") != std::string::npos || f.help.find("First give") != std::string::npos ||
      f.help.find("check again") != std::string::npos)
    return false;
  static const std::regex name("H[0-9]|bit [0-9]");
  return std::regex_replace(f.help, name, "").find_first_of("0123456789") != std::string::npos;
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

// What is wrong once one way of a finding is followed; empty: nothing.
std::string faultOf(const TempFolder& folder, const AdviceJob& job, const Checked& before, const Finding& f,
                    const std::vector<AdvisedChange>& way, double cell_mm, AdviceJob& after) {
  after = followed(job, f, way);
  Checked then = checked(folder, after, cell_mm);
  // What one rapid cut away is left for a later one to cut: that is told next.
  if (const Finding* later = laterRapids(f, then.findings)) {
    after = followed(after, *later, later->ways.front());
    then = checked(folder, after, cell_mm);
  }
  return wrong(job, before, then.findings, f);
}

// The same at cells that show more. Empty too where the finding is not there at them, or has no such way.
std::string faultAtFineCells(const TempFolder& folder, const AdviceJob& job, const Finding& coarse, std::size_t way,
                             AdviceJob& after) {
  const Checked before = checked(folder, job, fine_cell_mm);
  for (const Finding& f : before.findings) {
    if (keyOf(f) != keyOf(coarse) || way >= f.ways.size()) continue;
    return faultOf(folder, job, before, f, f.ways[way], fine_cell_mm, after);
  }
  return {};
}

TEST(Advice, done_by_the_letter_it_ends_the_finding_and_makes_nothing_worse) {
  const TempFolder folder;
  std::map<std::string, int> tried, failed;
  int count = 0;
  for (unsigned seed = firstSeed(); count < asked(); ++seed) {
    const AdviceJob job = advice::randomJob(seed);
    const Checked before = checked(folder, job, coarse_cell_mm);
    for (const Finding& f : before.findings) {
      if (f.rule == "floor-thin" && overhangs(job)) continue;
      if (tellsUntried(f, job))
        ADD_FAILURE() << "seed " << seed << ": " << f.rule << " tells a figure untried\n" << f.help;
      for (std::size_t way = 0; way < f.ways.size(); ++way) {
        AdviceJob after;
        std::string fault = faultOf(folder, job, before, f, f.ways[way], coarse_cell_mm, after);
        if (!fault.empty()) fault = faultAtFineCells(folder, job, f, way, after);
        ++count;
        ++tried[f.rule];
        if (fault.empty()) continue;
        ++failed[f.rule];
        ADD_FAILURE() << "seed " << seed << ", way " << way + 1 << ": " << f.rule << " " << fault << "\n"
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
