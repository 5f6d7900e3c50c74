#include "report/base/stock_comment.h"
#include "report/base/zero_comment.h"

#include <gtest/gtest.h>

namespace provecut {
namespace {

TEST(StockComment, gives_three_sizes) {
  EXPECT_EQ(readStockComment("STOCK 100 x 50 x 18", false), (Vec3{100, 50, 18}));
  EXPECT_EQ(readStockComment("Rohteil: 100x50x18mm", true), (Vec3{100, 50, 18}));
  EXPECT_EQ(readStockComment("stock x=100 y=50 z=18", false), (Vec3{100, 50, 18}));
}

TEST(StockComment, is_in_the_programs_unit_unless_it_says) {
  EXPECT_EQ(readStockComment("STOCK 4 x 2 x 1", true), (Vec3{101.6, 50.8, 25.4}));
  const auto named = readStockComment("STOCK 6061AL DX 3.5IN DY 2IN DZ 0.5IN, AFTER SQUARING", false);
  ASSERT_TRUE(named);
  EXPECT_DOUBLE_EQ(named->x, 88.9);
  EXPECT_DOUBLE_EQ(named->z, 12.7);
}

TEST(StockComment, of_a_panel_gives_its_thickness_behind_the_two_sides) {
  const auto panel = readStockComment("PANEL 4X3 .063 ALUM", true);
  ASSERT_TRUE(panel);
  EXPECT_NEAR(panel->x, 101.6, 1e-9);
  EXPECT_NEAR(panel->y, 76.2, 1e-9);
  EXPECT_NEAR(panel->z, 1.6002, 1e-9);
  EXPECT_EQ(readMaterialComment("PANEL 4X3 .063 ALUM"), Material::aluminium);
  EXPECT_EQ(readStockComment("Platte 600 x 400 x 18", false), (Vec3{600, 400, 18}));
  EXPECT_EQ(readStockComment("plywood sheet 600 x 400, 18mm", false), (Vec3{600, 400, 18}));
}

TEST(StockComment, of_a_panel_without_a_thickness_or_in_another_unit_gives_none) {
  EXPECT_FALSE(readStockComment("PANEL 4X3 .063 ALUM", false));
  EXPECT_FALSE(readStockComment("panel 600 x 400, 2 pieces", false));
  EXPECT_FALSE(readStockComment("plate with 4 x 3 holes", false));
}

TEST(StockComment, of_other_things_gives_none) {
  EXPECT_FALSE(readStockComment("Origin: Top left of stock", false));
  EXPECT_FALSE(readStockComment("STOCK 100 x 50", false));
  EXPECT_FALSE(readStockComment("pocket 100 x 50 x 18", false));
  EXPECT_FALSE(readStockComment("stock 0 x 50 x 18", false));
}

TEST(ZeroComment, names_a_corner) {
  const auto wcs = readZeroComment("WCS G54 BACK-LEFT-TOP");
  ASSERT_TRUE(wcs);
  EXPECT_EQ(wcs->x + wcs->y + wcs->z, "leftbacktop");
  const auto drawing = readZeroComment(" Origin: Top left of stock ");
  ASSERT_TRUE(drawing);
  EXPECT_EQ(drawing->x + drawing->y, "leftback");
  EXPECT_EQ(readZeroComment("XY zero is bottom left")->y, "front");
}

TEST(ZeroComment, that_names_no_corner_gives_none) {
  EXPECT_FALSE(readZeroComment("Draw the line for the left side"));
  EXPECT_FALSE(readZeroComment("G54"));
  EXPECT_FALSE(readZeroComment("Z zero is top"));
  EXPECT_FALSE(readZeroComment("front left pocket"));
}

TEST(MaterialComment, names_the_material) {
  EXPECT_EQ(readMaterialComment(" Material: Hardwood "), Material::hardwood);
  EXPECT_EQ(readMaterialComment("STOCK 6061AL DX 3IN"), Material::aluminium);
  EXPECT_FALSE(readMaterialComment("a hardwood part"));
  EXPECT_FALSE(readMaterialComment("Material: unknown"));
}

}  // namespace
}  // namespace provecut
