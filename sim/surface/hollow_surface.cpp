#include "sim/surface/hollow_surface.h"

#include <openvdb/openvdb.h>
#include <openvdb/tools/MeshToVolume.h>
#include <openvdb/tools/VolumeToMesh.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <span>
#include <vector>

namespace provecut::surface {

namespace {

double overlap_mm(double low, double high, const cutting::DexelSegment& s) {
  return std::max(0.0, std::min<double>(high, s.high) - std::max<double>(low, s.low));
}

// The dexels around the undercut cells, to be asked for the share of a cube about a point that is air.
class Surroundings {
 public:
  Surroundings(const cutting::DexelField& field, double cube_mm) : field_(field), cube_mm_(cube_mm) {}

  // The dexels within the cube's plan about a point. Segments of plain dexels stay valid until the next call.
  const std::vector<std::span<const cutting::DexelSegment>>& dexelsAbout(SetupPoint2 p) {
    samples_.clear();
    plain_.clear();
    const double half = cube_mm_ / 2;
    const auto cellOf = [](double at, double cell, int count) {
      return std::clamp(static_cast<int>(std::floor(at / cell)), 0, count - 1);
    };
    const int x0 = cellOf(p.x - half, field_.cell_x_mm, field_.nx),
              x1 = cellOf(p.x + half, field_.cell_x_mm, field_.nx);
    const int y0 = cellOf(p.y - half, field_.cell_y_mm, field_.ny),
              y1 = cellOf(p.y + half, field_.cell_y_mm, field_.ny);
    plain_.reserve((x1 - x0 + 1) * (y1 - y0 + 1));
    for (int y = y0; y <= y1; ++y) {
      for (int x = x0; x <= x1; ++x) take(x, y, p);
    }
    return samples_;
  }

 private:
  void take(int x, int y, SetupPoint2 p) {
    const cutting::Cell c = field_.index(x, y);
    const bool undercut = field_.undercut.holds(c);
    if (!undercut) plain_.push_back({field_.floor_mean[c], field_.top_mean[c]});
    std::size_t first = 0;
    for (std::size_t k = 0; k < cutting::samples_per_cell; ++k) {
      const Vec2 offset = cutting::sampleOffset(k, field_.undercut.mirrored);
      const SetupPoint2 at{field_.centreX(x) + offset.x * field_.cell_x_mm,
                           field_.centreY(y) + offset.y * field_.cell_y_mm};
      std::span<const cutting::DexelSegment> segments(plain_.data() + plain_.size() - (undercut ? 0 : 1),
                                                      undercut ? 0 : 1);
      if (undercut) {
        const cutting::UndercutCell& cell = field_.undercut.at(c, y);
        segments = std::span(cell.segments).subspan(first, cell.counts[k]);
        first += cell.counts[k];
      }
      const bool within = std::fabs(at.x - p.x) <= cube_mm_ / 2 && std::fabs(at.y - p.y) <= cube_mm_ / 2;
      if (within) samples_.push_back(segments);
    }
  }

  const cutting::DexelField& field_;
  double cube_mm_;
  std::vector<std::span<const cutting::DexelSegment>> samples_;
  std::vector<cutting::DexelSegment> plain_;
};

// Plan points of the lattice that lie within two voxels of an undercut cell, row by row.
std::vector<bool> pointsNearHollows(const cutting::DexelField& field, double cell_mm, int nx, int ny) {
  std::vector<bool> near(nx * ny, false);
  const auto first = [&](double at) { return static_cast<int>(std::ceil(at / cell_mm - 0.5)); };
  const double reach_x = field.cell_x_mm / 2 + 2 * cell_mm, reach_y = field.cell_y_mm / 2 + 2 * cell_mm;
  for (int row = 0; row < std::ssize(field.undercut.rows); ++row) {
    for (const cutting::UndercutCell& cell : field.undercut.rows[row]) {
      const double x = field.centreX(cell.x), y = field.centreY(row);
      for (int j = std::max(0, first(y - reach_y)); j < std::min(ny, first(y + reach_y)); ++j) {
        for (int i = std::max(0, first(x - reach_x)); i < std::min(nx, first(x + reach_x)); ++i)
          near[j * nx + i] = true;
      }
    }
  }
  return near;
}

// The share of a cube that is air tells how far its middle is from the surface of the hollow.
void takeHollowsOut(openvdb::FloatGrid& solid, const cutting::DexelField& field, double cell_mm) {
  const auto points = [&](double length) { return static_cast<int>(std::ceil(length / cell_mm)); };
  const int nx = points(field.nx * field.cell_x_mm), ny = points(field.ny * field.cell_y_mm),
            nz = points(field.thickness_mm);
  const std::vector<bool> near = pointsNearHollows(field, cell_mm, nx, ny);
  auto level = solid.getAccessor();
  Surroundings around(field, cell_mm);
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      if (!near[j * nx + i]) continue;
      const auto& dexels = around.dexelsAbout({(i + 0.5) * cell_mm, (j + 0.5) * cell_mm});
      if (dexels.empty()) continue;
      for (int k = 0; k < nz; ++k) {
        const double low = k * cell_mm, high = low + cell_mm;
        double material = 0;
        for (const auto segments : dexels) {
          for (const cutting::DexelSegment& s : segments) material += overlap_mm(low, high, s);
        }
        const double air = 1 - material / (static_cast<double>(dexels.size()) * cell_mm);
        const auto from_hollow = static_cast<float>((air - 0.5) * cell_mm);
        const openvdb::Coord at(i, j, k);
        if (from_hollow > level.getValue(at)) level.setValue(at, from_hollow);
      }
    }
  }
}

// Points in one place become one; a triangle that loses a side by it has no area.
TriangleMesh meshOf(const openvdb::FloatGrid& grid) {
  std::vector<openvdb::Vec3s> points;
  std::vector<openvdb::Vec3I> triangles;
  std::vector<openvdb::Vec4I> quads;
  constexpr double level = 0, flatter_than = 0.001;  // level areas in few triangles
  openvdb::tools::volumeToMesh(grid, points, triangles, quads, level, flatter_than);
  TriangleMesh mesh;
  std::map<std::array<float, 3>, std::uint32_t> known;
  std::vector<std::uint32_t> name;
  for (const auto& p : points) {
    const std::array<float, 3> at{p.x(), p.y(), p.z()};
    const auto [place, fresh] = known.try_emplace(at, static_cast<std::uint32_t>(mesh.points.size()));
    if (fresh) mesh.points.push_back(at);
    name.push_back(place->second);
  }
  // The library's faces turn clockwise seen from outside.
  const auto add = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    if (name[a] != name[b] && name[b] != name[c] && name[c] != name[a])
      mesh.triangles.push_back({name[c], name[b], name[a]});
  };
  for (const auto& t : triangles) add(t[0], t[1], t[2]);
  for (const auto& q : quads) {
    add(q[0], q[1], q[2]);
    add(q[0], q[2], q[3]);
  }
  return mesh;
}

}  // namespace

TriangleMesh surfaceWithHollows(const TriangleMesh& filled, const cutting::DexelField& field, double cell_mm) {
  std::vector<openvdb::Vec3s> points;
  for (const auto& p : filled.points) points.emplace_back(p[0], p[1], p[2]);
  std::vector<openvdb::Vec3I> triangles;
  for (const auto& t : filled.triangles) triangles.emplace_back(t[0], t[1], t[2]);
  openvdb::initialize();
  // The lattice lies between the stock's faces: a face through its points would leave films of no thickness.
  const auto transform = openvdb::math::Transform::createLinearTransform(cell_mm);
  transform->postTranslate(openvdb::Vec3d(cell_mm / 2));
  constexpr float half_band_voxels = 1.5F;  // all that meshing looks at
  const auto solid =
      openvdb::tools::meshToLevelSet<openvdb::FloatGrid>(*transform, points, triangles, half_band_voxels);
  takeHollowsOut(*solid, field, cell_mm);
  return meshOf(*solid);
}

}  // namespace provecut::surface
