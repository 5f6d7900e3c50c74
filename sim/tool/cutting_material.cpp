#include "sim/tool/cutting_material.h"

namespace provecut {

namespace {

struct Row {
  CuttingForce force;
  double usual_energy_j_cm3;
};

// Wood, plastics, foam: our own estimates. MDF above softwood: "Power consumption during edge milling of MDF and
// edge-glued panel", BioResources 12(4) 7413; 32 to 38 N/mm2 measured for particle board: Materials 2021, 14, 2208.
// Aluminium: 6082-T6, Chinese Journal of Mechanical Engineering 2021, "Milling Force Model for Aviation Aluminum
// Alloy", table 5; usual energy: Machinery's Handbook, cast 683, rolled hard 901 (from memory).
// No source found, so the neighbour's: board of chips or fibres as MDF (particle board was measured near it, see
// above); HDPE, which is softer, and solid surface (acrylic filled with mineral) as acrylic; free-cutting brass as
// aluminium and a fifth more (our own estimate).
Row row(Material material) {
  switch (material) {
    case Material::softwood:
      return {{15, 1.0}, 30};
    case Material::hardwood:
      return {{25, 2.0}, 55};
    case Material::plywood:
      return {{20, 1.6}, 45};
    case Material::mdf:
    case Material::board:
      return {{20, 2.0}, 50};
    case Material::acrylic:
    case Material::polycarbonate:
    case Material::hdpe:
    case Material::solid_surface:
      return {{90, 2.5}, 130};
    case Material::aluminium:
      return {{631, 13}, 800};
    case Material::brass:
      return {{760, 16}, 1000};
    case Material::foam:
      return {{2, 0.1}, 3};
  }
  return {};
}

// From memory: carbide 580 to 650 GPa, steel 200 to 220 GPa.
constexpr double carbide_n_mm2 = 600e3, steel_n_mm2 = 210e3;

}  // namespace

CuttingForce cuttingForce(Material material) {
  return row(material).force;
}

double usualEnergy_j_cm3(Material material) {
  return row(material).usual_energy_j_cm3;
}

// Common practice, no source: spirals, balls and engraving bits are solid carbide; surfacing and form bits have a steel
// body with edges brazed or screwed on, jobber drills are steel.
double modulus_n_mm2(ToolShape shape) {
  switch (shape) {
    case ToolShape::surfacing:
    case ToolShape::form:
    case ToolShape::drill:
      return steel_n_mm2;
    case ToolShape::flat:
    case ToolShape::ball:
    case ToolShape::bull:
    case ToolShape::vee:
    case ToolShape::taper_ball:
      break;
  }
  return carbide_n_mm2;
}

}  // namespace provecut
