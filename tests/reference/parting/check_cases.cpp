#include <cmath>
#include <numbers>
#include <numeric>
#include <vector>

#include "tests/reference/parting/check.h"
#include "tests/reference/parting/truth.h"

namespace provecut::reference {
namespace {

constexpr double kCell = 0.1;
constexpr double kPi = std::numbers::pi;

SheetTool flat(double diameter) {
  return {Form::flat, diameter, 0, 0, 0, 0, 0};
}

Sheet sheetOf(double x, double y, double thickness, const SheetTool& tool) {
  Sheet sheet;
  sheet.size_x = x;
  sheet.size_y = y;
  sheet.thickness = thickness;
  sheet.tools = {tool};
  sheet.programs.push_back({});
  return sheet;
}

void feeds(SheetProgram& program, const std::vector<SheetPoint>& points, int tool = 0) {
  for (std::size_t k = 0; k + 1 < points.size(); ++k) {
    program.moves.push_back({MoveKind::feed, points[k], points[k + 1], 0, 0, tool});
  }
}

// Four feeds at z, counter-clockwise from the lower left corner.
void square(SheetProgram& program, double x0, double y0, double x1, double y1, double z, int tool = 0) {
  feeds(program, {{x0, y0, z}, {x1, y0, z}, {x1, y1, z}, {x0, y1, z}, {x0, y0, z}}, tool);
}

void circle(SheetProgram& program, double x, double y, double r, double z0, double z1, MoveKind kind) {
  program.moves.push_back({kind, {x + r, y, z0}, {x + r, y, z1}, x, y, 0});
}

int hold(Sheet& sheet, const SheetHoldDown& h) {
  sheet.hold_downs.push_back(h);
  return static_cast<int>(sheet.hold_downs.size()) - 1;
}

bool at(const Moment& moment, int program, int move) {
  return moment.program == program && moment.move == move;
}
bool looseAt(const TruePiece& piece, int program, int move) {
  return piece.loose && at(*piece.loose, program, move);
}

// A box of material within a kerf about the axis path (a square of that half side), the cutter's corners rounded.
void aClosedSquareLeavesThePartAndTheFrame(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  square(sheet.programs[0], 20.013, 20.017, 60.013, 60.017, -0.2);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3, "a square outline makes two pieces of the stock");
  if (tree.size() != 3) return;
  check(c, at(tree[0].ended, 0, 3) && tree[0].end_kind == End::split, "the stock splits on the fourth side");
  check(c, looseAt(tree[0], 0, -1), "a stock that nothing holds is loose from the start");
  const double frame = 6400 - (43 * 43 - (4 - kPi) * 1.5 * 1.5);
  checkNear(c, tree[1].area_mm2, frame, (320 + 172) * kCell / 2, "area of the frame");
  checkNear(c, tree[2].area_mm2, 37 * 37, 4 * 37 * kCell / 2, "area of the part");
  checkNear(c, tree[2].volume_mm3, 37 * 37 * 6, 6 * 4 * 37 * kCell / 2, "volume of the part");
  checkNear(c, tree[2].square_mm, 37, 2 * kCell, "the largest square in the part");
  checkNear(c, tree[1].square_mm, 20.015 - 1.5 / std::sqrt(2.0), 2 * kCell, "a square up to the kerf's round corner");
  checkNear(c, tree[2].box.x0, 21.513, kCell, "left edge of the part");
  checkNear(c, tree[2].box.y1, 58.517, kCell, "upper edge of the part");
  check(c, tree[1].parent == 0 && tree[2].parent == 0, "both are children of the stock");
}

void aCircleLeavesADisc(Checks& c) {
  for (const MoveKind kind : {MoveKind::arc_cw, MoveKind::arc_ccw}) {
    Sheet sheet = sheetOf(50, 60, 6, flat(3));
    circle(sheet.programs[0], 25.03, 29.01, 12, -0.2, -0.2, kind);
    const auto tree = truth(sheet, kCell);
    check(c, tree.size() == 3, "a full circle makes two pieces");
    if (tree.size() != 3) continue;
    checkNear(c, tree[2].area_mm2, kPi * 10.5 * 10.5, 2 * kPi * 10.5 * kCell / 2, "area of the disc");
    checkNear(c, tree[1].area_mm2, 3000 - kPi * 13.5 * 13.5, 2 * kPi * 13.5 * kCell / 2, "area about the disc");
  }
}

void anOutlineShortOfTheSpoilboardPartsNothing(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  square(sheet.programs[0], 20, 20, 60, 60, 0.02);
  check(c, truth(sheet, kCell).size() == 1, "a skin of 0.02 mm holds");
}

void anInnerLoopAfterTheOuterSplitsTheLoosePart(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  sheet.programs[0].fitted = {hold(sheet, {HoldKind::screw, 5, 5, 6, 0, 0, Face::front})};
  square(sheet.programs[0], 20.013, 20.017, 50.013, 50.017, -0.2);
  square(sheet.programs[0], 30.013, 30.017, 40.013, 40.017, -0.2);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 5, "two loops make a frame, a part, and of the part a ring and a core");
  if (tree.size() != 5) return;
  checkNear(c, tree[2].area_mm2, 27 * 27, 4 * 27 * kCell / 2, "the part as it comes loose");
  check(c, looseAt(tree[2], 0, 3), "the part is loose at the fourth side");
  check(c, !tree[1].loose && tree[1].held_by == std::vector<int>{0}, "the frame is held by its screw");
  check(c, tree[2].end_kind == End::split && at(tree[2].ended, 0, 7), "the part splits at the last side of the inner");
  checkNear(c, tree[3].area_mm2, 27 * 27 - (13 * 13 - (4 - kPi) * 2.25), 160 * kCell / 2, "area of the ring");
  checkNear(c, tree[4].area_mm2, 7 * 7, 28 * kCell / 2, "area of the core");
  check(c, tree[3].parent == 2 && tree[4].parent == 2, "ring and core are children of the part");
  check(c, looseAt(tree[3], 0, 7) && looseAt(tree[4], 0, 7), "ring and core are loose at birth");
  check(c, tree[2].cut_loose.size() == 4, "the inner loop cuts the loose part four times");
}

void aTabKeepsThePart(Checks& c) {
  for (const double height : {1.0, 0.0}) {
    Sheet sheet = sheetOf(80, 80, 6, flat(3));
    SheetProgram& p = sheet.programs[0];
    feeds(p, {{20, 20, -0.2},
              {36.5, 20, -0.2},
              {36.5, 20, height},
              {43.5, 20, height},
              {43.5, 20, -0.2},
              {60, 20, -0.2},
              {60, 60, -0.2},
              {20, 60, -0.2},
              {20, 20, -0.2}});
    check(c, truth(sheet, kCell).size() == (height > 0 ? 1U : 3U), "a tab of 4 x 1 mm keeps, one of no height parts");
    if (height <= 0) continue;
    // The tab cut later: by three plunges and a way, the last of which parts.
    SheetProgram later;
    feeds(later, {{36, 20, 8}, {36, 20, -0.2}, {38, 20, -0.2}, {39.8, 20, -0.2}, {42, 20, -0.2}});
    sheet.programs.push_back(later);
    const auto tree = truth(sheet, kCell);
    check(c, tree.size() == 3 && at(tree[0].ended, 1, 3), "the cut through the last of the tab parts, in program two");
  }
}

void aHelixPartsInTheTurnThatGoesThrough(Checks& c) {
  Sheet sheet = sheetOf(50, 50, 6, flat(3));
  for (int turn = 0; turn < 5; ++turn) {
    circle(sheet.programs[0], 25, 25, 12, 6 - 2 * turn, 4 - 2 * turn, MoveKind::arc_ccw);
  }
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3 && at(tree[0].ended, 0, 3), "6 mm at 2 mm a turn: parted in the fourth turn");

  // To -0.02 at the end of the third turn: the floor is open only near the end, so the level turn parts.
  Sheet level = sheetOf(50, 50, 6, flat(3));
  for (int turn = 0; turn < 3; ++turn) {
    circle(level.programs[0], 25, 25, 12, 6 - 6.02 / 3 * turn, 6 - 6.02 / 3 * (turn + 1), MoveKind::arc_cw);
  }
  circle(level.programs[0], 25, 25, 12, -0.02, -0.02, MoveKind::arc_cw);
  const auto second = truth(level, kCell);
  check(c, second.size() == 3 && at(second[0].ended, 0, 3), "the level turn after the helix parts");
}

void twoFacesMeet(Checks& c) {
  for (const Face face : {Face::turned_front_back, Face::turned_left_right}) {
    for (const double below : {0.05, -0.05}) {
      Sheet sheet = sheetOf(70, 50, 8, flat(3));
      square(sheet.programs[0], 12, 10, 32, 24, 5);  // 3 mm deep
      SheetProgram back;
      back.face = face;
      const bool left_right = face == Face::turned_left_right;
      const double x0 = left_right ? 70 - 32 : 12;
      const double y0 = left_right ? 10 : 50 - 24;
      square(back, x0, y0, x0 + 20, y0 + 14, 3 - below);
      sheet.programs.push_back(back);
      const auto tree = truth(sheet, kCell);
      check(c, tree.size() == (below > 0 ? 3U : 1U), "kerfs from two faces part if they meet, not with 0.05 mm left");
      if (tree.size() != 3) continue;
      check(c, at(tree[0].ended, 1, 3), "two faces: parted on the fourth side of the second");
      checkNear(c, tree[2].area_mm2, 17 * 11, 56 * kCell / 2, "two faces: area of the part");
      checkNear(c, tree[2].box.x0, 13.5, kCell, "two faces: left edge in the stock frame");
      checkNear(c, tree[2].box.y0, 11.5, kCell, "two faces: lower edge in the stock frame");
    }
  }
}

// Grooves right across from both faces, edge to edge in plan: no place is cut through, but where they pass each other
// in height nothing hangs together over the edge.
void groovesThatPassEachOtherPart(Checks& c) {
  for (const double z : {2.9, 3.1}) {
    Sheet sheet = sheetOf(60, 40, 6, flat(3));
    feeds(sheet.programs[0], {{30, -2, z}, {30, 42, z}});
    SheetProgram back;
    back.face = Face::turned_front_back;
    feeds(back, {{33, -2, z}, {33, 42, z}});
    sheet.programs.push_back(back);
    const auto tree = truth(sheet, kCell);
    check(c, tree.size() == (z < 3 ? 3U : 1U), "grooves side by side part only where they pass each other in height");
    if (tree.size() != 3) continue;
    check(c, at(tree[0].ended, 1, 0), "the second groove parts");
    checkNear(c, tree[1].area_mm2, 31.5 * 40, 1e-6, "left of the edge");
    checkNear(c, tree[2].area_mm2, 28.5 * 40, 1e-6, "right of the edge");
    checkNear(c, tree[2].box.z0, 0, 1e-9, "the right piece reaches the floor beyond its groove");
  }
}

// A part on a tape of 10 x 10 mm that a cutter of 4 mm mills away in lines: 60 mm2 are left, then 20.
void aPartIsLooseWhenItsTapeIsMilledAway(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  sheet.tools.push_back(flat(4));
  sheet.programs[0].fitted = {hold(sheet, {HoldKind::tape, 40, 40, 0, 10, 10, Face::front})};
  SheetProgram& p = sheet.programs[0];
  square(p, 20, 20, 60, 60, -0.2);
  feeds(p, {{34, 37, -0.2}, {46, 37, -0.2}, {46, 41, -0.2}, {34, 41, -0.2}, {34, 44, -0.2}}, 1);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3, "a pocket in a taped part makes no more pieces");
  if (tree.size() != 3) return;
  check(c, tree[2].held_by == std::vector<int>{0}, "the part is held by its tape");
  check(c, looseAt(tree[2], 0, 6), "loose at the line that leaves less than 25 mm2 of the tape");
  check(c, looseAt(tree[1], 0, 3), "the frame is loose at birth");
  check(c, tree[2].cut_loose.size() == 1 && at(tree[2].cut_loose[0].at, 0, 7), "cut once more while loose");

  for (const double side : {4.85, 5.15}) {
    sheet.hold_downs[0].size_x = sheet.hold_downs[0].size_y = side;
    sheet.programs[0].moves.resize(4);
    const auto again = truth(sheet, kCell);
    if (again.size() == 3) checkNear(c, again[2].grips[0].covered_mm2, side * side, 2 * side * kCell, "tape under it");
    check(c, again.size() == 3 && again[2].held_by.size() == (side > 5 ? 1U : 0U), "tape holds from 25 mm2 on");
  }
}

void tapeUnderATurnedStockHoldsWhereItLies(Checks& c) {
  for (const bool over_tape : {false, true}) {
    Sheet sheet = sheetOf(80, 80, 6, flat(3));
    sheet.tools.push_back(flat(12));
    const double x = over_tape ? 50 : 35;
    feeds(sheet.programs[0], {{x, 36, 5}, {x, 44, 5}}, 1);  // a groove 1 mm deep in the face that lies below later
    SheetProgram back;
    back.face = Face::turned_left_right;
    back.fitted = {hold(sheet, {HoldKind::tape, 30, 40, 0, 8, 8, Face::turned_left_right})};  // stock x 46 to 54
    square(back, 20, 25, 50, 55, -0.2);
    sheet.programs.push_back(back);
    const auto tree = truth(sheet, kCell);
    check(c, tree.size() == 3 && tree[2].held_by.empty() == over_tape, "tape holds where the face still lies on it");
  }
}

void holdDownsLeave(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  sheet.programs[0].fitted = {hold(sheet, {HoldKind::screw, 40, 40, 6, 0, 0, Face::front}),
                              hold(sheet, {HoldKind::clamp, 0, 40, 0, 12, 8, Face::front})};
  square(sheet.programs[0], 20, 20, 60, 60, -0.2);
  SheetProgram second;
  second.fitted = {1};
  feeds(second, {{70, 70, 10}, {70, 70, 3}});
  sheet.programs.push_back(second);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3 && looseAt(tree[2], 1, -1), "loose at the start of the program without its screw");
  check(c, tree.size() == 3 && !tree[1].loose && tree[1].held_by == std::vector<int>{1}, "the clamp holds the frame");
}

// The wood under a screw's head is milled away: a pocket of 8 x 8 mm about a head of 6 mm, in lines of a 4 mm cutter.
void aScrewHoldsNoMoreWhereItsWoodIsGone(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  sheet.tools.push_back(flat(4));
  sheet.programs[0].fitted = {hold(sheet, {HoldKind::screw, 40, 40, 6, 0, 0, Face::front})};
  SheetProgram& p = sheet.programs[0];
  square(p, 20, 20, 60, 60, -0.2);
  feeds(p, {{38, 38, 8}, {38, 38, -0.2}, {42, 38, -0.2}, {42, 42, -0.2}, {38, 42, -0.2}, {38, 38, -0.2}}, 1);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3 && looseAt(tree[2], 0, 8),
        "the way back takes the last wood under the head, a sliver beside the corner");
}

void aLooseBlockIsMilledAway(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  sheet.tools.push_back(flat(6));
  SheetProgram& p = sheet.programs[0];
  square(p, 30, 30, 45, 45, -0.2);
  feeds(p, {{31, 33, -0.2}, {45, 33, -0.2}, {45, 37.5, -0.2}, {31, 37.5, -0.2}, {31, 42, -0.2}, {45, 42, -0.2}}, 1);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3, "a block milled away");
  if (tree.size() != 3) return;
  const TruePiece& block = tree[2];
  check(c, block.end_kind == End::milled && at(block.ended, 0, 8), "milled away by the last line");
  checkNear(c, block.area_mm2, 144, 48 * kCell / 2, "area of the block");
  const double taken = std::accumulate(block.cut_loose.begin(), block.cut_loose.end(), 0.0,
                                       [](double sum, const LooseCut& cut) { return sum + cut.taken_mm3; });
  checkNear(c, taken, block.volume_mm3, 1e-6, "what is taken from the block is the block");
}

void aPassBesideALoosePieceIsMeasured(Checks& c) {
  Sheet sheet = sheetOf(80, 80, 6, flat(3));
  sheet.tools.push_back(flat(1));
  SheetProgram& p = sheet.programs[0];
  square(p, 20, 20, 60, 60, -0.2);
  feeds(p, {{25, 20.6, 3}, {55, 20.6, 3}}, 1);  // within the kerf: 21.5 - 20.6 - 0.5 = 0.4 mm beside the part
  feeds(p, {{25, 20.6, 6.5}, {55, 20.6, 7}}, 1);
  const auto tree = truth(sheet, kCell);
  check(c, tree.size() == 3 && tree[2].nearest.size() == 1, "one move passes the part at its heights");
  if (tree.size() != 3 || tree[2].nearest.size() != 1) return;
  check(c, at(tree[2].nearest[0].at, 0, 4), "the move that passes");
  checkNear(c, tree[2].nearest[0].distance_mm, 0.4, kCell, "the distance at which it passes");
}

void ballAndVeeOutlinesPartByTheirWidthAtTheFloor(Checks& c) {
  Sheet ball = sheetOf(80, 80, 6, {Form::ball, 4, 0, 0, 0, 0, 0});
  square(ball.programs[0], 20.01, 20.02, 60.01, 60.02, -0.5);
  const auto round = truth(ball, kCell);
  const double side = 40 - 2 * std::sqrt(4 - 1.5 * 1.5);
  check(c, round.size() == 3 && at(round[0].ended, 0, 3), "a ball outline parts");
  if (round.size() == 3) checkNear(c, round[2].area_mm2, side * side, 2 * side * kCell, "area within a ball outline");

  Sheet vee = sheetOf(80, 80, 6, {Form::vee, 12, 0, 60, 0, 0, 0});
  square(vee.programs[0], 20.01, 20.02, 60.01, 60.02, -0.5);
  const auto sharp = truth(vee, kCell);
  check(c, sharp.size() == 3 && at(sharp[0].ended, 0, 3), "a vee outline parts");
  if (sharp.size() != 3) return;
  // A frustum: its half side is 20 - k (z + 0.5) at height z.
  const double k = std::tan(kPi / 6);
  const double low = 2 * (20 - 0.5 * k);
  const double high = 2 * (20 - 6.5 * k);
  checkNear(c, sharp[2].area_mm2, low * low, 2 * low * kCell, "area within a vee outline");
  checkNear(c, sharp[2].volume_mm3, 6.0 / 3 * (low * low + low * high + high * high), 2, "volume of the frustum");
}

void dustIsForgotten(Checks& c) {
  // A strip of 0.6 mm between two kerfs right across, and one of 1.4 mm.
  for (const double strip : {0.6, 1.4}) {
    Sheet sheet = sheetOf(60, 40, 5, flat(3));
    feeds(sheet.programs[0], {{-3, 15, -0.1}, {63, 15, -0.1}});
    feeds(sheet.programs[0], {{-3, 18 + strip, -0.1}, {63, 18 + strip, -0.1}});
    const auto tree = truth(sheet, kCell);
    // The first kerf makes 13.5 and 23.5; the second makes of the larger the strip and the rest, or the rest alone.
    check(c, tree.size() == (strip > 1 ? 5U : 3U), "a strip under 1 mm wide is dust, one over is a piece");
  }
}

}  // namespace

void checkCases(Checks& c) {
  aClosedSquareLeavesThePartAndTheFrame(c);
  aCircleLeavesADisc(c);
  anOutlineShortOfTheSpoilboardPartsNothing(c);
  anInnerLoopAfterTheOuterSplitsTheLoosePart(c);
  aTabKeepsThePart(c);
  aHelixPartsInTheTurnThatGoesThrough(c);
  twoFacesMeet(c);
  groovesThatPassEachOtherPart(c);
  aPartIsLooseWhenItsTapeIsMilledAway(c);
  tapeUnderATurnedStockHoldsWhereItLies(c);
  holdDownsLeave(c);
  aScrewHoldsNoMoreWhereItsWoodIsGone(c);
  aLooseBlockIsMilledAway(c);
  aPassBesideALoosePieceIsMeasured(c);
  ballAndVeeOutlinesPartByTheirWidthAtTheFloor(c);
  dustIsForgotten(c);
}

}  // namespace provecut::reference
