#include <algorithm>

#include "report/base/wording.h"
#include "report/rules/list.h"
#include "report/rules/shared/piece_findings.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

constexpr std::size_t fewest_tabs = 2;

constexpr std::string_view page = R"(## What it finds

A part that hangs on tabs alone - no hold-down, no tape - where a tab has less wood than `limits.min_tab_area`, where a part has
fewer than two tabs (offcuts below 625 mm2 may have one), or where a later program cuts into the tabs while nothing else holds the
part. Tabs are measured on the stock as it is cut, not as the program meant them: also those that an earlier program or the other
side left, those nearly as thick as the stock, and necks up to 4 mm wide between two kerfs, where all that holds the part is less
than 100 mm2. What only holds something that hangs on the part itself is no tab of it.

## Why it matters

The last tab breaks while the bit is beside it, and the part swings into the bit. A tab is shorter than programmed by the whole
diameter of the bit, and one that bridges a kerf running with the grain holds about a twentieth of one across it.

## Example

A lift of 8 mm with a 6 mm bit leaves 2 mm of tab:

    G1 X40 F1200
    G1 Z-15
    G1 X48
    G1 Z-18.2

Three millimetres thick, that is 6 mm2 of wood where 15 are wanted.

## What to do

Make the tabs longer or thicker, add tabs, put them where the kerf crosses the grain, or hold the part with tape or a clamp.

## What `amount` is

The area of wood of the smallest tab in mm2.

## Source

Geometry; grain: USDA Wood Handbook FPL-GTR-190, chapter 5 (tension across and bending along the grain). Two tabs or more: common
practice, no source.
)";

bool hangsOnTabs(const Piece& p) {
  return !p.free && !p.tabs.empty() && p.held_by_hold_downs.empty() && !p.held_by_tape;
}

const Tab& smallest(const Piece& p) {
  return *std::min_element(p.tabs.begin(), p.tabs.end(),
                           [](const Tab& a, const Tab& b) { return a.area_mm2 < b.area_mm2; });
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const double wanted_mm2 = facts.job.limits.min_tab_area_mm2;
  const auto thin = [&](const Piece& p) { return smallest(p).area_mm2 < wanted_mm2 - clearance::contact_tolerance_mm; };
  const auto skin = [](const Piece& p) {
    return std::any_of(p.tabs.begin(), p.tabs.end(), [](const Tab& t) { return t.onion_skin; });
  };
  const auto few = [&](const Piece& p) { return p.tabs.size() < fewest_tabs && !isOffcut(p) && !skin(p); };
  addPieceFindings(
      facts, tabs_weak_rule, "part",
      [&](const Piece& p) { return hangsOnTabs(p) && (thin(p) || few(p) || p.tabs_cut_later); },
      [&](const Piece& piece, Finding& f) {
        const Tab& tab = smallest(piece);
        f.amount = tab.area_mm2;
        f.unit = "mm2";
        std::vector<std::string> wrong, todo;
        if (thin(piece)) {
          f.at = tab.at;
          const Compared area = comparedText(facts.job, Quantity::area, tab.area_mm2, wanted_mm2);
          wrong.push_back((piece.tabs.size() > 1 ? "the smallest has " : "it has ") + area.met + " of wood, " +
                          area.allowed + " wanted");
          if (tab.thickness_mm > 0) {
            todo.push_back("make this tab at least " +
                           atLeastText(facts.job, Quantity::length, wanted_mm2 / tab.thickness_mm) +
                           " long after the cut (it is " + quantityText(facts.job, Quantity::length, tab.length_mm) +
                           " by " + quantityText(facts.job, Quantity::length, tab.thickness_mm) + " thick)");
          }
        }
        if (few(piece)) {
          wrong.push_back("at least " + std::to_string(fewest_tabs) + " are wanted");
          todo.push_back("add " + plural(fewest_tabs - piece.tabs.size(), "tab", "tabs"));
        }
        if (piece.tabs_cut_later) {
          wrong.push_back("a later program cuts into them");
          todo.push_back("hold the part with tape or a clamp before the program that cuts its tabs");
        }
        const auto along = static_cast<std::size_t>(
            std::count_if(piece.tabs.begin(), piece.tabs.end(), [](const Tab& t) { return t.along_grain; }));
        if (along > 0) {
          wrong.push_back(std::to_string(along) + " of them " + (along == 1 ? "bridges" : "bridge") +
                          " a kerf that runs with the grain and will hold far less");
        }
        f.message = "a part of " + sizeText(facts.job, piece.bounds.high - piece.bounds.low) + " hangs on " +
                    (skin(piece) ? skinText(facts.job, piece) : plural(piece.tabs.size(), "tab", "tabs")) + " alone";
        for (std::size_t i = 0; i < wrong.size(); ++i) f.message += (i == 0 ? ": " : "; ") + wrong[i];
        if (todo.empty()) todo.push_back("make the tabs larger, or hold the part with tape or a clamp");
        f.help = listText(todo) + ".";
        f.help.front() = static_cast<char>(f.help.front() - 'a' + 'A');
      },
      findings);
}

}  // namespace

const Rule tabs_weak_rule{"tabs-weak", Level::look, "A part hangs only on tabs that are too few or too thin.", page,
                          check};

}  // namespace provecut
