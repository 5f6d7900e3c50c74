// Pocket and slot volumes against GEOS: the area that a flat bit sweeps is the buffer of its path by its radius.
// GEOS 3.11 (libgeos), with 64 segments to a quarter turn: its buffers lack at most 1.5e-4 of a round end's area.
#include <geos_c.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdarg>
#include <memory>
#include <numbers>
#include <random>

#include "tests/sim/scene.h"

namespace provecut::testing {
namespace {

class Geos {
 public:
  Geos() : handle_(GEOS_init_r()) {}
  ~Geos() { GEOS_finish_r(handle_); }
  Geos(const Geos&) = delete;
  Geos& operator=(const Geos&) = delete;

  // Area of the union of the buffers of several paths, within stock of the given size.
  double sweptArea(const std::vector<std::vector<WorkPoint2>>& paths, double radius, Vec2 stock) {
    std::vector<GEOSGeometry*> lines;
    for (const auto& path : paths) {
      GEOSCoordSequence* points = GEOSCoordSeq_create_r(handle_, static_cast<unsigned>(path.size()), 2);
      for (unsigned i = 0; i < path.size(); ++i) GEOSCoordSeq_setXY_r(handle_, points, i, path[i].x, path[i].y);
      lines.push_back(GEOSGeom_createLineString_r(handle_, points));
    }
    Geometry all = own(
        GEOSGeom_createCollection_r(handle_, GEOS_MULTILINESTRING, lines.data(), static_cast<unsigned>(lines.size())));
    Geometry swept = own(GEOSBuffer_r(handle_, all.get(), radius, 64));
    Geometry box = own(GEOSGeom_createRectangle_r(handle_, 0, 0, stock.x, stock.y));
    Geometry within = own(GEOSIntersection_r(handle_, swept.get(), box.get()));
    double area = -1;
    EXPECT_EQ(GEOSArea_r(handle_, within.get(), &area), 1);
    return area;
  }

 private:
  struct Free {
    GEOSContextHandle_t handle;
    void operator()(GEOSGeometry* g) const { GEOSGeom_destroy_r(handle, g); }
  };
  using Geometry = std::unique_ptr<GEOSGeometry, Free>;
  Geometry own(GEOSGeometry* g) { return Geometry(g, Free{handle_}); }
  GEOSContextHandle_t handle_;
};

constexpr double share = 0.005;

double cutArea(const std::vector<std::vector<WorkPoint2>>& paths, double diameter, Vec2 stock, double depth) {
  Moves m(1);
  for (const auto& path : paths) m.slot(path, depth);
  const auto r = runOf(stockOf({stock.x, stock.y, 19.05}, {flatTool(1, diameter)}), {m.program()});
  return r.stock.removed_mm3 / depth;
}

// Rings from the pocket's wall inwards and round its islands, as far as they go; step-over 0.45 of the bit.
std::vector<std::vector<WorkPoint2>> pocketWithIslands() {
  std::vector<std::vector<WorkPoint2>> rings;
  const auto ring = [&](WorkPoint2 low, WorkPoint2 high) {
    rings.push_back({low, {high.x, low.y}, high, {low.x, high.y}, low});
  };
  const auto circle = [&](WorkPoint2 c, double r) {
    std::vector<WorkPoint2> p;
    for (int k = 0; k <= 90; ++k) {
      const double a = 2 * std::numbers::pi * k / 90;
      p.push_back({c.x + r * std::cos(a), c.y + r * std::sin(a)});
    }
    rings.push_back(p);
  };
  for (int k = 0; k < 5; ++k) ring({15.11 + 2.7 * k, 15.07 + 2.7 * k}, {104.93 - 2.7 * k, 65.03 - 2.7 * k});
  circle({45, 40}, 11.3);
  circle({45, 40}, 8.6);
  circle({78, 41}, 7.9);
  return rings;
}

TEST(GeosBuffer, a_pocket_with_islands_loses_the_buffer_of_its_path) {
  Geos geos;
  for (const double diameter : {6.0, 6.35}) {
    const double want = geos.sweptArea(pocketWithIslands(), diameter / 2, {120, 80});
    EXPECT_NEAR(cutArea(pocketWithIslands(), diameter, {120, 80}, 5), want, share * want);
  }
}

TEST(GeosBuffer, random_paths_even_over_the_stocks_edge) {
  Geos geos;
  const unsigned seed = 20240611;
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> x(-5, 125), y(-5, 85), bit(2, 13);
  for (int scene = 0; scene < 25; ++scene) {
    SCOPED_TRACE(::testing::Message() << "seed " << seed << ", scene " << scene);
    std::vector<WorkPoint2> path;
    for (int k = 0; k < 9; ++k) path.push_back({x(random), y(random)});
    const double diameter = bit(random);
    const double want = geos.sweptArea({path}, diameter / 2, {120, 80});
    EXPECT_NEAR(cutArea({path}, diameter, {120, 80}, 3), want, share * want) << "diameter " << diameter;
  }
}

}  // namespace
}  // namespace provecut::testing
