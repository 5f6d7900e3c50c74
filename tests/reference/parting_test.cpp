// Every piece that random sheets come to, against brute force: dexels of its own geometry, labelled anew after every
// move (tests/reference/parting). PROVECUT_SHEETS=5000 tries that many sheets instead of 300, PROVECUT_FIRST_SHEET=17
// begins at that one.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "sim/path/setup_frame.h"
#include "sim/run.h"
#include "tests/reference/parting/random_sheet.h"
#include "tests/reference/parting/truth.h"
#include "tests/reference/sheet_job.h"

namespace provecut::testing {
namespace parting_reference_test {

using reference::Sheet;
using reference::TruePiece;

constexpr double cell_mm = 0.1;
// Tape of about 25 mm² may be judged either way by two rasters; so may what is cut less deep than a cell.
constexpr double tape_low_mm2 = 21, tape_high_mm2 = 26, sure_cut_mm3 = 0.5;

// A piece as provecut tells it, its box in the stock frame.
struct Told {
  const Piece* piece = nullptr;
  int program = 0;
  StockPoint2 low, high;
  bool matched = false;
};

struct Cut {
  Job job;
  std::vector<Program> programs;
  Run run;
  std::vector<Told> told;  // those that a move parted, tabbed parts left out
};

void tell(Cut& cut) {
  for (int i = 0; i < std::ssize(cut.run.programs); ++i) {
    const Setup& setup = cut.job.setups[static_cast<std::size_t>(cut.run.programs[static_cast<std::size_t>(i)].setup)];
    for (const Piece& p : cut.run.programs[static_cast<std::size_t>(i)].pieces) {
      if (!p.tabs.empty() || !p.held_before.empty()) continue;
      const SetupBox box = workToSetup(setup, p.bounds);
      const StockPoint2 a = setupToStock(cut.job.stock, setup, flat(box.low)),
                        b = setupToStock(cut.job.stock, setup, flat(box.high));
      cut.told.push_back(
          {&p, i, {std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}, false});
    }
  }
}

void cutSheet(const Sheet& sheet, Cut& cut) {
  cut.job = jobOf(sheet, cell_mm);
  cut.programs = programsOf(sheet);
  cut.run = run(cut.job, cut.programs);
  tell(cut);
}

// How alike the two are in place and size, 0 … 1.
double likeness(const TruePiece& t, const Told& o) {
  const double x = std::min(o.high.x, t.box.x1) - std::max(o.low.x, t.box.x0),
               y = std::min(o.high.y, t.box.y1) - std::max(o.low.y, t.box.y0);
  if (x <= 0 || y <= 0) return 0;
  const double both = (o.high.x - o.low.x) * (o.high.y - o.low.y) + (t.box.x1 - t.box.x0) * (t.box.y1 - t.box.y0);
  const double area = std::min(o.piece->plan_area_mm2, t.area_mm2) / std::max(o.piece->plan_area_mm2, t.area_mm2);
  return x * y / (both - x * y) * area;
}

// Finds for each true piece the one told, by the same move first; by its id.
std::map<int, Told*> match(const std::vector<TruePiece>& truth, Cut& cut) {
  constexpr double alike = 0.6;
  std::map<int, Told*> found;
  for (const int apart : {0, 1, 1000}) {
    for (const TruePiece& t : truth) {
      if (t.parent < 0 || found.contains(t.id)) continue;
      Told* best = nullptr;
      for (Told& o : cut.told) {
        if (o.matched || o.program != t.born.program) continue;
        if (std::abs(static_cast<int>(o.piece->move) - t.born.move) > apart || likeness(t, o) < alike) continue;
        if (!best || likeness(t, o) > likeness(t, *best)) best = &o;
      }
      if (!best) continue;
      best->matched = true;
      found[t.id] = best;
    }
  }
  return found;
}

bool isCloseCall(const Sheet& sheet, const TruePiece& t) {
  return std::any_of(t.grips.begin(), t.grips.end(), [&](const reference::Grip& g) {
    if (sheet.hold_downs[static_cast<std::size_t>(g.hold_down)].kind != reference::HoldKind::tape)
      return g.covered_mm2 < 1;
    return g.covered_mm2 > tape_low_mm2 && g.covered_mm2 < tape_high_mm2;
  });
}

struct Counts {
  int sheets = 0, pieces = 0, same_move = 0, late = 0, early = 0, missed = 0, missed_loose = 0, not_there = 0;
  int judged = 0, held_wrong = 0, milled = 0, milled_wrong = 0, cut_loose = 0, cut_loose_missed = 0;
  int not_checked = 0;  // sheets of which something is said to be so
};

void compareFound(const Sheet& sheet, const TruePiece& t, const Told& told, Counts& c) {
  ++c.pieces;
  const int late = static_cast<int>(told.piece->move) - t.born.move;
  c.same_move += late == 0;
  c.late += late > 0;
  c.early += late < 0;
  const bool free = t.loose && t.loose->program == t.born.program && t.loose->move == t.born.move;
  if (!isCloseCall(sheet, t)) {
    ++c.judged;
    c.held_wrong += free != told.piece->free;
  }
  if (t.end_kind == reference::End::milled) {
    ++c.milled;
    const auto& by = told.piece->ended_by;
    c.milled_wrong += !told.piece->milled || !by || by->run != t.ended.program ||
                      std::abs(static_cast<int>(by->move) - t.ended.move) > 1;
  }
  if (!free || told.piece->of_loose || !told.piece->free) return;
  std::set<std::pair<int, int>> cuts;
  for (const CutAtLoose& k : told.piece->cut_loose) cuts.insert({k.by.run, static_cast<int>(k.by.move)});
  for (const auto& k : t.cut_loose) {
    if (k.taken_mm3 < sure_cut_mm3) continue;
    ++c.cut_loose;
    c.cut_loose_missed += !cuts.contains({k.at.program, k.at.move});
  }
}

// Of the pieces that one is parted into, one goes on as the rest and is not told: what is held, else the largest.
void countMissed(const std::vector<TruePiece>& truth, const std::map<int, Told*>& found, Counts& c) {
  std::map<int, std::vector<const TruePiece*>> of_parent;
  for (const TruePiece& t : truth) {
    if (t.parent >= 0 && !found.contains(t.id)) of_parent[t.parent].push_back(&t);
  }
  for (auto& [parent, pieces] : of_parent) {
    const auto rank = [](const TruePiece* t) { return std::pair(!t->held_by.empty(), t->area_mm2); };
    const auto rest =
        std::max_element(pieces.begin(), pieces.end(), [&](const auto* a, const auto* b) { return rank(a) < rank(b); });
    for (auto p = pieces.begin(); p != pieces.end(); ++p) {
      if (p == rest) continue;
      ++c.missed;
      c.missed_loose += (*p)->loose.has_value();
      const auto& box = (*p)->box;
      std::printf("not told: %s piece of %.1f mm², %.1f x %.1f mm at %.1f, %.1f, program %d move %d\n",
                  (*p)->loose ? "loose" : "held", (*p)->area_mm2, box.x1 - box.x0, box.y1 - box.y0, box.x0, box.y0,
                  (*p)->born.program, (*p)->born.move);
    }
  }
}

Counts compared(int first, int sheets) {
  Counts c;
  for (int k = first; k < first + sheets; ++k) {
    std::mt19937 random(static_cast<unsigned>(k) * 7919U + 13U);
    const Sheet sheet = reference::randomSheet(
        random, reference::sheet_kinds[static_cast<std::size_t>(k) % reference::sheet_kinds.size()].kind);
    const std::vector<TruePiece> truth = reference::truth(sheet, cell_mm);
    Cut cut;
    cutSheet(sheet, cut);
    const auto found = match(truth, cut);
    const Counts before = c;
    ++c.sheets;
    c.not_checked += !cut.run.not_checked.empty();
    for (const TruePiece& t : truth) {
      if (found.contains(t.id)) compareFound(sheet, t, *found.at(t.id), c);
    }
    countMissed(truth, found, c);
    for (const Told& o : cut.told) {
      if (o.matched) continue;
      ++c.not_there;
      std::printf("not there: piece of %.1f mm², %.1f x %.1f mm at %.1f, %.1f, program %d move %u\n",
                  o.piece->plan_area_mm2, o.high.x - o.low.x, o.high.y - o.low.y, o.low.x, o.low.y, o.program,
                  o.piece->move);
    }
    const bool all_right = c.missed == before.missed && c.not_there == before.not_there && c.late == before.late &&
                           c.early == before.early && c.held_wrong == before.held_wrong &&
                           c.milled_wrong == before.milled_wrong && c.cut_loose_missed == before.cut_loose_missed;
    if (!all_right) std::printf("sheet %d is told otherwise than brute force has it\n", k);
  }
  return c;
}

TEST(PartingReference, every_piece_of_random_sheets_is_told_at_the_move_that_parts_it) {
  const char *asked = std::getenv("PROVECUT_SHEETS"), *first = std::getenv("PROVECUT_FIRST_SHEET");
  const Counts c = compared(first ? std::atoi(first) : 0, asked ? std::atoi(asked) : 300);
  std::printf(
      "%d sheets, %d pieces: %d at the very move, %d late, %d early; %d missed (%d of them loose), %d not there; "
      "%d of %d judged otherwise held; %d of %d milled otherwise; %d of %d cuts into loose pieces missed\n",
      c.sheets, c.pieces, c.same_move, c.late, c.early, c.missed, c.missed_loose, c.not_there, c.held_wrong, c.judged,
      c.milled_wrong, c.milled, c.cut_loose_missed, c.cut_loose);
  EXPECT_GT(c.pieces, c.sheets);
  EXPECT_EQ(c.missed_loose, 0);
  EXPECT_LE(c.missed, c.pieces / 1000);
  EXPECT_LE(c.not_there, c.pieces / 1000);
  EXPECT_GE(c.same_move, c.pieces * 0.995);
  EXPECT_LE(c.held_wrong, c.judged / 1000);
  EXPECT_LE(c.milled_wrong, c.milled / 100);
  EXPECT_GT(c.cut_loose, c.sheets);
  EXPECT_LE(c.cut_loose_missed, c.cut_loose / 100);
  EXPECT_EQ(c.not_checked, 0);  // no tool cuts under what it leaves
}

}  // namespace parting_reference_test
}  // namespace provecut::testing
