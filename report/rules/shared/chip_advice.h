// What to set where chips are too thin or too thick: absolute figures, within the limits of machine and tool.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

// Settings that would put a tool's chips right; each alone would do.
struct ChipSettings {
  double rpm_now = 0;
  double rpm = 0;                    // at most this for thicker chips, at least this for thinner ones
  double feed_mm_min = 0;            // the other way round
  bool machine_reaches_feed = true;  // false: a higher F word would change nothing
};

// The finding's help and ways: "Use 3,400 rpm, or raise the feed to 370 mm/min."
void adviseThickerChips(const Facts& facts, const Tool& tool, const ChipSettings& wanted, Finding& finding);

// "Lower the feed to 3,200 mm/min, or use 15,000 rpm."
void adviseThinnerChips(const Facts& facts, const Tool& tool, const ChipSettings& wanted, Finding& finding);

// "Set S12000", or "set S12000, and lower its feeds to 66 %" where the speed alone is not proven. Absent, and no way
// added, where neither is.
std::optional<std::string> adviseSpeed(const Facts& facts, const std::vector<int>& tools, double rpm, Finding& finding);

// The next lower feed that one can set: whole tens of mm/min from 100 on, whole in/min.
double settableDown(const Job& job, double feed_mm_min);

// The highest speed that both the machine and the tool allow, and the lowest of the machine; infinity and 0 where they
// are not known.
double maxRpm(const Facts& facts, const Tool& tool);
double minRpm(const Facts& facts);

// The feed that the slower of the level axes can do; infinity where the machine is not known.
double maxLevelFeed_mm_min(const Facts& facts);

}  // namespace provecut
