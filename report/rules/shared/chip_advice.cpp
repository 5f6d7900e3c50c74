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

std::string thickerChipsAdvice(const Facts& facts, const Tool& tool, const ChipSettings& wanted) {
  const Job& job = facts.job;
  const double rpm = down(wanted.rpm, rpm_step), lowest = minRpm(facts), max_feed = maxFeed_mm_min(facts);
  const auto feedText = [&](double feed_mm_min) {
    return atLeastText(job, Quantity::feed, up(feed_mm_min, stepOf(job, feed_mm_min)));
  };
  const auto canFeed = [&](double feed_mm_min) {
    return wanted.machine_reaches_feed && up(feed_mm_min, stepOf(job, feed_mm_min)) <= max_feed;
  };
  std::vector<std::string> ways;
  if (rpm > 0 && rpm >= lowest) ways.push_back("use " + rpmText(job, rpm));
  if (canFeed(wanted.feed_mm_min)) ways.push_back("raise the feed to " + feedText(wanted.feed_mm_min));
  if (!ways.empty()) return either(ways);
  // Neither alone will do; both together may.
  if (lowest > 0 && lowest < wanted.rpm_now) {
    const double feed = wanted.feed_mm_min * lowest / wanted.rpm_now;
    if (canFeed(feed)) return fmt::format("Use {} and raise the feed to {}.", rpmText(job, lowest), feedText(feed));
  }
  return tool.flutes > 1 ? "Not possible with this bit on this machine: use one with fewer flutes."
                         : "Not possible with this bit on this machine: use a smaller one.";
}

std::string thinnerChipsAdvice(const Facts& facts, const Tool& tool, const ChipSettings& wanted) {
  const Job& job = facts.job;
  std::vector<std::string> ways;
  const double feed = down(wanted.feed_mm_min, stepOf(job, wanted.feed_mm_min));
  if (feed > 0) ways.push_back("lower the feed to " + atMostText(job, Quantity::feed, feed));
  // Any higher speed does as well.
  const double rpm = std::max(up(wanted.rpm, rpm_step), minRpm(facts));
  if (rpm <= maxRpm(facts, tool)) ways.push_back("use " + rpmText(job, rpm));
  return ways.empty() ? "Not possible with this bit on this machine: use a larger one." : either(ways);
}

}  // namespace provecut
