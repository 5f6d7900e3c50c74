#include "report/rules/shared/chip_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "parser/base/units.h"
#include "report/base/wording.h"
#include "report/facts/measures.h"

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

// The feed that the slower of the level axes can do.
double maxFeed_mm_min(const Facts& facts) {
  return machineKnown(facts) ? std::min(facts.job.machine.max_rate_mm_min.x, facts.job.machine.max_rate_mm_min.y)
                             : infinity;
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

double maxRpm(const Facts& facts, const Tool& tool) {
  const double machine = machineKnown(facts) ? facts.job.machine.spindle_rpm_max : infinity;
  return std::min(machine, tool.max_rpm.value_or(infinity));
}

double minRpm(const Facts& facts) {
  return machineKnown(facts) ? facts.job.machine.spindle_rpm_min : 0;
}

void adviseThickerChips(const Facts& facts, const Tool& tool, const ChipSettings& wanted, Finding& finding) {
  const Job& job = facts.job;
  const double rpm = down(wanted.rpm, rpm_step), lowest = minRpm(facts), max_feed = maxFeed_mm_min(facts);
  const auto settable = [&](double feed_mm_min) { return up(feed_mm_min, stepOf(job, feed_mm_min)); };
  const auto canFeed = [&](double feed_mm_min) {
    return wanted.machine_reaches_feed && std::isfinite(feed_mm_min) && settable(feed_mm_min) <= max_feed;
  };
  const auto raiseText = [&](double feed_mm_min) {
    return "raise the feed to " + atLeastText(job, Quantity::feed, settable(feed_mm_min));
  };
  std::vector<std::string> ways;
  if (rpm > 0 && rpm >= lowest) {
    ways.push_back("use " + rpmText(job, rpm));
    finding.ways.push_back({speedOf(tool, rpm)});
  }
  if (canFeed(wanted.feed_mm_min)) {
    ways.push_back(raiseText(wanted.feed_mm_min));
    finding.ways.push_back({feedOf(tool, settable(wanted.feed_mm_min))});
  }
  if (!ways.empty()) {
    finding.help = either(ways);
    return;
  }
  // Neither alone will do; both together may.
  const double feed = wanted.feed_mm_min * lowest / wanted.rpm_now;
  if (lowest > 0 && lowest < wanted.rpm_now && canFeed(feed)) {
    finding.help = fmt::format("Use {} and {}.", rpmText(job, lowest), raiseText(feed));
    finding.ways.push_back({speedOf(tool, lowest), feedOf(tool, settable(feed))});
    return;
  }
  finding.help = tool.flutes > 1 ? "Not possible with this bit on this machine: use one with fewer flutes."
                                 : "Not possible with this bit on this machine: use a smaller one.";
}

void adviseThinnerChips(const Facts& facts, const Tool& tool, const ChipSettings& wanted, Finding& finding) {
  const Job& job = facts.job;
  std::vector<std::string> ways;
  const double feed = down(wanted.feed_mm_min, stepOf(job, wanted.feed_mm_min));
  if (feed > 0) {
    ways.push_back("lower the feed to " + atMostText(job, Quantity::feed, feed));
    finding.ways.push_back({feedOf(tool, feed)});
  }
  // Any higher speed does as well.
  const double rpm = std::max(up(wanted.rpm, rpm_step), minRpm(facts));
  if (rpm <= maxRpm(facts, tool)) {
    ways.push_back("use " + rpmText(job, rpm));
    finding.ways.push_back({speedOf(tool, rpm)});
  }
  finding.help = ways.empty() ? "Not possible with this bit on this machine: use a larger one." : either(ways);
}

}  // namespace provecut
