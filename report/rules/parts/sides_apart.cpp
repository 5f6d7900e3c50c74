#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "report/base/number_text.h"
#include "report/facts/measures.h"
#include "report/facts/setup_words.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "sim/path/path.h"
#include "sim/path/setup_frame.h"

namespace provecut {

namespace sides_apart {

constexpr std::string_view page = R"(## What it finds

The deep cuts of a flipped setup do not meet those from the other side, but would if the stock were flipped the other
way or rotated. Pins that fit both ways cannot show this, so provecut looks at what the cuts do to the part.

## Why it matters

Outlines that should meet cut the part in two instead, holes come out in the wrong place, and webs stay where the part
should come free.

## Example

An outline cut half through from each side, pins on both middle lines, and

    [[setup]]
    name = "back"
    flip = "front-back"

while the programs were made for a flip left to right.

## What to do

Write the flip that the programs were made for in the job file, and flip the stock that way.

## What `amount` is

The share of the deep cuts that meet as the job file says, in %.

## Source

Geometry: the paths of the tip that are deeper than a quarter of the stock, compared to 1 mm. You get this finding if at
most 30 % of them meet as described and at least 80 % the other way: our estimate.
)";

constexpr double cell_mm = 1, step_mm = 0.5, deep_share = 0.25, through_mm = 0.05;
constexpr double seldom = 0.3, mostly = 0.8;
constexpr std::size_t least_cells = 4;  // as many holes
constexpr double least_spread_mm = 30;

// Cells of the plan that are set. Outside of its square nothing can be.
class Spots {
 public:
  explicit Spots(const Stock& stock)
      : wide_(static_cast<int>(std::ceil(std::max(stock.size_mm.x, stock.size_mm.y) / cell_mm)) + 1),
        set_(static_cast<std::size_t>(wide_) * static_cast<std::size_t>(wide_)) {}

  // False where it was set before, or lies outside.
  bool insert(double x, double y) {
    const auto cell = at(cellOf(x), cellOf(y));
    if (!cell || set_[*cell]) return false;
    set_[*cell] = true;
    any_ = true;
    return true;
  }
  // In the cell of the point or in one beside it.
  bool near(double x, double y) const {
    for (int k = 0; k < 9; ++k) {
      const auto cell = at(cellOf(x) + k % 3 - 1, cellOf(y) + k / 3 - 1);
      if (cell && set_[*cell]) return true;
    }
    return false;
  }
  bool empty() const { return !any_; }

 private:
  static int cellOf(double along) { return static_cast<int>(std::floor(along / cell_mm)); }
  std::optional<std::size_t> at(int x, int y) const {
    if (x < 0 || y < 0 || x >= wide_ || y >= wide_) return std::nullopt;
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(wide_) + static_cast<std::size_t>(x);
  }

  int wide_;
  bool any_ = false;
  std::vector<bool> set_;
};

// Calls visit(point) along the ways at feed of a program that lie deep in the stock.
template <class Visit>
void eachDeepSpot(const Facts& facts, std::size_t program, const Visit& visit) {
  const ProgramFacts& p = facts.programs[program];
  const double deep_mm = facts.job.stock.size_mm.z * (1 - deep_share);
  for (std::size_t m = 0; m < p.program.motions.size(); ++m) {
    if (!cutsMaterial(cutOf(facts, program, m))) continue;
    const Path path = pathOf(p.program.motions[m], p.setup->zero_mm, facts.job.machine);
    for (const PathPiece& piece : path) {
      const double long_mm = piece.arc ? std::abs(piece.sweep) * std::max(piece.radius0, piece.radius1)
                                       : length(flat(piece.end) - flat(piece.start));
      const int steps = std::max(1, static_cast<int>(std::ceil(std::min(long_mm, 1e5) / step_mm)));
      for (int k = 0; k <= steps; ++k) {
        const SetupPoint at = pointAt(piece, static_cast<double>(k) / steps);
        if (at.z <= deep_mm) visit(at);
      }
    }
  }
}

// What is cut deep from the faces that the earlier setups had up, in the stock.
Spots otherSide(const Facts& facts, const Setup& setup) {
  Spots spots(facts.job.stock);
  for (std::size_t i = 0; i < facts.programs.size() && facts.programs[i].setup != &setup; ++i) {
    const Setup& other = *facts.programs[i].setup;
    if ((other.flip == Flip::none) == (setup.flip == Flip::none)) continue;
    eachDeepSpot(facts, i, [&](SetupPoint at) {
      const StockPoint2 spot = setupToStock(facts.job.stock, other, flat(at));
      spots.insert(spot.x, spot.y);
    });
  }
  return spots;
}

// Cuts of this setup that go deep, but not through: those must meet others.
std::vector<SetupPoint2> deepCuts(const Facts& facts, const Setup& setup) {
  Spots seen(facts.job.stock);
  std::vector<SetupPoint2> cuts;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    if (facts.programs[i].setup != &setup) continue;
    eachDeepSpot(facts, i, [&](SetupPoint at) {
      if (at.z > through_mm && seen.insert(at.x, at.y)) cuts.push_back(flat(at));
    });
  }
  return cuts;
}

// Enough, and far enough apart, that they do not meet others by chance.
bool enough(const std::vector<SetupPoint2>& cuts) {
  if (cuts.size() < least_cells) return false;
  const auto [left, right] =
      std::minmax_element(cuts.begin(), cuts.end(), [](SetupPoint2 a, SetupPoint2 b) { return a.x < b.x; });
  const auto [front, back] =
      std::minmax_element(cuts.begin(), cuts.end(), [](SetupPoint2 a, SetupPoint2 b) { return a.y < b.y; });
  return std::max(right->x - left->x, back->y - front->y) >= least_spread_mm;
}

double meetingShare(const Stock& stock, const Setup& placed, const std::vector<SetupPoint2>& cuts, const Spots& other) {
  std::size_t meeting = 0;
  for (const SetupPoint2& cut : cuts) {
    const StockPoint2 spot = setupToStock(stock, placed, cut);
    meeting += other.near(spot.x, spot.y) ? 1 : 0;
  }
  return static_cast<double>(meeting) / static_cast<double>(cuts.size());
}

// The other flip; in square stock also quarter turns. A half turn is the other flip again.
std::vector<Setup> otherWays(const Facts& facts, const Setup& setup) {
  std::vector<Setup> ways{setup};
  ways[0].flip = setup.flip == Flip::left_right ? Flip::front_back : Flip::left_right;
  if (std::abs(facts.job.stock.size_mm.x - facts.job.stock.size_mm.y) > 1) return ways;
  for (const int turned : {90, 270}) {
    ways.push_back(setup);
    ways.back().rotate_deg = (setup.rotate_deg + turned) % 360;
  }
  return ways;
}

void checkSetup(const Facts& facts, const Setup& setup, std::vector<Finding>& findings) {
  const Spots other = otherSide(facts, setup);
  const std::vector<SetupPoint2> cuts = other.empty() ? std::vector<SetupPoint2>{} : deepCuts(facts, setup);
  if (!enough(cuts)) return;
  const double described = meetingShare(facts.job.stock, setup, cuts, other);
  if (described > seldom) return;
  for (const Setup& way : otherWays(facts, setup)) {
    const double share = meetingShare(facts.job.stock, way, cuts, other);
    if (share < mostly) continue;
    Finding f = jobFinding(facts, sides_apart_rule, setup.place);
    f.setup = setup.name;
    f.amount = described * 100;
    f.unit = "%";
    f.message = fmt::format("only {} of the deep cuts of {} meet those from the other side; {}, {} would",
                            shareText(described), setupText(setup), stockWords(way), shareText(share));
    f.help = fmt::format("If you place the stock {}, write {} in {}. If not, the part is cut in the wrong places.",
                         stockWords(way), stockKeys(way.flip, way.rotate_deg), setupText(setup));
    findings.push_back(std::move(f));
    return;
  }
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::size_t cut = std::min(facts.programs.size(), facts.run.programs.size());
  const Setup* before = nullptr;
  for (std::size_t i = 0; i < cut; ++i) {
    const Setup& setup = *facts.programs[i].setup;
    if (&setup != before && setup.flip != Flip::none) checkSetup(facts, setup, findings);
    before = &setup;
  }
}

}  // namespace sides_apart

const Rule sides_apart_rule{"sides-apart", Level::look,
                            "Cuts from both sides do not meet, but would with the stock flipped differently.",
                            sides_apart::page, sides_apart::check};

}  // namespace provecut
