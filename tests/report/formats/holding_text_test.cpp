// What the summary says of what holds the stock and the parts after each program.
#include "report/formats/text/holding_text.h"

#include <gtest/gtest.h>

#include <sstream>
#include <string>
#include <vector>

#include "tests/report/rules/scene.h"

namespace provecut {
namespace {

PieceHeld heldPart(double side_mm) {
  PieceHeld p;
  p.part = true;
  p.plan_area_mm2 = side_mm * side_mm;
  p.bounds.add(WorkPoint{0, 0, -18});
  p.bounds.add(WorkPoint{side_mm, side_mm, 0});
  return p;
}

struct Held : Scene {
  PieceHeld stock;
  Held() {
    stock.by = {addHoldDown(clamp("clamp A", {30, 30}, {20, 20}, 12))};
    feed({10, 10, -18.2});
  }
  std::string text(std::vector<PieceHeld> pieces) {
    programRun().holding = std::move(pieces);
    std::ostringstream out;
    writeHolding(facts(), out);
    return out.str();
  }
};

TEST(HoldingText, parts_of_one_size_that_are_held_alike_are_told_together) {
  Held s;
  EXPECT_EQ(s.text({s.stock, heldPart(34), heldPart(34), heldPart(8), heldPart(34)}),
            "\n  what holds the stock and the parts\n"
            "  after 10-cut.nc: stock held by clamp A; 3 parts 34 × 34 mm loose; offcut 8 × 8 mm loose\n");
}

TEST(HoldingText, tabs_a_skin_and_a_clamp_are_named) {
  Held s;
  PieceHeld tabbed = heldPart(60), skin = heldPart(60);
  tabbed.tabs = 4;
  tabbed.by = s.stock.by;
  skin.skin_mm = 0.5;
  EXPECT_EQ(s.text({s.stock, tabbed, skin}),
            "\n  what holds the stock and the parts\n"
            "  after 10-cut.nc: stock held by clamp A; part 60 × 60 mm held by 4 tabs and clamp A; part\n"
            "  60 × 60 mm held by a 0.5 mm onion skin\n");
}

TEST(HoldingText, vacuum_is_not_called_tape) {
  Held s;
  for (const auto& [kind, words] :
       {std::pair(HoldDownKind::vacuum, "(600 mm² of vacuum)"), std::pair(HoldDownKind::glue, "(600 mm² of glue)"),
        std::pair(HoldDownKind::tape, "(600 mm² of tape)")}) {
    HoldDown under = clamp("sheet", {60, 40}, {100, 70}, -10);
    under.kind = kind;
    PieceHeld stock;
    stock.by = {s.addHoldDown(under)};
    stock.tape_mm2 = 600;
    EXPECT_NE(s.text({stock}).find(words), std::string::npos) << words;
  }
}

TEST(HoldingText, stock_for_which_nothing_is_listed_is_not_called_loose) {
  Held s;
  EXPECT_EQ(s.text({PieceHeld{}}),
            "\n  what holds the stock and the parts\n  after 10-cut.nc: stock held by nothing listed\n");
}

}  // namespace
}  // namespace provecut
