#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "tests/reference/parting/check.h"
#include "tests/reference/parting/dice.h"
#include "tests/reference/parting/grid.h"
#include "tests/reference/parting/random_sheet.h"
#include "tests/reference/parting/strokes.h"
#include "tests/reference/parting/truth.h"

namespace provecut::reference {

namespace {

constexpr double kNoLimit = std::numeric_limits<double>::infinity();
constexpr std::array<Form, 6> kForms{Form::flat, Form::ball, Form::bull, Form::vee, Form::taper_ball, Form::drill};

double envelope(const SheetTool& tool, const SheetPoint& from, const SheetPoint& to, double x, double y) {
  return envelopeAt(profileOf(tool), strokeOf(from, to), x, y, kNoLimit);
}

void checkProfiles(Checks& c) {
  const Profile taper = profileOf({Form::taper_ball, 6, 0, 0, 0, 0.5, 5.4});
  const double a = 5.4 * std::numbers::pi / 180;
  checkNear(c, taper.arc_end, 0.5 * std::cos(a), 1e-12, "the flank leaves the tip ball at r cos(a)");
  checkNear(c, bottomAt(taper, 3), 0.5 * (1 - std::sin(a)) + (3 - 0.5 * std::cos(a)) / std::tan(a), 1e-12,
            "height of a taper at its diameter");
  const double step = 1e-7;
  const double before = (bottomAt(taper, taper.arc_end) - bottomAt(taper, taper.arc_end - step)) / step;
  checkNear(c, before, taper.slope, 1e-3, "the flank is tangential");
  checkNear(c, bottomAt(profileOf({Form::vee, 12, 0, 90, 0.4, 0, 0}), 3.2), 3, 1e-12, "vee of 90 degrees, tip 0.4");
  checkNear(c, bottomAt(profileOf({Form::drill, 6, 0, 118, 0, 0, 0}), 3), 3 / std::tan(59 * std::numbers::pi / 180),
            1e-12, "drill point of 118 degrees");
  checkNear(c, bottomAt(profileOf({Form::bull, 6, 1, 0, 0, 0, 0}), 2.6), 1 - 0.8, 1e-12, "bull: 0.6 out, 0.8 down");
}

void checkEnvelopes(Checks& c) {
  const SheetTool ball{Form::ball, 4, 0, 0, 0, 0, 0};
  const SheetTool vee{Form::vee, 12, 0, 90, 0, 0, 0};
  const SheetTool flat{Form::flat, 4, 0, 0, 0, 0, 0};
  checkNear(c, envelope(ball, {0, 0, 1}, {20, 0, 1}, 10, 1.2), 1 + 2 - 1.6, 1e-12, "a level ball, 1.2 beside");
  checkNear(c, envelope(ball, {0, 0, 1}, {20, 0, 1}, 20.96, 0.72), 1 + 2 - 1.6, 1e-12, "beyond a ball's end");
  // A ball down a ramp of slope m: at (s, p) the tilted cylinder's floor z(s) + R - sqrt(R2 - p2) sqrt(1 + m2).
  const double m = -0.3;
  checkNear(c, envelope(ball, {0, 0, 9}, {20, 0, 9 + 20 * m}, 10, 1.2), 9 + 10 * m + 2 - 1.6 * std::sqrt(1 + m * m),
            1e-9, "a ball down a ramp");
  // A cone of slope k = 1 down a ramp of slope m: at aside p, z(s) + p sqrt(k2 - m2).
  checkNear(c, envelope(vee, {0, 0, 9}, {20, 0, 9 + 20 * m}, 10, 1.5), 9 + 10 * m + 1.5 * std::sqrt(1 - m * m), 1e-9,
            "a vee down a ramp");
  checkNear(c, envelope(flat, {0, 0, 9}, {20, 0, 9 + 20 * m}, 10, 1.2), 9 + (10 + 1.6) * m, 1e-12,
            "a flat tool down a ramp");
  checkNear(c, envelope(flat, {0, 0, 9}, {0, 0, 2}, 1.2, 1.5), 2, 1e-12, "a plunge");
  check(c, envelope(flat, {0, 0, 9}, {0, 0, 2}, 1.2, 1.7) == kNoLimit, "beside the tool nothing is taken");
}

SheetTool someTool(Dice& dice, Form form) {
  const double d = dice.real(1, 8);
  const double corner = d * dice.real(0.1, 0.45);
  const double angle = dice.real(30, 140);
  const double tip = dice.real(0, 0.5);
  const double tip_radius = dice.real(0.1, 0.4);
  return {form, d, corner, angle, tip, tip_radius, dice.real(3, 20)};
}

// Against the least over many places along the stroke.
void checkAgainstSampling(Checks& c) {
  std::mt19937 generator(7);
  Dice dice{generator};
  double worst = 0;
  double worst_gap = 0;
  for (int n = 0; n < 1500; ++n) {
    const Profile p = profileOf(someTool(dice, kForms[static_cast<std::size_t>(n) % 6]));
    const double length = dice.real(0, 10);
    const double angle = dice.real(0, 6.28);
    const SheetPoint from{1, 2, dice.real(0, 4)};
    const SheetPoint to{1 + length * std::cos(angle), 2 + length * std::sin(angle),
                        dice.chance(0.3) ? from.z : dice.real(0, 4)};
    const double x = dice.real(-8, 10);
    const double y = dice.real(-8, 12);
    const double top = dice.real(1, 8);
    double least = kNoLimit;
    double gap = kNoLimit;
    for (int k = 0; k <= 20000; ++k) {
      const double t = k / 20000.0;
      const double r = std::hypot(from.x + (to.x - from.x) * t - x, from.y + (to.y - from.y) * t - y);
      const double z = from.z + (to.z - from.z) * t;
      if (r <= p.radius) least = std::min(least, z + bottomAt(p, r));
      if (z < top) gap = std::min(gap, r - radiusAt(p, top - z));
    }
    const double exact = envelopeAt(p, strokeOf(from, to), x, y, kNoLimit);
    const double exact_gap = distanceBelow(p, strokeOf(from, to), x, y, top, kNoLimit);
    // Sampling is never lower than the truth, and higher by at most half a step times a slope (steep near a ball's
    // rim).
    check(c, exact <= least + 1e-7, "an envelope is not above a sample of it");
    if (least < kNoLimit) worst = std::max(worst, least - exact);
    check(c, exact_gap <= gap + 1e-5, "a distance is not above a sample of it");
    if (gap < kNoLimit) worst_gap = std::max(worst_gap, gap - exact_gap);
  }
  std::printf("envelopes against sampling: at most %.2g mm lower; distances %.2g mm\n", worst, worst_gap);
  check(c, worst < 0.02 && worst_gap < 0.05, "envelope and distance agree with sampling");
}

void checkRadii(Checks& c) {
  std::mt19937 generator(8);
  Dice dice{generator};
  for (int n = 0; n < 600; ++n) {
    const Profile p = profileOf(someTool(dice, kForms[static_cast<std::size_t>(n) % 6]));
    const double r = dice.real(p.flat, p.radius);
    if (p.flat < p.radius) checkNear(c, radiusAt(p, bottomAt(p, r)), r, 1e-6, "radius and height are inverse");
    checkNear(c, radiusAt(p, 1000), p.radius, 1e-12, "the cylinder above");
  }
}

bool before(const Moment& a, const Moment& b) {
  return a.program != b.program ? a.program < b.program : a.move < b.move;
}

// The pieces by a plain flood over the whole sheet: their areas in cells, in order.
std::vector<int> floodedPieces(const Grid& grid) {
  std::vector<int> label(grid.top.size(), 0);
  std::vector<int> areas;
  int labels = 0;
  for (int start = 0; start < grid.nx * grid.ny; ++start) {
    const auto thick = [&](int n) {
      return grid.top[static_cast<std::size_t>(n)] - grid.floor[static_cast<std::size_t>(n)];
    };
    if (label[static_cast<std::size_t>(start)] != 0 || thick(start) <= kContact_mm) continue;
    std::vector<int> found{start};
    label[static_cast<std::size_t>(start)] = ++labels;
    for (std::size_t k = 0; k < found.size(); ++k) {
      const int here = found[k];
      const int i = here % grid.nx;
      const int j = here / grid.nx;
      const std::array<std::array<int, 2>, 4> sides{{{i - 1, j}, {i + 1, j}, {i, j - 1}, {i, j + 1}}};
      for (const auto& [u, v] : sides) {
        if (u < 0 || v < 0 || u >= grid.nx || v >= grid.ny) continue;
        const auto a = static_cast<std::size_t>(here);
        const auto b = static_cast<std::size_t>(v * grid.nx + u);
        const double shared = std::min(grid.top[a], grid.top[b]) - std::max(grid.floor[a], grid.floor[b]);
        if (label[b] != 0 || shared <= kContact_mm) continue;
        label[b] = labels;
        found.push_back(static_cast<int>(b));
      }
    }
    const int wide = static_cast<int>(std::lround(1 / grid.dx));
    const int high = static_cast<int>(std::lround(1 / grid.dy));
    bool square = false;
    for (std::size_t k = 0; k < found.size() && !square; ++k) {
      const int i0 = found[k] % grid.nx;
      const int j0 = found[k] / grid.nx;
      square = i0 + wide <= grid.nx && j0 + high <= grid.ny;
      for (int n = 0; square && n < wide * high; ++n) {
        square = label[static_cast<std::size_t>((j0 + n / wide) * grid.nx + i0 + n % wide)] == labels;
      }
    }
    const auto cells = static_cast<int>(found.size());
    if (square && cells * grid.dx * grid.dy >= 4) areas.push_back(cells);
  }
  std::sort(areas.begin(), areas.end());
  return areas;
}

// After every move, the pieces that stand by the tree against a plain flood of the whole sheet.
void checkAgainstFlood(Checks& c, int sheets_of_a_kind) {
  int moves = 0;
  for (const NamedKind& kind : sheet_kinds) {
    for (int n = 0; n < sheets_of_a_kind; ++n) {
      std::mt19937 generator(static_cast<unsigned>(50000 + 100 * static_cast<int>(kind.kind) + n));
      const Sheet sheet = randomSheet(generator, kind.kind);
      const double cell = 0.2;
      const auto tree = truth(sheet, cell);
      Grid grid = gridOf(sheet, cell);
      for (int p = 0; p < static_cast<int>(sheet.programs.size()); ++p) {
        const SheetProgram& program = sheet.programs[static_cast<std::size_t>(p)];
        for (int m = 0; m < static_cast<int>(program.moves.size()); ++m) {
          const SheetMove& move = program.moves[static_cast<std::size_t>(m)];
          Effect effect{{0.0}, {0}};
          for (const Stroke& stroke : strokesOf(sheet, program.face, move)) {
            cut(grid, program.face != Face::front, profileOf(sheet.tools[static_cast<std::size_t>(move.tool)]), stroke,
                effect);
          }
          const Moment now{p, m};
          int standing = 0;
          std::vector<double> born_now;
          for (const TruePiece& piece : tree) {
            const bool over = piece.end_kind != End::stands && !before(now, piece.ended);
            if (before(now, piece.born) || over) continue;
            ++standing;
            if (!before(piece.born, now)) born_now.push_back(piece.area_mm2);
          }
          const std::vector<int> flood = floodedPieces(grid);
          ++moves;
          check(c, standing == static_cast<int>(flood.size()),
                std::string("as many pieces as a flood finds: ") + std::string(kind.name) + " " + std::to_string(n));
          for (const double area : born_now) {
            const int cells = static_cast<int>(std::lround(area / grid.dx / grid.dy));
            check(c, std::binary_search(flood.begin(), flood.end(), cells), "a new piece has the area of a flood");
          }
        }
      }
    }
  }
  std::printf("against a plain flood: %d moves\n", moves);
}

Sheet mirrored(const Sheet& sheet, bool in_x) {
  Sheet m = sheet;
  const auto flip = [&](double& x, double& y) { (in_x ? x : y) = in_x ? sheet.size_x - x : sheet.size_y - y; };
  for (SheetHoldDown& h : m.hold_downs) flip(h.centre_x, h.centre_y);
  for (SheetProgram& p : m.programs) {
    for (SheetMove& move : p.moves) {
      flip(move.from.x, move.from.y);
      flip(move.to.x, move.to.y);
      flip(move.centre_x, move.centre_y);
      if (move.kind == MoveKind::arc_cw || move.kind == MoveKind::arc_ccw) {
        move.kind = move.kind == MoveKind::arc_cw ? MoveKind::arc_ccw : MoveKind::arc_cw;
      }
    }
  }
  return m;
}

bool same(const Moment& a, const Moment& b) {
  return a.program == b.program && a.move == b.move;
}

// What differs first between two trees of one sheet, or "".
std::string difference(const std::vector<TruePiece>& a, const std::vector<TruePiece>& b, double cells_off,
                       bool nearest) {
  const auto text = [](const TruePiece& p) {
    return "piece " + std::to_string(p.id) + " of " + std::to_string(p.area_mm2) + " mm2, ";
  };
  if (a.size() != b.size()) {
    return std::to_string(a.size()) + " against " + std::to_string(b.size()) + " pieces";
  }
  for (std::size_t k = 0; k < a.size(); ++k) {
    const TruePiece& p = a[k];
    const TruePiece& q = b[k];
    if (!same(p.born, q.born)) {
      return text(p) + "born " + std::to_string(p.born.program) + ":" + std::to_string(p.born.move) + " against " +
             std::to_string(q.born.program) + ":" + std::to_string(q.born.move);
    }
    const double edge = 2 * (p.box.x1 - p.box.x0 + p.box.y1 - p.box.y0);
    if (std::abs(p.area_mm2 - q.area_mm2) > cells_off * edge + 0.5)
      return text(p) + "area " + std::to_string(q.area_mm2);
    if (p.parent != q.parent) return text(p) + "parent";
    if (p.held_by != q.held_by) return text(p) + "held by";
    if (p.loose.has_value() != q.loose.has_value() || (p.loose && !same(*p.loose, *q.loose))) return text(p) + "loose";
    if (p.end_kind != q.end_kind || !same(p.ended, q.ended)) return text(p) + "end";
    if (nearest && (p.cut_loose.size() != q.cut_loose.size() || p.nearest.size() != q.nearest.size())) {
      return text(p) + "cut or passed while loose";
    }
  }
  return "";
}

Sheet numbered(int n, const NamedKind& kind) {
  std::mt19937 generator(static_cast<unsigned>(90000 + n));
  return randomSheet(generator, kind.kind);
}

void checkMirrors(Checks& c, int sheets) {
  for (int n = 0; n < sheets; ++n) {
    const NamedKind& kind = sheet_kinds[static_cast<std::size_t>(n) % sheet_kinds.size()];
    const Sheet sheet = numbered(n, kind);
    const auto tree = truth(sheet, 0.1);
    for (const bool in_x : {true, false}) {
      const std::string off = difference(tree, truth(mirrored(sheet, in_x), 0.1), 0, true);
      check(c, off.empty(), std::string("mirrored, ") + std::string(kind.name) + " " + std::to_string(n) + ": " + off);
    }
  }
}

void reportRefinement(Checks& c, int sheets) {
  // Seconds of the processor: the machine may have other work.
  const auto clock = [] { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; };
  double seconds = 0;
  double seconds_fine = 0;
  int differ = 0;
  int pieces = 0;
  for (int n = 0; n < sheets; ++n) {
    const NamedKind& kind = sheet_kinds[static_cast<std::size_t>(n) % sheet_kinds.size()];
    const Sheet sheet = numbered(n, kind);
    const double start = clock();
    const auto coarse = truth(sheet, 0.1);
    const double middle = clock();
    const auto fine = truth(sheet, 0.05);
    seconds += middle - start;
    seconds_fine += clock() - middle;
    pieces += static_cast<int>(fine.size()) - 1;
    const std::string off = difference(coarse, fine, 0.1, false);
    if (off.empty()) continue;
    ++differ;
    std::printf("refined, %s %d: %s\n", kind.name.data(), n, off.c_str());
  }
  std::printf("0.1 against 0.05 mm: %d of %d sheets differ (%d pieces); %.3f s and %.3f s a sheet\n", differ, sheets,
              pieces, seconds / sheets, seconds_fine / sheets);
  check(c, differ <= sheets / 10, "at most one sheet in ten depends on the cell");
}

}  // namespace
}  // namespace provecut::reference

// Arguments: sheets of each kind against the flood, sheets mirrored, sheets refined.
int main(int argc, char** argv) {
  using namespace provecut::reference;
  const auto number = [&](int k, int otherwise) { return argc > k ? std::atoi(argv[k]) : otherwise; };
  Checks c;
  checkProfiles(c);
  checkEnvelopes(c);
  checkRadii(c);
  checkAgainstSampling(c);
  checkCases(c);
  std::printf("closed forms and cases: %d checks, %d failed\n", c.made, c.failed);
  checkAgainstFlood(c, number(1, 1));
  checkMirrors(c, number(2, 30));
  reportRefinement(c, number(3, 30));
  std::printf("%d checks, %d failed\n", c.made, c.failed);
  return c.failed == 0 ? 0 : 1;
}
