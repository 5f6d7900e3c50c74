// A pine part held by tabs: shared by the two rules that check tabs against the cutter.
#pragma once

#include <algorithm>

#include "sim/observed/pieces.h"
#include "tests/report/rules/scene.h"

namespace provecut {

inline const WoodSpecies* speciesOf(std::string_view name) {
  return &*std::find_if(wood_species.begin(), wood_species.end(), [&](const WoodSpecies& s) { return s.name == name; });
}

// Ponderosa pine, one tab 8 x 3 over a 6 mm kerf along the grain bears 15.467 N (half of 30.933); a 2-flute bit at 3000
// mm/min and 18000 rpm pushes with 2.25 N per mm of depth (F 15 x 0.0833 + 1).
struct Pine : Scene {
  explicit Pine(std::size_t tabs) {
    job().stock.material = Material::softwood;
    job().stock.material_given = true;
    job().stock.species = speciesOf("ponderosa pine");
    feed_mm_min = 3000;
    feed({10, 10, -18.2});
    Piece p;
    p.move = lastIndex();
    p.plan_area_mm2 = 4320;
    p.bounds.add(WorkPoint{10, 10, -18});
    p.bounds.add(WorkPoint{106, 55, 0});
    Tab t;
    t.length_mm = 8;
    t.thickness_mm = 3;
    t.area_mm2 = 24;
    t.kerf_mm = 6;
    t.grain_deg = 90;
    t.along_grain = true;
    p.tabs.assign(tabs, t);
    p.beside = {{0, lastIndex()}};
    programRun().pieces.push_back(p);
  }
  Pine& deep(double axial_depth_mm) {
    cuts(axial_depth_mm, axial_depth_mm);
    return *this;
  }
  Piece& piece() { return programRun().pieces.front(); }
};

}  // namespace provecut
