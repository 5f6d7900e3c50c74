#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/base/dimension_text.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/thickness_text.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace holes_miss {

constexpr std::string_view page = R"(## What it finds

Two blind holes, one from each side, that are meant to be one hole but do not meet. They overlap seen from above and
reach each other's depth, or nearly (`limits.min_floor`). A skin is left between their tips, at the nominal thickness
or within the stock's `thickness_tolerance`, or their axes are more than 0.1 mm apart. Holes that go through from one
side are left out.

## Why it matters

A dowel or bolt does not pass. The drill breaks out the skin, or steps sideways where the holes meet.

## Example

In 18 mm stock, from the front and from the back at the same place:

    G81 X40 Y30 Z-9 R3 F300

On paper the tips just touch, and neither point has cut its full width.

## What to do

Drill one of them deeper, by as much as the finding says, or go through from one side. If they miss sideways, check
the mirrored coordinate.

## What `amount` is

The thickest skin left between the tips over the tolerance in mm. If there is no skin, how far the axes are apart in
mm. For a group, the largest.

## Source

Geometry. 0.1 mm is our estimate of how far two setups on the same pins differ anyway.
)";

constexpr double axes_apart_mm = 0.1;

// What is left between the tips at worst.
double worstSkin(const Job& job, const HolePair& p) {
  return p.skin_mm + job.stock.thickness_tolerance_mm * std::abs(p.moves_with_stock);
}

struct Missing {
  const HolePair* pair;
  double skin_mm, apart_mm;  // 0: none
};

// The hole pairs whose later hole a program cuts.
struct Pairs {
  std::vector<Missing> missing;
  std::size_t meeting = 0;
};

Pairs pairsOf(const Facts& facts, int program) {
  const double reach_mm = std::max(facts.job.limits.min_floor_mm, clearance::contact_tolerance_mm);
  Pairs pairs;
  for (const HolePair& p : facts.run.hole_pairs) {
    if (p.run_b != program || p.skin_mm >= reach_mm) continue;
    const double skin = worstSkin(facts.job, p), apart = length(p.offset);
    const Missing m{&p, skin > clearance::contact_tolerance_mm ? skin : 0,
                    apart > axes_apart_mm + clearance::contact_tolerance_mm ? apart : 0};
    if (m.skin_mm > 0 || m.apart_mm > 0) {
      pairs.missing.push_back(m);
    } else {
      ++pairs.meeting;
    }
  }
  return pairs;
}

void wordSkin(const Job& job, const Missing& worst, Finding& f) {
  const HolePair& p = *worst.pair;
  const auto text = [&](double mm) { return quantityText(job, Quantity::length, mm); };
  if (p.skin_mm > clearance::contact_tolerance_mm) {
    f.amount_text = text(p.skin_mm) + " is left";
    f.message += f.amount_text + " between their tips";
  } else {
    f.amount_text = text(worst.skin_mm) + " may be left";
    const bool overlap = p.skin_mm < -clearance::contact_tolerance_mm;
    f.message += overlap ? "the tips overlap by only " + text(-p.skin_mm) : "the tips only just touch";
    f.message +=
        fmt::format("; if the stock is {} {}, {} is left", dimensionWithUnit(job, job.stock.thickness_tolerance_mm),
                    p.moves_with_stock < 0 ? "thinner" : "thicker", text(worst.skin_mm));
  }
  f.help = fmt::format("Drill one of the two at least {} deeper.", atLeastText(job, Quantity::length, worst.skin_mm));
  const std::string thickness = p.skin_mm > 0 ? thicknessText(job, p.skin_mm, p.moves_with_stock) : std::string();
  if (!thickness.empty()) f.help += " " + thickness;
}

void wordApart(const Job& job, const Missing& worst, Finding& f) {
  const HolePair& p = *worst.pair;
  const Vec2 o = p.offset.vec();
  const Vec2 main = std::abs(o.x) >= std::abs(o.y) ? Vec2{o.x, 0} : Vec2{0, o.y};
  const std::string apart = quantityText(job, Quantity::length, worst.apart_mm) + " off";
  if (worst.skin_mm > 0) {
    f.message += "; and ";
  } else {
    f.amount_text = apart;
  }
  f.message += fmt::format("the other hole is {}, mostly {}", apart, directionText(main));
  if (!f.help.empty()) f.help += " ";
  const auto place = [&](Vec2 at) {
    return fmt::format("X {} Y {}", positionText(job, at.x), positionText(job, at.y));
  };
  f.help += fmt::format("Check both places, as seen from this side: {} here, {} there ({}).", place({p.at.x, p.at.y}),
                        place({p.at.x + o.x, p.at.y + o.y}), lengthUnit(job));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  for (int i = 0; i < std::ssize(facts.run.programs); ++i) {
    const Pairs pairs = pairsOf(facts, i);
    if (pairs.missing.empty()) continue;
    const bool skins =
        std::any_of(pairs.missing.begin(), pairs.missing.end(), [](const Missing& m) { return m.skin_mm > 0; });
    const auto amountOf = [&](const Missing& m) { return skins ? m.skin_mm : m.apart_mm; };
    const Missing& worst =
        *std::max_element(pairs.missing.begin(), pairs.missing.end(),
                          [&](const Missing& a, const Missing& b) { return amountOf(a) < amountOf(b); });
    std::vector<Occurrence> occurrences;
    for (const Missing& m : pairs.missing) occurrences.push_back({m.pair->move_b, amountOf(m), m.pair->at});
    Finding f = groupFinding(facts, i, holes_miss_rule, occurrences, Worst::largest, Quantity::length);
    f.moves = static_cast<std::uint32_t>(pairs.missing.size());
    f.message = f.moves > 1 ? fmt::format("{} holes do not meet those from the other side: ", f.moves)
                            : "this hole does not meet the one from the other side: ";
    if (worst.skin_mm > 0) wordSkin(facts.job, worst, f);
    if (worst.apart_mm > 0) wordApart(facts.job, worst, f);
    if (pairs.meeting > 0) f.message += "; " + plural(pairs.meeting, "other pair meets", "other pairs meet");
    const ProgramFacts& other = facts.programs[worst.pair->run_a];
    f.related.push_back({other.entry->file, shownPlace(other, placeOf(other.program.motions[worst.pair->move_a])),
                         "the hole from the other side"});
    findings.push_back(std::move(f));
  }
}

}  // namespace holes_miss

const Rule holes_miss_rule{"holes-miss", Level::look, "Holes from both sides do not meet.", holes_miss::page,
                           holes_miss::check};

}  // namespace provecut
