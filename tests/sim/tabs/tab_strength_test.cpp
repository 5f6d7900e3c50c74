// Worked examples: a tab as a beam across the kerf with USDA Wood Handbook strengths (FPL-GTR-190, tables 5-3, 5-5),
// the tooth's force by the linear-edge force model; each number was worked out by hand from its formula.
#include "sim/tabs/tab_strength.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "sim/tool/cutting_material.h"

namespace provecut {
namespace {

const WoodSpecies* species(std::string_view name) {
  return &*std::find_if(wood_species.begin(), wood_species.end(), [&](const WoodSpecies& s) { return s.name == name; });
}

Stock stockOf(Material material, std::string_view name = "") {
  Stock s;
  s.material = material;
  s.material_given = true;
  if (!name.empty()) s.species = species(name);
  return s;
}

Tab tab(double length, double thickness, double kerf, double grain_deg) {
  Tab t;
  t.length_mm = length;
  t.thickness_mm = thickness;
  t.kerf_mm = kerf;
  t.grain_deg = grain_deg;
  return t;
}

TEST(ToothForce, worked_examples) {
  EXPECT_NEAR(toothForce_n(cuttingForce(Material::hardwood), 6, 1.0 / 12), 24.5, 1e-9);
  EXPECT_NEAR(toothForce_n(cuttingForce(Material::hardwood), 3, 1.0 / 12), 12.25, 1e-9);
  EXPECT_NEAR(toothForce_n(cuttingForce(Material::aluminium), 0.5, 0.05), 22.275, 1e-9);
  EXPECT_NEAR(toothForce_n(cuttingForce(Material::softwood), 3, 1.0 / 12), 6.75, 1e-9);
  EXPECT_NEAR(toothForce_n(cuttingForce(Material::softwood), 18, 1.0 / 12), 40.5, 1e-9);
}

// Half of 30.933 N and of 693.33 N: the ends of a tab are held half as well as in theory.
TEST(TabSideLoad, worked_examples_in_pine_and_oak_along_and_across_the_grain) {
  const Stock pine = stockOf(Material::softwood, "ponderosa pine"), oak = stockOf(Material::hardwood, "red oak");
  EXPECT_NEAR(pieces::tabSideLoad_n(pine, tab(8, 3, 6, 90)), 30.93333333333 / 2, 1e-9);
  EXPECT_NEAR(pieces::tabSideLoad_n(pine, tab(8, 3, 6, 0)), 693.3333333333 / 2, 1e-9);
  EXPECT_NEAR(pieces::tabSideLoad_n(oak, tab(8, 3, 6, 90)), 58.66666666667 / 2, 1e-9);
}

// The last full-depth pass, not the cut by layers, breaks tabs.
TEST(TabSideLoad, one_pine_tab_fails_at_18_mm_and_holds_at_3) {
  const Stock pine = stockOf(Material::softwood, "ponderosa pine");
  const double load = pieces::tabSideLoad_n(pine, tab(8, 3, 6, 90));
  EXPECT_NEAR(load / toothForce_n(cuttingForce(Material::softwood), 3, 1.0 / 12), 2.291358024691, 1e-9);
  EXPECT_NEAR(load / toothForce_n(cuttingForce(Material::softwood), 18, 1.0 / 12), 0.3818930041152, 1e-9);
}

TEST(TabSideLoad, without_a_species_the_weakest_of_the_material_is_taken) {
  // Tension across the grain: western redcedar 1.5, quaking aspen 1.8 MPa.
  EXPECT_DOUBLE_EQ(pieces::tabStrength_mpa(stockOf(Material::softwood), 90), 1.5);
  EXPECT_DOUBLE_EQ(pieces::tabStrength_mpa(stockOf(Material::hardwood), 90), 1.8);
  for (const WoodSpecies& s : wood_species) {
    const Material own = s.hardwood ? Material::hardwood : Material::softwood;
    for (const double angle : {0.0, 45.0, 90.0}) {
      EXPECT_GE(pieces::tabStrength_mpa(stockOf(own, s.name), angle),
                pieces::tabStrength_mpa(stockOf(own), angle) * (1 - 1e-12))
          << s.name;
    }
  }
}

// Shear from a page that reprints the Wood Handbook (psi x 0.00689476), tension across from one that cites its edition
// of 2010; those that were looked up.
TEST(WoodSpecies, have_the_strengths_of_the_wood_handbook) {
  struct Printed {
    std::string_view name;
    double shear_along_mpa, tension_across_mpa;
  };
  for (const Printed& p : {Printed{"white ash", 13.2, 6.5},
                           {"beech", 13.9, 7.0},
                           {"yellow birch", 13.0, 6.3},
                           {"black cherry", 11.7, 3.9},
                           {"quaking aspen", 5.9, 1.8},
                           {"basswood", 6.8, 2.4},
                           {"sugar maple", 16.1, 4.6},
                           {"redwood", 7.6, 1.7}}) {
    EXPECT_EQ(species(p.name)->shear_along_mpa, p.shear_along_mpa) << p.name;
    EXPECT_EQ(species(p.name)->tension_across_mpa, p.tension_across_mpa) << p.name;
  }
}

TEST(TabSideLoad, between_along_and_across_hankinsons_formula_holds) {
  // 65 along, 2.9 across: at 45 degrees 65 x 2.9 / (65 x 0.5 + 2.9 x 0.5).
  EXPECT_NEAR(pieces::tabStrength_mpa(stockOf(Material::softwood, "ponderosa pine"), 45), 65 * 2.9 / 33.95, 1e-9);
}

TEST(TabSideLoad, sheet_goods_have_no_grain_and_a_skin_is_no_beam) {
  const Stock mdf = stockOf(Material::mdf);
  EXPECT_DOUBLE_EQ(pieces::tabSideLoad_n(mdf, tab(8, 3, 6, 0)), pieces::tabSideLoad_n(mdf, tab(8, 3, 6, 90)));
  Tab skin = tab(200, 0.4, 6, 0);
  skin.onion_skin = true;
  EXPECT_EQ(pieces::tabSideLoad_n(mdf, skin), 0);
}

}  // namespace
}  // namespace provecut
