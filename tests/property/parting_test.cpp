// What parts from random sheets does not hang on how a sheet lies, in which units its programs are written, or how they
// are cut into lines and files; and a screw only ever holds.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "parser/interpreter/interpreter.h"
#include "sim/path/setup_frame.h"
#include "sim/run.h"
#include "tests/reference/parting/dice.h"
#include "tests/reference/parting/paths.h"
#include "tests/reference/parting/random_sheet.h"
#include "tests/reference/sheet_job.h"
#include "tests/sim/scene.h"

namespace provecut::testing {
namespace parting_property_test {

using reference::Dice;
using reference::Face;
using reference::Sheet;

// PROVECUT_SHEETS=500 tries that many sheets of each property instead of 60.
int sheetsAsked() {
  const char* asked = std::getenv("PROVECUT_SHEETS");
  return asked ? std::atoi(asked) : 60;
}

const int sheets = sheetsAsked();
constexpr double cell_mm = 0.25;

// A move by its place in the sheet as it was first.
struct Moment {
  int program = 0, move = 0;
  auto operator<=>(const Moment&) const = default;
};

struct Branch {
  Moment parted;
  StockPoint2 low, high;
  double area_mm2 = 0;
  bool free = false, of_loose = false, milled = false;
  std::vector<int> held_by, held_before;
  std::optional<Moment> loosened, ended;
  std::map<Moment, bool> cut_loose;  // true: into the piece, in part at least
};

// A sheet made ready to be cut: `origin` names each motion's moment, program by program.
struct Work {
  Job job;
  std::vector<Program> programs;
  std::vector<std::vector<Moment>> origin;
};

Work workOf(const Sheet& sheet) {
  Work w{jobOf(sheet, cell_mm), programsOf(sheet), {}};
  for (int i = 0; i < std::ssize(w.programs); ++i) {
    auto& moments = w.origin.emplace_back();
    for (int m = 0; m < std::ssize(w.programs[static_cast<std::size_t>(i)].motions); ++m) moments.push_back({i, m});
  }
  return w;
}

Branch branchOf(const Work& w, const Run& run, int program, const Piece& p) {
  const auto moment = [&](const MoveRef& m) { return w.origin.at(static_cast<std::size_t>(m.run)).at(m.move); };
  const Setup& setup = w.job.setups.at(static_cast<std::size_t>(run.programs[static_cast<std::size_t>(program)].setup));
  const SetupBox box = workToSetup(setup, p.bounds);
  const StockPoint2 a = setupToStock(w.job.stock, setup, flat(box.low)),
                    b = setupToStock(w.job.stock, setup, flat(box.high));
  Branch t;
  t.parted = moment({program, p.move});
  t.low = {std::min(a.x, b.x), std::min(a.y, b.y)};
  t.high = {std::max(a.x, b.x), std::max(a.y, b.y)};
  t.area_mm2 = p.plan_area_mm2;
  t.free = p.free;
  t.of_loose = p.of_loose;
  t.milled = p.milled;
  t.held_by = p.held_by_hold_downs;
  t.held_before = p.held_before;
  std::sort(t.held_by.begin(), t.held_by.end());
  std::sort(t.held_before.begin(), t.held_before.end());
  if (p.loosened_by) t.loosened = moment(*p.loosened_by);
  if (p.ended_by) t.ended = moment(*p.ended_by);
  for (const CutAtLoose& c : p.cut_loose) t.cut_loose[moment(c.by)] |= c.into;
  return t;
}

using Tree = std::vector<Branch>;

// Every piece that was parted or let go; parts on tabs hang on yet.
Tree treeOf(const Work& w) {
  const Run r = run(w.job, w.programs);
  Tree tree;
  for (int i = 0; i < std::ssize(r.programs); ++i) {
    for (const Piece& p : r.programs[static_cast<std::size_t>(i)].pieces) {
      if (p.tabs.empty()) tree.push_back(branchOf(w, r, i, p));
    }
  }
  return tree;
}

std::string text(const Moment& m) {
  return fmt::format("{}:{}", m.program, m.move);
}
std::string text(const std::optional<Moment>& m) {
  return m ? text(*m) : "never";
}

std::string text(const Branch& t) {
  std::string held, cuts;
  for (const int h : t.held_by) held += fmt::format(" {}", h);
  for (const auto& [by, into] : t.cut_loose) cuts += (into ? " " : " beside ") + text(by);
  return fmt::format(
      "parted {} X{:.2f}..{:.2f} Y{:.2f}..{:.2f} {:.2f} mm2{}{}, held by{}, before {}, loosened {}, {} {}, cut{}",
      text(t.parted), t.low.x, t.high.x, t.low.y, t.high.y, t.area_mm2, t.free ? " free" : "",
      t.of_loose ? " of a loose one" : "", held, t.held_before.size(), text(t.loosened), t.milled ? "milled" : "ended",
      text(t.ended), cuts);
}

bool samePlace(const Branch& a, const Branch& b) {
  return std::abs(a.low.x - b.low.x) < 1.5 * cell_mm && std::abs(a.low.y - b.low.y) < 1.5 * cell_mm &&
         std::abs(a.high.x - b.high.x) < 1.5 * cell_mm && std::abs(a.high.y - b.high.y) < 1.5 * cell_mm;
}

bool same(const Branch& a, const Branch& b) {
  return a.parted == b.parted && samePlace(a, b) && std::abs(a.area_mm2 - b.area_mm2) <= cell_mm * cell_mm * 1.01 &&
         a.free == b.free && a.of_loose == b.of_loose && a.milled == b.milled && a.held_by == b.held_by &&
         a.held_before == b.held_before && a.loosened == b.loosened && a.ended == b.ended && a.cut_loose == b.cut_loose;
}

// Takes away what both have; what is left differs.
void dropSame(Tree& a, Tree& b) {
  std::erase_if(a, [&](const Branch& t) {
    const auto twin = std::find_if(b.begin(), b.end(), [&](const Branch& o) { return same(t, o); });
    if (twin == b.end()) return false;
    b.erase(twin);
    return true;
  });
}

void expectSame(Tree as_it_is, Tree changed, int k) {
  dropSame(as_it_is, changed);
  if (as_it_is.empty() && changed.empty()) return;
  std::string what;
  for (const Branch& t : as_it_is) what += "\n  as it is: " + text(t);
  for (const Branch& t : changed) what += "\n  changed:  " + text(t);
  ADD_FAILURE() << "sheet " << k << what;
}

// Sides of whole cells, so that the raster stays the same one however the sheet is turned.
Sheet sheetOf(int k) {
  std::mt19937 random(static_cast<unsigned>(k) * 7919U + 101U);
  Sheet s = reference::randomSheet(
      random, reference::sheet_kinds[static_cast<std::size_t>(k) % reference::sheet_kinds.size()].kind);
  s.size_x = std::ceil(s.size_x / cell_mm) * cell_mm;
  s.size_y = std::ceil(s.size_y / cell_mm) * cell_mm;
  return s;
}

// A sheet laid otherwise: every point in plan, in the frame of its own face, goes elsewhere.
using Plan = std::function<reference::PlanPoint(double x, double y)>;

void moveAll(Sheet& s, const Plan& to) {
  for (auto& h : s.hold_downs) {
    const auto p = to(h.centre_x, h.centre_y);
    h.centre_x = p.x;
    h.centre_y = p.y;
  }
  for (auto& program : s.programs) {
    for (auto& m : program.moves) {
      const auto from = to(m.from.x, m.from.y), end = to(m.to.x, m.to.y), centre = to(m.centre_x, m.centre_y);
      m.from = {from.x, from.y, m.from.z};
      m.to = {end.x, end.y, m.to.z};
      m.centre_x = centre.x;
      m.centre_y = centre.y;
    }
  }
}

Sheet mirroredInX(Sheet s) {
  const double width = s.size_x;
  moveAll(s, [&](double x, double y) { return reference::PlanPoint{width - x, y}; });
  for (auto& program : s.programs) {
    for (auto& m : program.moves) {
      if (m.kind == reference::MoveKind::arc_cw)
        m.kind = reference::MoveKind::arc_ccw;
      else if (m.kind == reference::MoveKind::arc_ccw)
        m.kind = reference::MoveKind::arc_cw;
    }
  }
  return s;
}

// Counter-clockwise. The axis that the stock is flipped about turns with it.
Sheet turnedByQuarter(Sheet s) {
  const double width = s.size_y;
  moveAll(s, [&](double x, double y) { return reference::PlanPoint{width - y, x}; });
  std::swap(s.size_x, s.size_y);
  const auto turn = [](Face& face) {
    if (face == Face::turned_front_back)
      face = Face::turned_left_right;
    else if (face == Face::turned_left_right)
      face = Face::turned_front_back;
  };
  for (auto& h : s.hold_downs) {
    std::swap(h.size_x, h.size_y);
    turn(h.face);
  }
  for (auto& program : s.programs) turn(program.face);
  return s;
}

// The tree's boxes put back by a map of the stock's plan.
Tree putBack(Tree tree, const Plan& back) {
  for (Branch& t : tree) {
    const auto a = back(t.low.x, t.low.y), b = back(t.high.x, t.high.y);
    t.low = {std::min(a.x, b.x), std::min(a.y, b.y)};
    t.high = {std::max(a.x, b.x), std::max(a.y, b.y)};
  }
  return tree;
}

TEST(PartingProperty, a_mirrored_sheet_parts_at_the_same_moves_into_mirrored_pieces) {
  for (int k = 0; k < sheets; ++k) {
    const Sheet s = sheetOf(k);
    expectSame(treeOf(workOf(s)),
               putBack(treeOf(workOf(mirroredInX(s))),
                       [&](double x, double y) {
                         return reference::PlanPoint{s.size_x - x, y};
                       }),
               k);
  }
}

TEST(PartingProperty, a_sheet_turned_by_a_quarter_parts_at_the_same_moves_into_turned_pieces) {
  for (int k = 0; k < sheets; ++k) {
    const Sheet s = sheetOf(k);
    expectSame(treeOf(workOf(s)),
               putBack(treeOf(workOf(turnedByQuarter(s))),
                       [&](double x, double y) {
                         return reference::PlanPoint{y, s.size_y - x};
                       }),
               k);
  }
}

TEST(PartingProperty, a_sheet_turned_by_half_parts_at_the_same_moves_into_turned_pieces) {
  for (int k = 0; k < sheets; ++k) {
    const Sheet s = sheetOf(k);
    const auto back = [&](double x, double y) { return reference::PlanPoint{s.size_x - x, s.size_y - y}; };
    expectSame(treeOf(workOf(s)), putBack(treeOf(workOf(turnedByQuarter(turnedByQuarter(s)))), back), k);
  }
}

// True if no cutter comes near the stock's edges: then the stock may be larger to all sides without being another.
bool staysWithin(const Sheet& s) {
  for (const auto& program : s.programs) {
    for (const auto& m : program.moves) {
      double reach = s.tools[static_cast<std::size_t>(m.tool)].diameter / 2 + 1;
      if (m.kind == reference::MoveKind::arc_cw || m.kind == reference::MoveKind::arc_ccw)
        reach += 2 * std::hypot(m.from.x - m.centre_x, m.from.y - m.centre_y);
      for (const auto& p : {m.from, m.to}) {
        if (std::min({p.x, p.y, s.size_x - p.x, s.size_y - p.y}) < reach && p.z < s.thickness) return false;
      }
    }
  }
  return true;
}

TEST(PartingProperty, a_job_shifted_by_whole_cells_in_a_larger_stock_parts_alike) {
  constexpr double by_x = 7 * cell_mm, by_y = 12 * cell_mm;
  int tried = 0;
  for (int k = 0; k < 2 * sheets; ++k) {
    const Sheet s = sheetOf(k);
    if (!staysWithin(s)) continue;
    ++tried;
    Sheet larger = s;
    moveAll(larger, [&](double x, double y) { return reference::PlanPoint{x + by_x, y + by_y}; });
    larger.size_x += 2 * by_x;
    larger.size_y += 2 * by_y;
    // The frame about the parts has grown to all sides.
    Tree ours = treeOf(workOf(s)), theirs = putBack(treeOf(workOf(larger)), [&](double x, double y) {
                                     return reference::PlanPoint{x - by_x, y - by_y};
                                   });
    const double grown = larger.size_x * larger.size_y - s.size_x * s.size_y;
    for (Branch& t : theirs) {
      if (t.low.x > -cell_mm) continue;
      t.low = t.low + Vec2{by_x, by_y};
      t.high = t.high - Vec2{by_x, by_y};
      t.area_mm2 -= grown;
    }
    expectSame(std::move(ours), std::move(theirs), k);
  }
  EXPECT_GT(tried, 20);
}

// A program as text, a move a line.
std::string textOf(const Program& program, double unit_mm, const std::function<bool()>& comment,
                   std::vector<int>& move_of_line) {
  std::string out = unit_mm == 1 ? "G21" : "G20";
  out += fmt::format(" G90 G17 G94\nT{} M6\nM3 S18000\n", program.motions.front().tool);
  move_of_line.assign(4, 0);
  const auto word = [&](char letter, double mm) { return fmt::format(" {}{:.7f}", letter, mm / unit_mm); };
  const auto line = [&](std::size_t move, const std::string& words) {
    out += words + "\n";
    move_of_line.push_back(static_cast<int>(move));
  };
  const Motion& first = program.motions.front();
  line(0, "G0" + word('Z', first.start.z));
  line(0, "G0" + word('X', first.start.x) + word('Y', first.start.y));
  int tool = first.tool;
  for (std::size_t k = 0; k < program.motions.size(); ++k) {
    const Motion& m = program.motions[k];
    if (comment()) line(k, "(the next one)");
    if (m.tool != tool) line(k, fmt::format("T{} M6", m.tool));
    tool = m.tool;
    const std::string end = word('X', m.end.x) + word('Y', m.end.y) + word('Z', m.end.z);
    if (isArc(m)) {
      line(k, (m.kind == MotionKind::arc_cw ? "G2" : "G3") + end + word('I', m.centre.x - m.start.x) +
                  word('J', m.centre.y - m.start.y) + word('F', 1500));
    } else {
      line(k, m.kind == MotionKind::rapid ? "G0" + end : "G1" + end + word('F', 1500));
    }
  }
  out += "M30\n";
  return out;
}

Work readAgain(const Work& w, double unit_mm, const std::function<bool()>& comment) {
  Work read{w.job, {}, {}};
  for (int i = 0; i < std::ssize(w.programs); ++i) {
    std::vector<int> move_of_line;
    Program p = interpret(textOf(w.programs[static_cast<std::size_t>(i)], unit_mm, comment, move_of_line));
    auto& moments = read.origin.emplace_back();
    for (const Motion& m : p.motions) moments.push_back({i, move_of_line.at(m.line)});
    read.programs.push_back(std::move(p));
  }
  return read;
}

bool never() {
  return false;
}

TEST(PartingProperty, a_program_in_inches_parts_as_the_one_in_millimetres) {
  for (int k = 0; k < sheets; ++k) {
    const Work w = workOf(sheetOf(k));
    const Work inch = readAgain(w, 25.4, never);
    for (const Program& p : inch.programs) EXPECT_TRUE(p.modal.ever_inch);
    const Tree ours = treeOf(w);
    expectSame(ours, treeOf(readAgain(w, 1, never)), k);
    expectSame(ours, treeOf(inch), k);
  }
}

TEST(PartingProperty, comments_change_nothing) {
  for (int k = 0; k < sheets; ++k) {
    const Work w = workOf(sheetOf(k));
    std::mt19937 random(static_cast<unsigned>(k));
    Dice dice{random};
    expectSame(treeOf(w), treeOf(readAgain(w, 1, [&] { return dice.chance(0.3); })), k);
  }
}

TEST(PartingProperty, moves_that_cut_nothing_change_nothing) {
  int sheets_with = 0;
  for (int k = 0; k < sheets; ++k) {
    const Sheet s = sheetOf(k);
    const Work w = workOf(s);
    Work more{w.job, {}, {}};
    std::mt19937 random(static_cast<unsigned>(k));
    Dice dice{random};
    int added = 0;
    for (std::size_t i = 0; i < w.programs.size(); ++i) {
      Program& p = more.programs.emplace_back();
      auto& moments = more.origin.emplace_back();
      for (std::size_t m = 0; m < w.programs[i].motions.size(); ++m) {
        const Motion& motion = w.programs[i].motions[m];
        p.motions.push_back(motion);
        moments.push_back(w.origin[i][m]);
        if (motion.end.z < 1 || !dice.chance(0.5)) continue;
        // There and back above the stock.
        Motion away = motion;
        away.kind = dice.chance(0.5) ? MotionKind::rapid : MotionKind::feed;
        away.start = motion.end;
        away.end = {dice.real(0, s.size_x), dice.real(0, s.size_y), motion.end.z};
        Motion back = away;
        std::swap(back.start, back.end);
        for (const Motion& extra : {away, back}) {
          p.motions.push_back(extra);
          moments.push_back(w.origin[i][m]);
        }
        ++added;
      }
    }
    sheets_with += added > 0;
    expectSame(treeOf(w), treeOf(more), k);
  }
  EXPECT_GT(sheets_with, sheets / 2);
}

// Some feed lines in two, at a point on each; `whole` says which moments to leave.
Work withLinesSplit(const Work& w, Dice& dice, const std::set<Moment>& whole) {
  Work split{w.job, {}, {}};
  for (std::size_t i = 0; i < w.programs.size(); ++i) {
    Program& p = split.programs.emplace_back();
    auto& moments = split.origin.emplace_back();
    for (std::size_t m = 0; m < w.programs[i].motions.size(); ++m) {
      const Motion& motion = w.programs[i].motions[m];
      p.motions.push_back(motion);
      moments.push_back(w.origin[i][m]);
      if (motion.kind != MotionKind::feed || whole.contains(w.origin[i][m]) || !dice.chance(0.5)) continue;
      p.motions.back().end = motion.start + (motion.end - motion.start) * dice.real(0.1, 0.9);
      Motion rest = motion;
      rest.start = p.motions.back().end;
      p.motions.push_back(rest);
      moments.push_back(w.origin[i][m]);
    }
  }
  return split;
}

TEST(PartingProperty, a_line_that_parts_nothing_split_at_a_point_on_it_changes_nothing) {
  for (int k = 0; k < sheets; ++k) {
    const Work w = workOf(sheetOf(k));
    std::mt19937 random(static_cast<unsigned>(k));
    Dice dice{random};
    const Tree tree = treeOf(w);
    std::set<Moment> parting;
    for (const Branch& t : tree) {
      parting.insert(t.parted);
      if (t.loosened) parting.insert(*t.loosened);
    }
    expectSame(tree, treeOf(withLinesSplit(w, dice, parting)), k);
  }
}

// Its first half may part the piece: then that is larger by what the second half takes, and loose under it.
TEST(PartingProperty, a_line_that_parts_a_piece_still_does_when_split) {
  for (int k = 0; k < sheets; ++k) {
    const Sheet s = sheetOf(k);
    const Work w = workOf(s);
    std::mt19937 random(static_cast<unsigned>(k));
    Dice dice{random};
    const Tree tree = treeOf(w);
    Tree split = treeOf(withLinesSplit(w, dice, {}));
    for (const Branch& t : tree) {
      const auto twin = std::find_if(split.begin(), split.end(), [&](const Branch& o) {
        return t.parted == o.parted && t.free == o.free && t.milled == o.milled && t.ended == o.ended &&
               t.held_by == o.held_by && std::abs(t.area_mm2 - o.area_mm2) < 4 && std::abs(t.low.x - o.low.x) < 2 &&
               std::abs(t.low.y - o.low.y) < 2 && std::abs(t.high.x - o.high.x) < 2 &&
               std::abs(t.high.y - o.high.y) < 2;
      });
      ASSERT_NE(twin, split.end()) << "sheet " << k << ": " << text(t);
      split.erase(twin);
    }
    for (const Branch& t : split) ADD_FAILURE() << "sheet " << k << ": new " << text(t);
  }
}

// Program `i` as two, the second from motion `at` on, in the same setup under the same hold-downs.
void splitProgram(Work& w, std::size_t i, std::size_t at) {
  std::size_t seen = 0;
  for (Setup& setup : w.job.setups) {
    if (i < seen + setup.programs.size()) {
      const auto entry = setup.programs.begin() + static_cast<std::ptrdiff_t>(i - seen);
      setup.programs.insert(entry, ProgramEntry(*entry));
      break;
    }
    seen += setup.programs.size();
  }
  const auto here = static_cast<std::ptrdiff_t>(i), cut = static_cast<std::ptrdiff_t>(at);
  Program second;
  second.motions.assign(w.programs[i].motions.begin() + cut, w.programs[i].motions.end());
  w.programs[i].motions.resize(at);
  w.programs.insert(w.programs.begin() + here + 1, second);
  const std::vector<Moment> moments(w.origin[i].begin() + cut, w.origin[i].end());
  w.origin[i].resize(at);
  w.origin.insert(w.origin.begin() + here + 1, moments);
}

TEST(PartingProperty, a_program_split_into_two_changes_nothing) {
  for (int k = 0; k < sheets; ++k) {
    const Work w = workOf(sheetOf(k));
    std::mt19937 random(static_cast<unsigned>(k));
    Dice dice{random};
    Work split = w;
    const int i = dice.integer(0, static_cast<int>(w.programs.size()) - 1);
    const auto moves = static_cast<int>(w.programs[static_cast<std::size_t>(i)].motions.size());
    if (moves < 2) continue;
    splitProgram(split, static_cast<std::size_t>(i), static_cast<std::size_t>(dice.integer(1, moves - 1)));
    expectSame(treeOf(w), treeOf(split), k);
  }
}

// A piece for a screw: free, and whole to the end. Its head is no wider than the narrowest piece, so that it holds no
// other.
constexpr double head_mm = 0.7;

std::optional<SetupPoint2> placeForScrew(const Work& w, const Run& r, std::size_t& setup, Branch& target) {
  for (int i = 0; i < std::ssize(r.programs); ++i) {
    for (const Piece& p : r.programs[static_cast<std::size_t>(i)].pieces) {
      if (!p.free || p.ended_by || !p.tabs.empty() || !p.held_before.empty()) continue;
      setup = static_cast<std::size_t>(r.programs[static_cast<std::size_t>(i)].setup);
      target = branchOf(w, r, i, p);
      return workToSetup(w.job.setups[setup], WorkPoint2{p.at.x, p.at.y});
    }
  }
  return {};
}

bool encloses(const Branch& outer, const Branch& inner) {
  return outer.low.x <= inner.low.x + cell_mm && outer.low.y <= inner.low.y + cell_mm &&
         outer.high.x >= inner.high.x - cell_mm && outer.high.y >= inner.high.y - cell_mm;
}

std::optional<Moment> looseSince(const Branch& t) {
  return t.free ? std::optional(t.parted) : t.loosened;
}

// A clamp on a corner of the stock, so that the frame is held and is what parts are parted from.
void clampCorner(Work& w) {
  HoldDown clamp;
  clamp.kind = HoldDownKind::clamp;
  clamp.at_mm = {1, 1};
  clamp.size_mm = {2, 2};
  clamp.top_mm = 3;
  const int added = static_cast<int>(w.job.hold_downs.size());
  w.job.hold_downs.push_back(clamp);
  for (Setup& setup : w.job.setups) {
    for (ProgramEntry& entry : setup.programs) entry.hold_downs.push_back(added);
  }
}

TEST(PartingProperty, a_screw_through_a_piece_makes_none_loose_earlier_and_changes_no_other) {
  int tried = 0;
  for (int k = 0; k < 2 * sheets; ++k) {
    Work w = workOf(sheetOf(k));
    clampCorner(w);
    std::size_t setup = 0;
    Branch target;
    const auto at = placeForScrew(w, run(w.job, w.programs), setup, target);
    if (!at) continue;
    ++tried;
    Work screwed = w;
    HoldDown screw;
    screw.kind = HoldDownKind::screw;
    screw.at_mm = *at;
    screw.diameter_mm = head_mm;
    screw.top_mm = 3;
    const int added = static_cast<int>(screwed.job.hold_downs.size());
    screwed.job.hold_downs.push_back(screw);
    for (ProgramEntry& entry : screwed.job.setups[setup].programs) entry.hold_downs.push_back(added);
    const Tree all = treeOf(w);
    // The piece that the screwed one is, or first was a part of. What comes of it may be told otherwise: the screw
    // holds all of it, and of what it is parted into the screwed piece goes on as the rest.
    Branch family = target;
    for (const Branch& t : all) {
      if (t.parted < family.parted && encloses(t, target)) family = t;
    }
    Tree without = all, with = treeOf(screwed);
    dropSame(without, with);
    const auto context = [&](const Branch& t) {
      return fmt::format("sheet {}: {}\n  screw in {}\n  part of {}", k, text(t), text(target), text(family));
    };
    for (const Branch& t : without)
      EXPECT_TRUE(encloses(family, t) && family.parted <= t.parted) << "gone, " << context(t);
    for (const Branch& t : with) {
      EXPECT_TRUE(encloses(family, t) && family.parted <= t.parted) << "new, " << context(t);
      const auto since = looseSince(t);
      EXPECT_FALSE(samePlace(t, target) && t.parted == target.parted && since) << context(t);
      if (!since || !t.held_before.empty()) continue;
      EXPECT_TRUE(
          std::any_of(all.begin(), all.end(),
                      [&](const Branch& o) { return looseSince(o) && *looseSince(o) <= *since && encloses(o, t); }))
          << "loose earlier, " << context(t);
    }
  }
  EXPECT_GT(tried, 40);
}

}  // namespace parting_property_test
}  // namespace provecut::testing
