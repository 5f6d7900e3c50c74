#include <fmt/core.h>

#include <algorithm>

#include "report/base/wording.h"
#include "report/facts/piece_history.h"
#include "report/facts/shown_names.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace tabs_weak {

constexpr std::size_t min_tabs = 2;

constexpr std::string_view page = R"(## What it finds

A part is held only by tabs, no hold-down and no tape, and one of these is true:

- a tab has less wood than `limits.min_tab_area`;
- the part has fewer than two tabs (an offcut below 625 mm² may have one);
- a later cut goes into the tabs while nothing else holds the part; the finding names its program and line.

Tabs are measured in the stock as it is cut, not as programmed: the least wood that holds the part there. Tabs left by an
earlier program or from the other side count too. So do tabs as thick as the stock up to about 5 mm long that are narrow
beside the part, and thinner ones up to 24 mm; others are part of the stock. All tabs together have at most 30 % of the
wood that the whole outline would have. A tab that holds an offcut to the part does not count.

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

At 3 mm thick that is 6 mm² of wood; the minimum is 15 mm².

## What to do

Make the tabs longer or thicker, add tabs, put them where the kerf crosses the grain, or hold the part with tape or a
clamp.

## What `amount` is

The cross-section of the smallest tab in mm².

## Source

Geometry. Grain: USDA Wood Handbook FPL-GTR-190, chapter 5 (tension across and bending along the grain). Two tabs or
more: common practice, no published source.
)";

bool heldByTabsAlone(const Piece& p) {
  return !p.free && !p.tabs.empty() && p.held_by_hold_downs.empty() && !p.held_by_tape;
}

const Tab& weakest(const Piece& p) {
  return *std::min_element(p.tabs.begin(), p.tabs.end(),
                           [](const Tab& a, const Tab& b) { return a.area_mm2 < b.area_mm2; });
}

bool thin(const Job& job, const Piece& p) {
  return weakest(p).area_mm2 < job.limits.min_tab_area_mm2 - clearance::contact_tolerance_mm;
}

bool onionSkin(const Piece& p) {
  return std::any_of(p.tabs.begin(), p.tabs.end(), [](const Tab& t) { return t.onion_skin; });
}

bool few(const Piece& p) {
  return p.tabs.size() < min_tabs && !isOffcut(p) && !onionSkin(p);
}

// What is wrong with a part's tabs, and what to do, clause by clause.
struct Clauses {
  std::vector<std::string> wrong, todo;
};

void addThin(const Job& job, const Piece& piece, Clauses& clauses) {
  const Tab& tab = weakest(piece);
  const double min_mm2 = job.limits.min_tab_area_mm2;
  const Compared area = comparedText(job, Quantity::area, tab.area_mm2, min_mm2);
  const bool said_with_skin = tab.onion_skin && area.actual == quantityText(job, Quantity::area, tab.area_mm2);
  clauses.wrong.push_back(said_with_skin
                              ? "the minimum is " + area.limit
                              : fmt::format("{} {} (minimum {})", piece.tabs.size() > 1 ? "the weakest has" : "it has",
                                            area.actual, area.limit));
  if (tab.thickness_mm <= 0 || tab.length_mm <= 0) return;
  if (tab.onion_skin) {
    clauses.todo.push_back(fmt::format("leave the skin at least {} thick, or hold the {} with tape or a clamp",
                                       atLeastText(job, Quantity::length, min_mm2 / tab.length_mm), pieceWord(piece)));
    return;
  }
  const std::string size = fmt::format("it is {} long and {} thick", quantityText(job, Quantity::length, tab.length_mm),
                                       quantityText(job, Quantity::length, tab.thickness_mm));
  const double wanted_mm = min_mm2 / tab.thickness_mm;
  const auto part = piece.bounds.high - piece.bounds.low;
  clauses.todo.push_back(
      wanted_mm > std::max(part.x, part.y)
          ? fmt::format("make this tab thicker ({}), or hold the {} with tape or a clamp", size, pieceWord(piece))
          : fmt::format("make this tab at least {} long after the cut ({})",
                        atLeastText(job, Quantity::length, wanted_mm), size));
}

void addCutLater(const Facts& facts, const Piece& piece, Clauses& clauses) {
  const MoveRef by = *piece.tabs_cut_later;
  const bool one = onionSkin(piece) || piece.tabs.size() == 1;
  clauses.wrong.push_back(
      fmt::format("{} line {} cuts into {}", shownFile(facts, by.run), lineOf(facts, by), one ? "it" : "them"));
  clauses.todo.push_back(
      fmt::format("hold the {} with tape or a clamp before {}", pieceWord(piece), shownFile(facts, by.run)));
}

Clauses clausesFor(const Facts& facts, const Piece& piece) {
  const Job& job = facts.job;
  Clauses clauses;
  if (thin(job, piece)) addThin(job, piece, clauses);
  if (few(piece)) {
    clauses.wrong.push_back(fmt::format("a part needs at least {} tabs", min_tabs));
    clauses.todo.push_back("add " + tabsCounted(min_tabs - piece.tabs.size()));
  }
  if (piece.tabs_cut_later) addCutLater(facts, piece, clauses);
  const auto along = std::count_if(piece.tabs.begin(), piece.tabs.end(), [](const Tab& t) { return t.along_grain; });
  if (along > 0) {
    const std::string which = piece.tabs.size() == 1 ? "it" : std::to_string(along) + " of them";
    clauses.wrong.push_back(
        fmt::format("{} {} a kerf along the grain and will hold far less", which, along == 1 ? "crosses" : "cross"));
  }
  if (clauses.todo.empty()) clauses.todo.push_back("make the tabs larger, or hold the part with tape or a clamp");
  return clauses;
}

void relateToCut(const Facts& facts, MoveRef by, Finding& f) {
  const ProgramFacts& p = facts.programs[by.run];
  if (by.move < p.program.motions.size())
    f.related.push_back(
        {p.entry->file, shownPlace(p, placeOf(p.program.motions[by.move])), "the first cut into what holds it"});
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  addPieceFindings(
      facts, tabs_weak_rule,
      [&](const Piece& p) { return heldByTabsAlone(p) && (thin(facts.job, p) || few(p) || p.tabs_cut_later); },
      [&](const Piece& piece, Finding& f) {
        const Tab& tab = weakest(piece);
        f.amount = tab.area_mm2;
        f.unit = unitOf(Quantity::area);
        if (thin(facts.job, piece)) {
          f.at = tab.at;
          f.amount_text =
              comparedText(facts.job, Quantity::area, tab.area_mm2, facts.job.limits.min_tab_area_mm2).actual;
        }
        const Clauses clauses = clausesFor(facts, piece);
        f.message = fmt::format("{} {} is held only by {}", withArticle(pieceSize(facts.job, piece)), pieceWord(piece),
                                onionSkin(piece) ? skinText(facts.job, piece) : tabsCounted(piece.tabs.size()));
        for (const std::string& clause : clauses.wrong) f.message += "; " + clause;
        f.help = sentence(listText(clauses.todo));
        if (piece.tabs_cut_later) relateToCut(facts, *piece.tabs_cut_later, f);
      },
      findings);
}

}  // namespace tabs_weak

const Rule tabs_weak_rule{"tabs-weak", Level::look, "A part is held only by tabs that are too few or too thin.",
                          tabs_weak::page, tabs_weak::check};

}  // namespace provecut
