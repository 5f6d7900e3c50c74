#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "report/base/wording.h"
#include "report/facts/piece_history.h"
#include "report/facts/shown_names.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace tabs_weak {

constexpr std::size_t min_tabs = 2;

constexpr std::string_view page = R"(## What it finds

A part is held only by tabs, no hold-down and no tape, and one of these is true:

- a tab has less material than `limits.min_tab_area`;
- the part has fewer than two tabs (an offcut below 625 mm² may have one).

A part that a screw, a clamp or tape held too is judged from the first program on that starts without it.

Tabs are measured in the stock as it is cut, not as programmed: the least material that holds the part there. Tabs left by an
earlier program or from the other side count too. Tabs as thick as the stock count up to about 5 mm long if they are
narrow beside the part, thinner ones up to 24 mm. A longer bridge counts as stock. If all tabs together have over 30 % of
the outline's material, the part counts as stock too. A tab that holds an offcut to the part does not count.

## Why it matters

The last tab breaks with the bit right beside it, and the part swings into the bit. A tab is shorter than programmed
by the bit's whole diameter. Where the kerf runs along the grain, a tab holds about a twentieth of what it holds where
the kerf crosses the grain.

## Example

A lift of 8 mm with a 6 mm bit leaves a 2 mm tab:

    G1 X40 F1200
    G1 Z-15
    G1 X48
    G1 Z-18.2

At 3 mm thick that is 6 mm² of material; the minimum is 15 mm².

## What to do

Make the tabs longer or thicker, add tabs, put them where the kerf crosses the grain, or hold the part with tape or a
clamp.

## What `amount` is

The cross-section of the smallest tab in mm².

## Source

Geometry. Grain: USDA Wood Handbook FPL-GTR-190, chapter 5 (tension across and bending along the grain). Two tabs or
more: common practice, no published source.
)";

const Tab& smallest(const Piece& p) {
  return *std::min_element(p.tabs.begin(), p.tabs.end(),
                           [](const Tab& a, const Tab& b) { return a.area_mm2 < b.area_mm2; });
}

bool isThin(const Job& job, const Tab& tab) {
  return tab.area_mm2 < job.limits.min_tab_area_mm2 - clearance::contact_tolerance_mm;
}

bool thin(const Job& job, const Piece& p) {
  return isThin(job, smallest(p));
}

bool few(const Piece& p) {
  return p.tabs.size() < min_tabs && !isOffcut(p) && !hasSkin(p);
}

// What is wrong with a part's tabs, and what to do, clause by clause.
struct Clauses {
  std::vector<std::string> wrong, todo;
};

// The tabs that are too small: what is to be done to them.
std::string thinTodo(const Job& job, const Piece& piece) {
  const Tab& tab = smallest(piece);
  const std::string hold = fmt::format("or hold the {} with {}", pieceWord(piece), otherHold(piece));
  double wanted_mm = 0;
  int too_small = 0;
  for (const Tab& t : piece.tabs) {
    if (!isThin(job, t)) continue;
    ++too_small;
    wanted_mm = std::max(wanted_mm, job.limits.min_tab_area_mm2 / t.thickness_mm);
  }
  if (tab.onion_skin) {
    return fmt::format("leave the skin at least {} thick, {}",
                       atLeastText(job, Quantity::length, job.limits.min_tab_area_mm2 / tab.length_mm), hold);
  }
  const std::string_view which = too_small > 1 ? "every tab" : "this tab";
  const std::string size = fmt::format("{} is {} long and {} thick", too_small > 1 ? "the smallest" : "it",
                                       quantityText(job, Quantity::length, tab.length_mm),
                                       quantityText(job, Quantity::length, tab.thickness_mm));
  const auto part = piece.bounds.high - piece.bounds.low;
  return wanted_mm > std::max(part.x, part.y) ? fmt::format("make {} thicker ({}), {}", which, size, hold)
                                              : fmt::format("leave {} at least {} long ({})", which,
                                                            atLeastText(job, Quantity::length, wanted_mm), size);
}

void addThin(const Job& job, const Piece& piece, Clauses& clauses) {
  const Tab& tab = smallest(piece);
  const Compared area = comparedText(job, Quantity::area, tab.area_mm2, job.limits.min_tab_area_mm2);
  clauses.wrong.push_back(fmt::format("{} {} (minimum {})", piece.tabs.size() > 1 ? "the smallest has" : "it has",
                                      area.actual, area.limit));
  if (tab.thickness_mm > 0 && tab.length_mm > 0) clauses.todo.push_back(thinTodo(job, piece));
}

// "2 of them sit where the kerf runs along the grain and hold far less there"
std::string grainText(const Piece& piece) {
  const auto along = std::count_if(piece.tabs.begin(), piece.tabs.end(), [](const Tab& t) { return t.along_grain; });
  if (along == 0) return {};
  const auto all = std::ssize(piece.tabs);
  const std::string which = all == 1      ? "it"
                            : along == 1  ? "one of them"
                            : along < all ? std::to_string(along) + " of them"
                            : along == 2  ? "both"
                                          : "all";
  return fmt::format("{} where the kerf runs along the grain and {} far less there",
                     which + (along == 1 ? " sits" : " sit"), along == 1 ? "holds" : "hold");
}

Clauses clausesFor(const Job& job, const Piece& piece) {
  Clauses clauses;
  if (thin(job, piece)) addThin(job, piece, clauses);
  if (few(piece)) {
    clauses.wrong.push_back(fmt::format("a part needs at least {} tabs", min_tabs));
    clauses.todo.push_back("add " + tabsCounted(min_tabs - piece.tabs.size()));
  }
  if (const std::string grain = grainText(piece); !grain.empty()) clauses.wrong.push_back(grain);
  if (clauses.todo.empty())
    clauses.todo.push_back(
        fmt::format("make the tabs larger, or hold the {} with {}", pieceWord(piece), otherHold(piece)));
  return clauses;
}

// Of a part that something else held until this program.
std::string heldBeforeText(const Job& job, const Piece& piece) {
  std::vector<std::string> names;
  for (const int h : piece.held_before) names.push_back(job.hold_downs[h].name);
  return fmt::format(" when this program starts: {} held it before", listText(names));
}

// Skins of cuts that were to go through: through-cut-short says to cut deeper.
std::set<const Piece*> unmeantSkins(const Facts& facts) {
  std::set<const Piece*> skins;
  for (std::size_t i = 0; i < facts.run.programs.size(); ++i) {
    if (cutsThatFallShort(facts, i).empty()) continue;
    for (const Piece& p : facts.run.programs[i].pieces) {
      if (hasSkin(p)) skins.insert(&p);
    }
  }
  return skins;
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::set<const Piece*> unmeant = unmeantSkins(facts);
  addPieceFindings(
      facts, tabs_weak_rule,
      [&](const Piece& p) { return heldByTabsAlone(p) && (thin(facts.job, p) || few(p)) && !unmeant.contains(&p); },
      [&](const Piece& piece, Finding& f) {
        const Tab& tab = smallest(piece);
        f.amount = tab.area_mm2;
        f.unit = unitOf(Quantity::area);
        if (thin(facts.job, piece)) {
          f.at = tab.at;
          f.amount_text =
              comparedText(facts.job, Quantity::area, tab.area_mm2, facts.job.limits.min_tab_area_mm2).actual;
        }
        const Clauses clauses = clausesFor(facts.job, piece);
        f.message = fmt::format("{} {} is held only by {}", withArticle(pieceSize(facts.job, piece)), pieceWord(piece),
                                hasSkin(piece) ? skinText(facts.job, piece) : tabsCounted(piece.tabs.size()));
        if (!piece.held_before.empty()) f.message += heldBeforeText(facts.job, piece);
        for (const std::string& clause : clauses.wrong) f.message += "; " + clause;
        f.help = sentence(listText(clauses.todo));
      },
      findings);
}

}  // namespace tabs_weak

const Rule tabs_weak_rule{"tabs-weak", Level::look, "A part is held only by tabs that are too few or too thin.",
                          tabs_weak::page, tabs_weak::check};

}  // namespace provecut
