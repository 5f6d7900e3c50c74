#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "report/base/dimension_text.h"
#include "report/base/wording.h"
#include "report/facts/piece_history.h"
#include "report/facts/shown_names.h"
#include "report/rules/list.h"
#include "report/rules/shared/cut_short.h"
#include "report/rules/shared/grouping.h"
#include "report/rules/shared/piece_findings.h"
#include "report/rules/shared/tab_margin.h"
#include "report/rules/shared/weak_tabs.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace tabs_weak {

constexpr std::size_t min_tabs = 2;

constexpr std::string_view page = R"(## What it finds

A part is held only by tabs, no hold-down and no tape, and one of these is true:

- a tab has less material than `limits.min_tab_area`;
- the part has fewer than two tabs (an offcut below 625 mm² may have one).

If a screw, a clamp or tape held the part too, provecut judges its tabs from the first program that starts without that
hold-down.

The default of 15 mm² is a figure for wood. If the job names the material and sets no figure of its own, tabs that each
hold twice the cutter's push are enough, however small (see tabs-overloaded for both numbers). Thinner stock makes
thinner tabs. With a `thickness_tolerance` the message says how much of the smallest tab is left in the thinnest stock,
and a tab that keeps less than half of the minimum counts as too small. All parts of one program on weak tabs are one
finding.

provecut measures tabs in the stock as it is cut, not as programmed: the least material that holds the part there. Tabs
left by an earlier program or from the other side count too. Tabs as thick as the stock count up to about 5 mm long if
they are narrow beside the part, thinner ones up to 24 mm. A longer bridge counts as stock. If all tabs together have
over 30 % of the outline's material, the part counts as stock too. A tab that holds an offcut to the part does not
count.

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

bool few(const Piece& p) {
  return p.tabs.size() < min_tabs && !isOffcut(p) && !hasSkin(p);
}

// What is wrong with a part's tabs, and what to do, clause by clause.
struct Clauses {
  std::vector<std::string> wrong, todo;
};

// A longer bridge counts as stock.
constexpr double longest_tab_mm = 24;

// Above it a lifted tab stands in the way of the next pass (common practice: a quarter to a half of the stock).
constexpr double thickest_share = 0.6;

// "leave every tab at least 7.5 mm long", or what else makes a tab of the area that is wanted.
std::string largerTab(const Job& job, const Piece& piece, std::string_view which, double long_mm, double thick_mm,
                      double thinner_mm) {
  const auto part = piece.bounds.high - piece.bounds.low;
  if (long_mm <= std::min(longest_tab_mm, std::max(part.x, part.y)))
    return fmt::format("leave {} at least {} long", which, atLeastText(job, Quantity::length, long_mm));
  if (thick_mm <= thickest_share * job.stock.size_mm.z)
    return fmt::format("make {} at least {} thick", which, atLeastText(job, Quantity::length, thick_mm));
  // Half of the stock thick, and as long as it takes.
  const double thick = job.stock.size_mm.z / 2, wanted_mm2 = job.limits.min_tab_area_mm2;
  const double worst = thick - thinner_mm;
  const double length = worst > 0 ? std::max(wanted_mm2 / thick, wanted_mm2 / 2 / worst) : longest_tab_mm + 1;
  if (length <= longest_tab_mm)
    return fmt::format("make {} at least {} long and {} thick", which, atLeastText(job, Quantity::length, length),
                       atLeastText(job, Quantity::length, thick));
  return fmt::format("make {} both longer and thicker", which);
}

// The tabs that are too small: what is to be done to them.
std::string thinTodo(const Job& job, const Piece& piece) {
  const Tab& tab = smallestTab(piece);
  const double limit = job.limits.min_tab_area_mm2;
  if (tab.onion_skin) {
    return fmt::format("leave the skin at least {} thick, or hold the {} with {}",
                       atLeastText(job, Quantity::length, limit / tab.length_mm), pieceWord(piece), otherHold(piece));
  }
  double long_mm = 0, thick_mm = 0, thinner_mm = 0;
  int too_small = 0;
  for (const Tab& t : piece.tabs) {
    if (!isThinTab(job, t)) continue;
    ++too_small;
    const double worst_mm = worstTabThickness_mm(job, t);
    thick_mm = std::max({thick_mm, limit / t.length_mm, limit / 2 / t.length_mm + t.thickness_mm - worst_mm});
    thinner_mm = std::max(thinner_mm, t.thickness_mm - worst_mm);
    long_mm = worst_mm > 0 ? std::max({long_mm, limit / t.thickness_mm, limit / 2 / worst_mm})
                           : std::numeric_limits<double>::infinity();
  }
  const std::string_view which = too_small > 1 ? "every tab" : "this tab";
  const std::string size = fmt::format("{} is {} long and {} thick", too_small > 1 ? "the smallest" : "it",
                                       quantityText(job, Quantity::length, tab.length_mm),
                                       quantityText(job, Quantity::length, tab.thickness_mm));
  const std::string larger = largerTab(job, piece, which, long_mm, thick_mm, thinner_mm);
  const bool by_length = larger.starts_with("leave");
  return by_length ? fmt::format("{} ({})", larger, size)
                   : fmt::format("{} ({}), or hold the {} with {}", larger, size, pieceWord(piece), otherHold(piece));
}

// ", only 2.2 mm² where the stock is 0.4 mm thinner"
std::string thinnerStockText(const Job& job, const Tab& tab) {
  const double worst_mm = worstTabThickness_mm(job, tab);
  if (tab.onion_skin || tab.thickness_mm - worst_mm <= clearance::contact_tolerance_mm) return {};
  const std::string where =
      fmt::format("where the stock is {} thinner", dimensionWithUnit(job, job.stock.thickness_tolerance_mm));
  if (worst_mm <= clearance::contact_tolerance_mm) return " and is gone " + where;
  return fmt::format(", {} {}", quantityText(job, Quantity::area, tab.area_mm2 * worst_mm / tab.thickness_mm), where);
}

void addThin(const Job& job, const Piece& piece, Clauses& clauses) {
  const Tab& tab = smallestTab(piece);
  const Compared area = comparedText(job, Quantity::area, tab.area_mm2, job.limits.min_tab_area_mm2);
  clauses.wrong.push_back(fmt::format("{} {} (minimum {}){}", piece.tabs.size() > 1 ? "the smallest has" : "it has",
                                      area.actual, area.limit, thinnerStockText(job, tab)));
  if (tab.thickness_mm > 0 && tab.length_mm > 0) clauses.todo.push_back(thinTodo(job, piece));
}

// "the weakest holds 16 N, the cutter pushes with 43 N", where that is too little and known.
std::string forceText(const Facts& facts, const Piece& piece) {
  const auto margin = tabMargin(facts, piece);
  if (!margin || margin->weakest() >= min_tab_margin) return {};
  return fmt::format("{} holds {}, the cutter pushes with {}", piece.tabs.size() > 1 ? "the weakest" : "it",
                     tabForceText(margin->weakest_n), tabForceText(margin->tooth_n));
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

Clauses clausesFor(const Facts& facts, const Piece& piece) {
  const Job& job = facts.job;
  Clauses clauses;
  if (hasThinTab(facts, piece)) {
    addThin(job, piece, clauses);
    if (const std::string force = forceText(facts, piece); !force.empty()) clauses.wrong.push_back(force);
  }
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

// One height of tabs in a program is one cause.
bool sameTabs(const Facts& facts, const Piece& a, const Piece& b) {
  constexpr double same_mm = 0.3;  // our estimate
  const Tab &tab_a = smallestTab(a), &tab_b = smallestTab(b);
  return hasThinTab(facts, a) && hasThinTab(facts, b) && few(a) == few(b) && isOffcut(a) == isOffcut(b) &&
         a.held_before == b.held_before && tab_a.onion_skin == tab_b.onion_skin &&
         std::abs(tab_a.thickness_mm - tab_b.thickness_mm) <= same_mm;
}

// "; 3 more parts hang on weak tabs, the smallest has 4 mm²"
std::string moreText(const Job& job, const std::vector<const Piece*>& alike, double least_mm2) {
  const std::size_t more = alike.size() - 1;
  const std::string word(pieceWord(*alike.front()));
  std::string text =
      fmt::format("; {} on weak tabs", plural(more, "more " + word + " hangs", "more " + word + "s hang"));
  if (least_mm2 < smallestTab(*alike.front()).area_mm2)
    text += fmt::format(", the smallest has {}", quantityText(job, Quantity::area, least_mm2));
  return text;
}

void wordWeak(const Facts& facts, const std::vector<const Piece*>& alike, Finding& f) {
  const Job& job = facts.job;
  const Piece& piece = *alike.front();
  double least_mm2 = smallestTab(piece).area_mm2;
  for (const Piece* p : alike) least_mm2 = std::min(least_mm2, smallestTab(*p).area_mm2);
  f.amount = least_mm2;
  f.unit = unitOf(Quantity::area);
  if (hasThinTab(facts, piece)) {
    f.at = smallestTab(piece).at;
    f.amount_text = comparedText(job, Quantity::area, least_mm2, job.limits.min_tab_area_mm2).actual;
  }
  const Clauses clauses = clausesFor(facts, piece);
  f.message = fmt::format("{} {} is held only by {}", withArticle(pieceSize(job, piece)), pieceWord(piece),
                          hasSkin(piece) ? skinText(job, piece) : tabsCounted(piece.tabs.size()));
  if (!piece.held_before.empty()) f.message += heldBeforeText(job, piece);
  for (const std::string& clause : clauses.wrong) f.message += "; " + clause;
  if (alike.size() > 1) f.message += moreText(job, alike, least_mm2);
  f.help = sentence(listText(clauses.todo));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::set<const Piece*> unmeant = unmeantSkins(facts);
  const PieceRule pieces{
      [&](const Piece& p) { return heldByTabsAlone(p) && (hasThinTab(facts, p) || few(p)) && !unmeant.contains(&p); },
      [&](const Piece& a, const Piece& b) { return sameTabs(facts, a, b); },
      [&](const std::vector<const Piece*>& alike, Finding& f) { wordWeak(facts, alike, f); }};
  addPieceFindings(facts, tabs_weak_rule, pieces, findings);
}

}  // namespace tabs_weak

const Rule tabs_weak_rule{"tabs-weak", Level::look, "A part is held only by tabs that are too few or too thin.",
                          tabs_weak::page, tabs_weak::check};

}  // namespace provecut
