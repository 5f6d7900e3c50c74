// Strength of wood species, for tabs. Clear wood at 12 % moisture.
#pragma once

#include <array>
#include <string_view>

namespace provecut {

struct WoodSpecies {
  std::string_view name;
  bool hardwood = true;
  double bending_mpa = 0;         // modulus of rupture, along the fibres
  double tension_across_mpa = 0;  // 0: not tabulated
  double shear_along_mpa = 0;
};

// USDA Wood Handbook FPL-GTR-190, tables 5-3 and 5-5, looked up for the species from sugar pine to sugar maple; bending
// of the others, and what of them the sources beside this project marked so, from memory of the same tables.
inline constexpr std::array wood_species{
    WoodSpecies{"ponderosa pine", false, 65, 2.9, 7.8},
    WoodSpecies{"sugar pine", false, 57, 2.4, 7.8},
    WoodSpecies{"western white pine", false, 67, 0, 7.2},
    WoodSpecies{"eastern white pine", false, 59, 2.1, 6.2},
    WoodSpecies{"loblolly pine", false, 88, 3.2, 9.6},
    WoodSpecies{"longleaf pine", false, 100, 3.2, 10.4},
    WoodSpecies{"douglas-fir", false, 85, 2.3, 7.8},
    WoodSpecies{"western redcedar", false, 52, 1.5, 6.8},
    WoodSpecies{"redwood", false, 54, 1.7, 7.6},
    WoodSpecies{"sugar maple", true, 109, 4.6, 16.1},  // across: black maple's, its nearest kin in the table
    WoodSpecies{"yellow birch", true, 114, 6.3, 13.0},
    WoodSpecies{"black cherry", true, 85, 3.9, 11.7},
    WoodSpecies{"white oak", true, 105, 5.5, 13.8},
    WoodSpecies{"red oak", true, 99, 5.5, 12.3},
    WoodSpecies{"black walnut", true, 101, 4.8, 9.4},
    WoodSpecies{"white ash", true, 103, 6.5, 13.2},
    WoodSpecies{"beech", true, 103, 7.0, 13.9},
    WoodSpecies{"quaking aspen", true, 58, 1.8, 5.9},
    WoodSpecies{"basswood", true, 60, 2.4, 6.8},
    WoodSpecies{"red alder", true, 68, 2.9, 7.4},
    WoodSpecies{"shagbark hickory", true, 139, 0, 16.8},
    WoodSpecies{"yellow-poplar", true, 70, 3.7, 8.2},
};

}  // namespace provecut
