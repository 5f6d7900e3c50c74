// A scene whose moves have loads, as the simulation would give them.
#pragma once

#include "sim/observed/load.h"
#include "sim/observed/move_cut.h"
#include "tests/report/rules/scene.h"

namespace provecut {

// Hardwood; a 6 mm flat cutter with two flutes.
class LoadScene : public Scene {
 public:
  LoadScene() {
    job().stock.material = Material::hardwood;
    job().stock.material_given = true;
  }

  // The last motion cuts `width` by `depth` and has this load.
  void loads(const MoveLoad& load, double width = 6, double depth = 3) {
    MoveCut cut;
    cut.removed_mm3 = 10;
    cut.axial_depth_mm = cut.bite_mm = cut.section_height_mm = static_cast<float>(depth);
    cut.radial_depth_mm = cut.max_radial_depth_mm = static_cast<float>(width);
    cut.section_mm2 = static_cast<float>(width * depth);
    cut.engaged_mm = 10;
    programRun().cuts.back() = cut;
    programRun().loads.resize(programRun().cuts.size());
    programRun().loads.back() = load;
  }

  // A level feed move of 60 mm at `per_tooth`, cutting.
  void cutsAt(double per_tooth, double thickest, double depth = 3) {
    right_ = !right_;
    feed({right_ ? 80.0 : 20.0, 20, -depth});
    const float speed = static_cast<float>(per_tooth * 18000 * tool().flutes);
    loads({speed, speed, static_cast<float>(per_tooth), static_cast<float>(thickest), 1000, 10, 5, 0.01F}, 6, depth);
  }

 private:
  bool right_ = false;
};

}  // namespace provecut
