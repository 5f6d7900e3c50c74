#include <algorithm>
#include <cmath>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/thickness_text.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::string_view page = R"(## What it finds

A hole bored from one face and one from the other that overlap seen from above and reach each other's depth, or nearly
(`limits.min_floor`), and so are meant to be one hole, but do not meet: a skin is left between their tips, in the stock as said or
within its `thickness_tolerance`; or they meet with their axes more than 0.1 mm apart. Holes that are through the stock from one
side alone are left out.

## Why it matters

A dowel or bolt does not pass; the drill breaks out the skin, or steps sideways where the holes meet.

## Example

In stock of 18 mm, from the front and from the back at the same place:

    G81 X40 Y30 Z-9 R3 F300

Nothing is left between the tips on paper, and the two points have not cut their full width.

## What to do

Cut one of them deeper by what the finding names, or through from one side alone; check the mirrored coordinate where they miss
sideways.

## What `amount` is

The skin in mm that is left between the tips over the tolerance where there is one, else how far the axes are apart in mm; the
largest over the group.

## Source

Geometry; 0.1 mm is our estimate of what two zeros on one pair of pins can do anyway.
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

void check(const Facts& facts, std::vector<Finding>& findings) {
  const Job& job = facts.job;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    std::vector<Missing> missing;
    std::size_t meeting = 0;
    for (const HolePair& p : facts.run.hole_pairs) {
      if (p.run_b != static_cast<int>(i) ||
          p.skin_mm >= std::max(job.limits.min_floor_mm, clearance::contact_tolerance_mm))
        continue;
      const double skin = worstSkin(job, p), apart = length(p.offset);
      Missing m{&p, skin > clearance::contact_tolerance_mm ? skin : 0,
                apart > axes_apart_mm + clearance::contact_tolerance_mm ? apart : 0};
      if (m.skin_mm > 0 || m.apart_mm > 0) {
        missing.push_back(m);
      } else {
        ++meeting;
      }
    }
    if (missing.empty()) continue;
    const bool skins = std::any_of(missing.begin(), missing.end(), [](const Missing& m) { return m.skin_mm > 0; });
    std::vector<Occurrence> occurrences;
    const Missing* worst = nullptr;
    const auto amountOf = [&](const Missing& m) { return skins ? m.skin_mm : m.apart_mm; };
    for (const Missing& m : missing) {
      occurrences.push_back({m.pair->move_b, amountOf(m), m.pair->at});
      if (!worst || amountOf(m) > amountOf(*worst)) worst = &m;
    }
    Finding f = groupFinding(facts, i, holes_miss_rule, occurrences, Worst::largest, Quantity::length);
    f.unit = "mm";
    f.moves = static_cast<std::uint32_t>(missing.size());
    const HolePair& p = *worst->pair;
    const std::string who =
        missing.size() > 1 ? plural(missing.size(), "hole does", "holes do") + " not meet those from the other side: "
                           : std::string("this hole does not meet the one from the other side: ");
    f.message = who;
    if (worst->skin_mm > 0) {
      f.message += p.skin_mm > clearance::contact_tolerance_mm
                       ? quantityText(job, Quantity::length, p.skin_mm) + " is left between their tips"
                       : "their tips pass by " + quantityText(job, Quantity::length, std::max(0.0, -p.skin_mm)) +
                             " only, and within the stock's tolerance " +
                             quantityText(job, Quantity::length, worst->skin_mm) + " may be left";
      f.help = "Cut one of the two at least " + atLeastText(job, Quantity::length, worst->skin_mm) + " deeper.";
      const std::string thickness = p.skin_mm > 0 ? thicknessText(job, p.skin_mm, p.moves_with_stock) : std::string();
      if (!thickness.empty()) f.help += " " + thickness;
    }
    if (worst->apart_mm > 0) {
      const Vec2 o = p.offset.vec();
      const bool along_x = std::abs(o.x) >= std::abs(o.y);
      const Vec2 main = along_x ? Vec2{o.x, 0} : Vec2{0, o.y};
      f.message += (worst->skin_mm > 0 ? "; and " : "") + std::string("the other's axis lies ") +
                   quantityText(job, Quantity::length, worst->apart_mm) + " off, mostly " +
                   std::string(directionText(main));
      f.help += (f.help.empty() ? "" : " ") + std::string("Check both places: X ") + fixedText(p.at.x, 3) + " Y " +
                fixedText(p.at.y, 3) + " here is X " + fixedText(p.at.x + o.x, 3) + " Y " + fixedText(p.at.y + o.y, 3) +
                " there, as seen from this side (mm).";
    }
    if (meeting > 0) f.message += "; " + plural(meeting, "other pair meets", "other pairs meet");
    const auto earlier = static_cast<std::size_t>(p.run_a);
    const ProgramFacts& other = facts.programs[earlier];
    f.related.push_back({other.entry->file, shownPlace(other, placeOf(other.program.motions[p.move_a])),
                         "the hole from the other side"});
    findings.push_back(std::move(f));
  }
}

}  // namespace

const Rule holes_miss_rule{"holes-miss", Level::look, "Holes from both sides that are meant to meet do not.", page,
                           check};

}  // namespace provecut
