#include "sim/surface/vdb_export.h"

#include <openvdb/io/Archive.h>
#include <openvdb/tools/MeshToVolume.h>

#include <ios>
#include <ostream>
#include <vector>

#include "sim/surface/stock_grid_data.h"

namespace provecut::surface {

namespace {

// The library's class of files does not tell when the disk is full; a stream of ours does.
class VdbWriter : public openvdb::io::Archive {
 public:
  void writeTo(std::ostream& out, const openvdb::GridCPtrVec& grids) const {
    constexpr bool seekable = true;
    try {
      Archive::write(out, grids, seekable);
    } catch (const openvdb::IoError&) {
      out.setstate(std::ios::badbit);
    }
  }
};

}  // namespace

void writeVdb(const TriangleMesh& mesh, double cell_mm, const StockGrid& material, std::ostream& out) {
  std::vector<openvdb::Vec3s> points;
  points.reserve(mesh.points.size());
  for (const auto& p : mesh.points) points.emplace_back(p[0], p[1], p[2]);
  std::vector<openvdb::Vec3I> triangles;
  triangles.reserve(mesh.triangles.size());
  for (const auto& t : mesh.triangles) triangles.emplace_back(t[0], t[1], t[2]);
  openvdb::initialize();
  const auto transform = openvdb::math::Transform::createLinearTransform(cell_mm);
  openvdb::FloatGrid::Ptr grid = openvdb::tools::meshToLevelSet<openvdb::FloatGrid>(*transform, points, triangles);
  grid->setName("stock");
  const openvdb::MaskGrid::Ptr mask = openvdb::MaskGrid::create(material.grid().tree);
  const Vec3 v = material.grid().cell_mm;
  const auto voxels = openvdb::math::Transform::createLinearTransform();
  voxels->postScale(openvdb::Vec3d(v.x, v.y, v.z));
  voxels->postTranslate(openvdb::Vec3d(v.x / 2, v.y / 2, v.z / 2));  // a voxel's index names its middle
  mask->setTransform(voxels);
  mask->setName("material");
  VdbWriter().writeTo(out, {grid, mask});
}

}  // namespace provecut::surface
