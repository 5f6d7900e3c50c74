#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include "report/rules/grouping.h"
#include "report/rules/list.h"
#include "report/rules/measures.h"
#include "sim/motion_extent.h"
#include "sim/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A move that leaves the machine's travel. Where the setup gives `zero_in_machine`, every move is held against the ends of the
axes: an axis runs from 0 up to its travel, or from minus its travel up to 0 where `zero_in_machine` is negative there. Without
it, the programs of a setup together are held against the length of each axis.

## Why it matters

The machine stops in the middle of the job with an alarm, or runs into its end and loses its position.

## Example

With `travel = [400, 400, 80]`:

    G1 X-20 F1200
    G1 X390

The two moves are 410 mm apart in X.

## What to do

Move the zero as the finding says, or split the program.

## What `amount` is

How far beyond the travel in mm: of the furthest move, or by how much the moves together are longer than the axis.

## Source

Geometry.
)";

constexpr std::array<double Vec3::*, 3> axes{&Vec3::x, &Vec3::y, &Vec3::z};
constexpr std::array<const char*, 3> names{"X", "Y", "Z"};

// What is known of an axis along a program: where the tool stands at its start, and how high a move in machine
// coordinates goes without zero_in_machine, the reader had to assume.
struct Reach {
  double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
  bool empty() const { return low > high; }
  void add(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
};

class KnownReach {
 public:
  explicit KnownReach(std::size_t axis) : axis_(axis) {}

  Reach of(const Motion& m) {
    const double start = m.start.*axes[axis_], end = m.end.*axes[axis_];
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
      const Box3 box = motionExtent(m);
      reach.add(box.low.*axes[axis_]);
      reach.add(box.high.*axes[axis_]);
    }
    if (known_before) reach.add(start);
    if (known_ && !(height && height_assumed_)) reach.add(end);
    return reach;
  }

 private:
  std::size_t axis_;
  bool known_ = false, height_assumed_ = false;
};

void checkInMachine(const Facts& facts, std::size_t i, Vec3 zero, std::size_t axis, std::vector<Finding>& findings) {
  const double Vec3::*a = axes[axis];
  const double travel = facts.job.machine.travel_mm.*a;
  const double low = zero.*a < 0 ? -travel : 0, high = zero.*a < 0 ? 0 : travel;
  const std::vector<Motion>& motions = facts.programs[i].program.motions;
  std::vector<Occurrence> outside;
  Reach all;
  KnownReach known(axis);
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    if (!moves(motions[m])) continue;
    const Reach reach = known.of(motions[m]);
    if (reach.empty()) continue;
    all.add(reach.low);
    all.add(reach.high);
    const double beyond = std::max(low - (reach.low + zero.*a), reach.high + zero.*a - high);
    if (beyond > contact_tolerance_mm) outside.push_back({m, beyond, motions[m].end});
  }
  if (outside.empty()) return;
  Finding f = groupFinding(facts, i, travel_exceeded_rule, outside, Worst::largest, Quantity::length);
  f.unit = "mm";
  const std::string name = names[axis];
  f.subject = name + " axis";
  f.message = "goes " + std::string(f.moves > 1 ? "up to " : "") + quantityText(facts.job, Quantity::length, *f.amount) + " beyond the travel in " + name;
  // The zero may lie anywhere between these.
  const double least = low - all.low, most = high - all.high;
  if (least <= most) {
    f.help = "Put the work zero between " + quantityText(facts.job, Quantity::length, least) + " and " +
             quantityText(facts.job, Quantity::length, most) + " in machine " + name + "; it is at " +
             quantityText(facts.job, Quantity::length, zero.*a) + ".";
  } else {
    const Compared length = comparedText(facts.job, Quantity::length, all.high - all.low, travel);
    f.help = "The program needs " + length.met + " in " + name + ", the axis has " + length.allowed + ": split it.";
  }
  findings.push_back(std::move(f));
}

// The programs of one setup share one zero, wherever it is: together they must fit.
void checkLength(const Facts& facts, const std::vector<std::size_t>& programs, std::size_t axis, std::vector<Finding>& findings) {
  const double Vec3::*a = axes[axis];
  const double travel = facts.job.machine.travel_mm.*a;
  Reach all;
  std::optional<std::pair<std::size_t, std::uint32_t>> first;
  for (const std::size_t i : programs) {
    const std::vector<Motion>& motions = facts.programs[i].program.motions;
    KnownReach known(axis);
    for (std::uint32_t m = 0; m < motions.size(); ++m) {
      if (!moves(motions[m])) continue;
      const Reach reach = known.of(motions[m]);
      if (reach.empty()) continue;
      all.add(reach.low);
      all.add(reach.high);
      if (!first && all.high - all.low > travel + contact_tolerance_mm) first = {i, m};
    }
  }
  if (!first) return;
  const double needed = all.high - all.low;
  const Motion& motion = facts.programs[first->first].program.motions[first->second];
  Finding f = placeFinding(facts, first->first, travel_exceeded_rule, placeOf(motion));
  f.moves = 1;
  f.at = motion.end;
  f.amount = needed - travel;
  f.unit = "mm";
  const std::string name = names[axis];
  f.subject = name + " axis";
  const Compared length = comparedText(facts.job, Quantity::length, needed, travel);
  f.message = std::string(programs.size() > 1 ? "the programs of this setup need " : "the program needs ") + length.met + " in " + name +
              ", the axis has " + length.allowed;
  f.help = "Shorten the moves by at least " + atLeastText(facts.job, Quantity::length, *f.amount) + " in " + name +
           ", or correct the machine's travel in the job file.";
  findings.push_back(std::move(f));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!machineKnown(facts)) return;
  std::map<const Setup*, std::vector<std::size_t>> by_setup;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) by_setup[facts.programs[i].setup].push_back(i);
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const Setup& setup = *facts.programs[i].setup;
    for (std::size_t axis = 0; axis < axes.size(); ++axis) {
      if (setup.zero_in_machine_mm) {
        checkInMachine(facts, i, *setup.zero_in_machine_mm, axis, findings);
      } else if (by_setup[&setup].front() == i) {
        checkLength(facts, by_setup[&setup], axis, findings);
      }
    }
  }
}

}  // namespace

const Rule travel_exceeded_rule{"travel-exceeded", Level::stop, "A move leaves the machine's travel.", page, check};

}  // namespace provecut
