#include "sim/tabs/tab_strength.h"

#include <cmath>
#include <limits>
#include <numbers>

namespace provecut::pieces {

namespace {

// Along the fibres and across them, MPa.
struct Strength {
  double along, across;
};

Strength strengthOf(const Stock& stock) {
  switch (stock.material) {
    case Material::softwood:
    case Material::hardwood: {
      Strength weakest{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
      for (const WoodSpecies& s : wood_species) {
        if (s.hardwood != (stock.material == Material::hardwood)) continue;
        weakest.along = std::fmin(weakest.along, s.bending_mpa);
        if (s.tension_across_mpa > 0) weakest.across = std::fmin(weakest.across, s.tension_across_mpa);
      }
      if (!stock.species) return weakest;
      const double across = stock.species->tension_across_mpa;
      return {stock.species->bending_mpa, across > 0 ? across : weakest.across};
    }
    case Material::plywood:
      return {30, 30};  // estimate: cross-laid, bending over both ways
    case Material::mdf:
      return {22, 22};  // ANSI A208.2, grade 130 (from memory)
    case Material::board:
      return {11, 11};  // ANSI A208.1, particle board grade M-2, modulus of rupture 13 (from memory); OSB is stronger
    case Material::hdpe:
      return {25, 25};  // yield in tension, from memory
    case Material::solid_surface:
      return {40, 40};  // tension, from memory of makers' sheets
    case Material::brass:
      return {310, 310};  // as aluminium: free-cutting brass, half hard, bears more (from memory)
    case Material::acrylic:
      return {70, 70};  // tension, from memory
    case Material::polycarbonate:
      return {60, 60};  // tension, from memory
    case Material::aluminium:
      return {310, 310};  // 6061-T6, from memory
    case Material::foam:
      return {0.4, 0.4};  // estimate
  }
  return {0, 0};
}

}  // namespace

double tabStrength_mpa(const Stock& stock, double grain_deg) {
  const Strength s = strengthOf(stock);
  const double angle = grain_deg * std::numbers::pi / 180, sine = std::sin(angle), cosine = std::cos(angle);
  return s.along * s.across / (s.along * sine * sine + s.across * cosine * cosine);
}

double tabSideLoad_n(const Stock& stock, const Tab& tab) {
  if (tab.onion_skin || tab.kerf_mm <= 0) return 0;
  const double load =
      tabStrength_mpa(stock, tab.grain_deg) * tab.thickness_mm * tab.length_mm * tab.length_mm / (3 * tab.kerf_mm);
  return load / 2;
}

}  // namespace provecut::pieces
