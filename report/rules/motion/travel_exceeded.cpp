#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include "report/base/dimension_text.h"
#include "report/facts/measures.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/motion_extent.h"

namespace provecut {

namespace travel_exceeded {

constexpr std::string_view page = R"(## What it finds

A move leaves the machine's travel. If the setup gives `zero_in_machine`, every move is checked against the ends of
the axes: an axis runs from 0 up to its travel, or from minus its travel up to 0 where `zero_in_machine` is negative.
Without it, the total span of a setup's programs is checked against the length of each axis.

## Why it matters

The machine stops in mid-job with an alarm, or runs into its end stop and loses its position.

## Example

With `travel = [400, 400, 80]`:

    G1 X-20 F1200
    G1 X390

The two moves are 410 mm apart in X.

## What to do

Move the zero as the finding says, or split the program.

## What `amount` is

How far the farthest move goes beyond the travel in mm, or how much longer the span is than the axis.

## Source

Geometry.
)";

template <class P>
double along(const P& p, std::size_t axis) {
  return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

constexpr std::array<const char*, 3> names{"X", "Y", "Z"};
constexpr std::array zero_of{ChangeKind::zero_x, ChangeKind::zero_y, ChangeKind::zero_z};

// What is known of an axis along a program: where the tool is at its start, and how high a move in machine
// coordinates goes without zero_in_machine, the reader had to assume.
struct Reach {
  double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
  bool empty() const { return low > high; }
  void add(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
  void add(const Reach& r) {
    low = std::min(low, r.low);
    high = std::max(high, r.high);
  }
};

class KnownReach {
 public:
  explicit KnownReach(std::size_t axis) : axis_(axis) {}

  Reach of(const Motion& m) {
    const double start = along(m.start, axis_), end = along(m.end, axis_);
    const bool height = axis_ == 2;
    if (height && (m.flags & motion_height_unknown)) {
      height_assumed_ = true;
      return {};
    }
    const bool started = !(m.flags & motion_start_unknown);
    const bool known_before = (known_ || started) && !(height && height_assumed_);
    if (started || start != end) known_ = true;
    if (start != end) height_assumed_ = false;
    Reach reach;
    if (known_before && isArc(m)) {
      const WorkBox box = motionExtent(m);
      reach.add(along(box.low, axis_));
      reach.add(along(box.high, axis_));
    }
    if (known_before) reach.add(start);
    if (known_ && !(height && height_assumed_)) reach.add(end);
    return reach;
  }

 private:
  std::size_t axis_;
  bool known_ = false, height_assumed_ = false;
};

struct AxisCheck {
  explicit AxisCheck(std::size_t axis) : known(axis) {}
  KnownReach known;
  Reach all;
};

std::string axisText(std::size_t axis) {
  return std::string(names[axis]) + " axis";
}

void checkInMachine(const Facts& facts, std::size_t i, MachinePoint zero, std::vector<Finding>& findings) {
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  std::array<AxisCheck, 3> checks{AxisCheck(0), AxisCheck(1), AxisCheck(2)};
  std::array<std::vector<Occurrence>, 3> outside;
  std::array<double, 3> low{}, high{};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    const double travel = along(facts.job.machine.travel_mm, axis);
    (along(zero, axis) < 0 ? low : high)[axis] = along(zero, axis) < 0 ? -travel : travel;
  }
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    if (!moves(motions[m])) continue;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const Reach reach = checks[axis].known.of(motions[m]);
      if (reach.empty()) continue;
      checks[axis].all.add(reach);
      const double at = along(zero, axis);
      const double beyond = std::max(low[axis] - (reach.low + at), reach.high + at - high[axis]);
      if (beyond > clearance::contact_tolerance_mm) outside[axis].push_back({m, beyond, motions[m].end});
    }
  }
  for (std::size_t axis = 0; axis < 3; ++axis) {
    if (outside[axis].empty()) continue;
    Finding f = groupFinding(facts, i, travel_exceeded_rule, outside[axis], Worst::largest, Quantity::length);
    f.subject = axisText(axis);
    const std::string name = names[axis];
    f.message = fmt::format("goes {}{} beyond the travel along {}", upTo(f),
                            quantityText(facts.job, Quantity::length, *f.amount), name);
    // The zero may lie anywhere between these.
    const Reach& all = checks[axis].all;
    const double min_zero = low[axis] - all.low, max_zero = high[axis] - all.high;
    if (min_zero <= max_zero) {
      f.help = fmt::format("Put the work zero between machine {} {} and {}; it is at {}.", name,
                           atLeastText(facts.job, Quantity::length, min_zero),
                           atMostText(facts.job, Quantity::length, max_zero),
                           dimensionWithUnit(facts.job, along(zero, axis)));
      // Its sign says at which end the machine has its own zero.
      const double to = std::clamp(along(zero, axis), min_zero, max_zero);
      if (facts.programs[i].setup->programs.size() == 1 && (to < 0) == (along(zero, axis) < 0))
        f.ways.push_back({{zero_of[axis], to, {}, 0, -1, {}}});
    } else {
      const Compared length = comparedText(facts.job, Quantity::length, all.high - all.low, high[axis] - low[axis]);
      f.help = fmt::format("Split the program: it needs {} along {} (maximum {}).", length.actual, name, length.limit);
    }
    findings.push_back(std::move(f));
  }
}

// The programs of one setup share one zero, wherever it is: together they must fit.
void checkLength(const Facts& facts, const std::vector<std::size_t>& programs, std::vector<Finding>& findings) {
  struct First {
    std::size_t program;
    std::uint32_t move;
  };
  std::array<Reach, 3> all;
  std::array<std::optional<First>, 3> first;
  for (const std::size_t i : programs) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    std::array<KnownReach, 3> known{KnownReach(0), KnownReach(1), KnownReach(2)};
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      if (!moves(motions[m])) continue;
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const Reach reach = known[axis].of(motions[m]);
        if (reach.empty()) continue;
        all[axis].add(reach);
        const bool over =
            all[axis].high - all[axis].low > along(facts.job.machine.travel_mm, axis) + clearance::contact_tolerance_mm;
        if (over && !first[axis]) first[axis] = First{i, m};
      }
    }
  }
  for (std::size_t axis = 0; axis < 3; ++axis) {
    if (!first[axis]) continue;
    const double needed = all[axis].high - all[axis].low, travel = along(facts.job.machine.travel_mm, axis);
    const Motion& motion = facts.programs[first[axis]->program].program.motions[first[axis]->move];
    Finding f = placeFinding(facts, first[axis]->program, travel_exceeded_rule, placeOf(motion));
    f.moves = 1;
    f.at = motion.end;
    f.amount = needed - travel;
    f.unit = "mm";
    f.subject = axisText(axis);
    const std::string name = names[axis];
    const Compared length = comparedText(facts.job, Quantity::length, needed, travel);
    f.message = fmt::format("{} {} along {} (maximum {})",
                            programs.size() > 1 ? "the programs of this setup need" : "the program needs",
                            length.actual, name, length.limit);
    f.help = fmt::format("Shorten the moves along {} by at least {}, or correct the machine's travel in the job file.",
                         name, atLeastText(facts.job, Quantity::length, *f.amount));
    findings.push_back(std::move(f));
  }
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  std::map<const Setup*, std::vector<std::size_t>> by_setup;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) by_setup[facts.programs[i].setup].push_back(i);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const Setup& setup = *facts.programs[i].setup;
    if (setup.zero_in_machine_mm) {
      checkInMachine(facts, i, *setup.zero_in_machine_mm, findings);
    } else if (by_setup[&setup].front() == i) {
      checkLength(facts, by_setup[&setup], findings);
    }
  }
}

}  // namespace travel_exceeded

const Rule travel_exceeded_rule{"travel-exceeded", Level::stop, "A move leaves the machine's travel.",
                                travel_exceeded::page, travel_exceeded::check};

}  // namespace provecut
