#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "report/facts/measures.h"
#include "report/facts/tool_changer.h"
#include "report/rules/list.h"
#include "report/rules/shared/chip_advice.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/moves_by_tool.h"
#include "sim/clearance/tolerance.h"
#include "sim/clock/path_limits.h"
#include "sim/path/motion_extent.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace spindle_off {

constexpr std::string_view page = R"(## What it finds

A move cuts while the spindle is off (no M3 yet, after M5, or at S0), runs backwards (M4), or is still spinning up:
less than `machine.spindle_start_s` after its start. That time is the dwells and moves since the start, each move at
its feed or at the axes' maximum rates, without acceleration. At a stop (M0, M1, M60) after the start the spindle comes
to speed while you press Start. Without `spindle_start_s` in the job file the time is a guess for such a machine at its
highest speed, and in proportion for a lower one; then a cut too early is only a look. One short by a tenth of that time
or less is a level lower still: the times are not known so well. Under M4 a feed along the very top of the stock counts
as a cut. A machine that changes its bits itself (`tool_change_s` below 60) waits for its spindle, unless the job gives
`spindle_start_s`.

A spindle that is switched by hand (`spindle = "by-hand"` under [machine]) needs no M3, and one with a dial
(`speed = "by-hand"`) no S.

## Why it matters

A bit that does not turn, or turns backwards, breaks or drags the stock along. While the spindle spins up, its chips
are far too thick.

## Example

With `spindle_start_s = 4`:

    M3 S18000
    G0 X20 Y20 Z2
    G1 Z-3 F300

The plunge starts less than 4 s after M3.

## What to do

For a router that you switch and dial yourself, say so under [machine]; the sheet then tells you when. Otherwise start
the spindle with M3 and a speed, and right after it put a dwell (G4) as long as the finding says. Check if your machine
reads the P of G4 in seconds or in milliseconds. All tools count as right-hand; for a left-hand tool accept the finding.

## What `amount` is

For a cut too early: the time since the start in s, the smallest of the group. Otherwise there is none.

## Source

NISTIR 6556 3.6 and 3.7 (M3, M4, M5, S). How long routers and spindles take to start is common practice; no published
source.
)";

constexpr std::string_view dwell_unit = "Check if your machine reads G4's P in seconds or in milliseconds.";

constexpr double long_since_s = std::numeric_limits<double>::infinity();

enum class Trouble { stopped, no_speed, backwards, early };

double moveSeconds(const Motion& m, const clock::AxisLimits& axes) {
  if (m.kind == MotionKind::dwell) return m.dwell_s;
  const double feed_mm_s = m.kind == MotionKind::rapid ? 0 : double{m.feed_mm_min} / 60;
  const clock::MovePath path = clock::movePath(m, axes, feed_mm_s);
  return path.speed_mm_s > 0 ? path.length_mm / path.speed_mm_s : 0;
}

// Share of the move that is over before its tip reaches the material; known for straight plunges only.
double shareBeforeContact(const Motion& m, const MoveCut& cut) {
  if (isArc(m) || goesSideways(m) || m.end.z >= m.start.z) return 0;
  const double in_material = double{cut.axial_depth_mm} / (m.start.z - m.end.z);
  return std::clamp(1 - in_material, 0.0, 1.0);
}

struct Met {
  std::vector<Occurrence> occurrences;
  std::set<int> tools;
  double worst_s = 0, needed_s = 0;  // the smallest amount, and what that start needed
  Place start;                       // of the spindle's start
};

// From rest to this speed. A time that the job file does not give is that to the highest speed; the drive speeds up
// evenly (common practice, no source).
double neededSeconds(const Facts& facts, double rpm) {
  const Machine& machine = facts.job.machine;
  if (!machineKnown(facts)) return 0;
  // A machine with a changer starts its spindle through a drive that reports when it is at speed.
  if (!machine.spindle_start_given && changesBitsItself(machine)) return 0;
  if (machine.spindle_start_given || !(rpm > 0) || !(machine.spindle_rpm_max > 0)) return machine.spindle_start_s;
  return machine.spindle_start_s * std::min(1.0, rpm / machine.spindle_rpm_max);
}

// A feed along the very top of the stock: it removes nothing here, and cuts where the real stock is a hair higher.
bool skims(const Facts& facts, const ProgramFacts& p, const Motion& m) {
  // A tapping cycle turns back by itself.
  constexpr unsigned none = motion_start_unknown | motion_height_unknown | motion_in_cycle;
  if (!feeds(m) || (m.flags & none) != 0) return false;
  const Tool* tool = findTool(facts.job, m.tool);
  const double reach = tool ? tool->diameter_mm / 2 : 0;
  const Vec3 size = stockSizeInSetup(facts.job.stock, *p.setup);
  const SetupBox box = workToSetup(*p.setup, motionExtent(m));
  return box.low.z <= size.z + clearance::contact_tolerance_mm && box.low.x - reach < size.x &&
         box.high.x + reach > 0 && box.low.y - reach < size.y && box.high.y + reach > 0;
}

std::map<Trouble, Met> troubles(const Facts& facts, std::size_t i) {
  const Program& program = facts.programs[i].program;
  const clock::AxisLimits axes = clock::axisLimits(facts.job.machine);
  double needed_s = 0;
  std::map<Trouble, Met> met;
  double running_s = long_since_s;  // started before this program, for all that is known
  Place start;
  auto event = program.events.begin();
  for (std::uint32_t m = 0; m < program.motions.size(); ++m) {
    for (; event != program.events.end() && event->before_motion <= m; ++event) {
      // While the operator presses Start the spindle comes to speed.
      if (event->kind == EventKind::stop || event->kind == EventKind::optional_stop) running_s = long_since_s;
      if (event->kind != EventKind::spindle_start) continue;
      running_s = 0;
      needed_s = neededSeconds(facts, event->value);
      start = event->place;
    }
    const Motion& motion = program.motions[m];
    const double own_s = running_s < needed_s ? moveSeconds(motion, axes) : 0;
    const MoveCut cut = cutOf(facts, i, m);
    const bool backwards = motion.spindle == Spindle::ccw && skims(facts, facts.programs[i], motion);
    if (moves(motion) && (cutsMaterial(cut) || backwards)) {
      const double at_contact_s = running_s + own_s * shareBeforeContact(motion, cut);
      const auto add = [&](Trouble trouble, double amount) {
        Met& group = met[trouble];
        group.tools.insert(motion.tool);
        if (group.occurrences.empty() || amount < group.worst_s) {
          group.start = start;
          group.worst_s = amount;
          group.needed_s = needed_s;
        }
        group.occurrences.push_back({m, amount, lowestTip(motion)});
      };
      if (motion.spindle == Spindle::off) {
        add(Trouble::stopped, 0);
      } else if (motion.rpm <= 0 && !facts.job.machine.dialled()) {
        add(Trouble::no_speed, 0);
      } else if (motion.spindle == Spindle::ccw) {
        add(Trouble::backwards, 0);
      } else if (at_contact_s < needed_s - clearance::contact_tolerance_mm) {
        add(Trouble::early, at_contact_s);
      }
    }
    running_s += own_s;
  }
  return met;
}

// Up to three by name, where each has its own.
std::string toolsText(const Job& job, const std::set<int>& tools) {
  constexpr std::size_t max_named = 3;
  std::vector<std::string> names;
  for (const int number : tools) names.push_back(toolText(job, number));
  const bool told_apart = std::set(names.begin(), names.end()).size() == names.size();
  return told_apart && names.size() <= max_named ? listText(names) : fmt::format("{} tools", tools.size());
}

void word(const Facts& facts, Trouble trouble, const Met& met, const Tool* tool, std::size_t program, Finding& f) {
  // Before M3 no speed is known.
  const double needed_s = trouble == Trouble::early ? met.needed_s : facts.job.machine.spindle_start_s;
  const std::string start_text = atLeastText(facts.job, Quantity::time_s, needed_s);
  switch (trouble) {
    case Trouble::stopped:
      f.message = "cuts with the spindle off";
      f.help = fmt::format("Start the spindle (M3 with S) and let it run for {} (G4) before this move. {}", start_text,
                           dwell_unit);
      if (!facts.job.file.empty())
        f.help += " Do you switch the spindle by hand? Then add spindle = \"by-hand\" under [machine].";
      return;
    case Trouble::no_speed:
      f.message = "cuts with the spindle on, but no speed is set (S0)";
      f.help = "Add an S word to the M3";
      if (const double rpm = tool ? maxRpm(facts, *tool) : facts.job.machine.spindle_rpm_max; std::isfinite(rpm)) {
        f.help += fmt::format(": S{:.0f} or less", rpm);
      }
      f.help += ".";
      if (!facts.job.file.empty())
        f.help += " Do you set the speed on a dial? Then add speed = \"by-hand\" under [machine].";
      return;
    case Trouble::backwards:
      f.message = "cuts with the spindle running backwards (M4)";
      f.help = "Use M3. For a left-hand tool, accept this finding in the job file.";
      return;
    case Trouble::early:
      break;
  }
  // A guess is told in tenths, rounded up: the dwell that is advised is the minimum.
  const double minimum_s = facts.job.machine.spindle_start_given ? needed_s : std::ceil(needed_s * 10 - 1e-6) / 10;
  const Compared seconds = comparedText(facts.job, Quantity::time_s, *f.amount, minimum_s);
  f.amount_text = seconds.actual;
  f.message = fmt::format("cuts only {} after the spindle starts (minimum {})", seconds.actual, seconds.limit);
  f.help = fmt::format("Put a dwell (G4) of {} right after M3. {}", seconds.limit, dwell_unit);
  if (!facts.job.file.empty() && !facts.job.machine.spindle_start_given)
    f.help += " If your spindle is faster, measure it and set spindle_start_s under [machine].";
  if (met.start.line > 0) {
    const ProgramFacts& p = facts.programs[program];
    f.related.push_back({p.entry->file, shownPlace(p, met.start), "the spindle starts here"});
  }
}

// Our own estimate of how well a start and the moves after it are timed; no source.
constexpr double timed_within = 0.1;

Level levelOfEarly(const Facts& facts, const Met& met) {
  const bool given = facts.job.machine.spindle_start_given;
  if (met.worst_s >= met.needed_s * (1 - timed_within)) return given ? Level::look : Level::note;
  return given ? Level::stop : Level::look;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const auto& [trouble, met] : troubles(facts, i)) {
      const bool early = trouble == Trouble::early;
      Finding f = early ? groupFinding(facts, i, spindle_off_rule, met.occurrences, Worst::smallest, Quantity::time_s)
                        : groupFinding(facts, i, spindle_off_rule, met.occurrences);
      const bool one_tool = met.tools.size() == 1;
      if (one_tool) f.subject = toolText(facts.job, *met.tools.begin());
      word(facts, trouble, met, one_tool ? findTool(facts.job, *met.tools.begin()) : nullptr, i, f);
      if (!one_tool) f.message += ", with " + toolsText(facts.job, met.tools);
      if (early) f.level = levelOfEarly(facts, met);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace spindle_off

const Rule spindle_off_rule{"spindle-off", Level::stop,
                            "A move cuts while the spindle is off, backwards or not yet up to speed.",
                            spindle_off::page, spindle_off::check};

}  // namespace provecut
