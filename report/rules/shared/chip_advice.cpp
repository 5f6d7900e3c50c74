#include "report/rules/shared/chip_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <vector>

#include "parser/base/units.h"
#include "report/base/wording.h"
#include "report/facts/measures.h"
#include "report/rules/shared/tried_loads.h"

namespace provecut {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double rpm_step = 100;

// Numbers that one can set on a machine: whole hundreds of rpm, tens of mm/min above 100, whole in/min.
double stepOf(const Job& job, double feed_mm_min) {
  if (job.inches) return mm_per_inch;
  return feed_mm_min >= 100 ? 10 : 1;
}

double down(double value, double step) {
  return std::floor(value / step + 1e-4) * step;
}

double up(double value, double step) {
  return std::ceil(value / step - 1e-4) * step;
}

std::string rpmText(const Job& job, double rpm) {
  return quantityText(job, Quantity::speed_rpm, rpm);
}

AdvisedChange speedOf(const Tool& tool, double rpm) {
  return {ChangeKind::speed, rpm, {}, tool.number, -1, {}};
}

AdvisedChange feedOf(const Tool& tool, double feed_mm_min) {
  return {ChangeKind::feed, feed_mm_min, {}, tool.number, -1, {}};
}

std::string either(const std::vector<std::string>& ways) {
  std::string text;
  for (const std::string& way : ways) text += (text.empty() ? "" : ", or ") + way;
  return sentence(text);
}

}  // namespace

std::optional<std::string> adviseSpeed(const Facts& facts, const std::vector<int>& tools, double rpm,
                                       Finding& finding) {
  const std::vector<Motion>& motions = facts.programs[finding.program_order].program.motions;
  std::vector<AdvisedChange> speeds, matched;
  std::set<double> shares;
  for (const int number : tools) {
    double now = 0;
    for (const Motion& m : motions) {
      if (m.tool == number) now = std::max(now, double{m.rpm});
    }
    speeds.push_back({ChangeKind::speed, rpm, {}, number, -1, {}});
    matched.push_back(speeds.back());
    if (now <= 0) continue;
    const double share = rpm < now ? down(rpm / now, 0.01) : up(rpm / now, 0.01);
    shares.insert(share);
    matched.push_back({ChangeKind::feeds_share, share, {}, number, -1, {}});
  }
  const std::string_view each = tools.size() > 1 ? " for each" : "";
  std::string text = fmt::format("set S{:.0f}{}", rpm, each);
  if (provenByLoads(facts, finding, speeds)) {
    finding.ways.push_back(speeds);
    return text;
  }
  if (shares.empty() || *shares.begin() <= 0 || !provenByLoads(facts, finding, matched)) return std::nullopt;
  finding.ways.push_back(matched);
  if (shares.size() > 1) return text + ", and change their feeds in the same ratio";
  const double share = *shares.begin();
  return text + fmt::format(", and {} {} feeds to {:.0f} %", share < 1 ? "lower" : "raise",
                            tools.size() > 1 ? "their" : "its", share * 100);
}

double settableDown(const Job& job, double feed_mm_min) {
  return std::isfinite(feed_mm_min) ? down(feed_mm_min, stepOf(job, feed_mm_min)) : 0;
}

double maxRpm(const Facts& facts, const Tool& tool) {
  const double machine = machineKnown(facts) ? facts.job.machine.spindle_rpm_max : infinity;
  return std::min(machine, tool.max_rpm.value_or(infinity));
}

double maxLevelFeed_mm_min(const Facts& facts) {
  return machineKnown(facts) ? std::min(facts.job.machine.max_rate_mm_min.x, facts.job.machine.max_rate_mm_min.y)
                             : infinity;
}

double minRpm(const Facts& facts) {
  return machineKnown(facts) ? facts.job.machine.spindle_rpm_min : 0;
}

void adviseThickerChips(const Facts& facts, const Tool& tool, const ChipSettings& wanted, Finding& finding) {
  const Job& job = facts.job;
  const double lowest = minRpm(facts), max_feed = maxLevelFeed_mm_min(facts);
  const auto raiseText = [&](double feed_mm_min) {
    return "raise the feed to " + atLeastText(job, Quantity::feed, feed_mm_min);
  };
  // The figures by formula, then some beyond them: corners and short moves keep the machine from its feed.
  std::vector<double> speeds, feeds, feeds_at_lowest;
  for (const double share : {1.0, 0.9, 0.8, 0.7, 0.6}) {
    const double rpm = down(wanted.rpm * share, rpm_step);
    if (rpm > 0 && rpm >= lowest) speeds.push_back(rpm);
  }
  const auto addFeeds = [&](double feed_mm_min, std::vector<double>& all) {
    if (!wanted.machine_reaches_feed || !std::isfinite(feed_mm_min)) return;
    for (const double share : {1.0, 1.1, 1.25, 1.5, 2.0}) {
      const double feed = up(feed_mm_min * share, stepOf(job, feed_mm_min * share));
      if (feed <= max_feed) all.push_back(feed);
    }
  };
  addFeeds(wanted.feed_mm_min, feeds);
  std::vector<std::string> ways;
  if (const auto rpm = firstProven(facts, finding, speedOf(tool, 0), speeds)) {
    ways.push_back("use " + rpmText(job, *rpm));
    finding.ways.push_back({speedOf(tool, *rpm)});
  }
  if (const auto feed = firstProven(facts, finding, feedOf(tool, 0), feeds)) {
    ways.push_back(raiseText(*feed));
    finding.ways.push_back({feedOf(tool, *feed)});
  }
  if (!ways.empty()) {
    finding.help = either(ways);
    return;
  }
  // Neither alone will do; both together may.
  if (lowest > 0 && lowest < wanted.rpm_now) addFeeds(wanted.feed_mm_min * lowest / wanted.rpm_now, feeds_at_lowest);
  for (const double feed : feeds_at_lowest) {
    const std::vector<AdvisedChange> both{speedOf(tool, lowest), feedOf(tool, feed)};
    if (!provenByLoads(facts, finding, both)) continue;
    finding.help = fmt::format("Use {} and {}.", rpmText(job, lowest), raiseText(feed));
    finding.ways.push_back(both);
    return;
  }
  finding.help = tool.flutes > 1 ? "Not possible with this bit on this machine: use one with fewer flutes."
                                 : "Not possible with this bit on this machine: use a smaller one.";
}

void adviseThinnerChips(const Facts& facts, const Tool& tool, const ChipSettings& wanted, Finding& finding) {
  const Job& job = facts.job;
  std::vector<double> feeds, speeds;
  for (const double share : {1.0, 0.9, 0.75}) {
    const double feed = settableDown(job, wanted.feed_mm_min * share);
    if (feed > 0) feeds.push_back(feed);
  }
  for (const double share : {1.0, 1.1, 1.25}) {
    const double rpm = std::max(up(wanted.rpm * share, rpm_step), minRpm(facts));
    if (rpm <= maxRpm(facts, tool)) speeds.push_back(rpm);
  }
  std::vector<std::string> ways;
  if (const auto feed = firstProven(facts, finding, feedOf(tool, 0), feeds)) {
    ways.push_back("lower the feed to " + atMostText(job, Quantity::feed, *feed));
    finding.ways.push_back({feedOf(tool, *feed)});
  }
  if (const auto rpm = firstProven(facts, finding, speedOf(tool, 0), speeds)) {
    ways.push_back("use " + rpmText(job, *rpm));
    finding.ways.push_back({speedOf(tool, *rpm)});
  }
  finding.help = ways.empty() ? "Not possible with this bit on this machine: use a larger one." : either(ways);
}

}  // namespace provecut
