#include "sim/vdb_export.h"

#include <openvdb/openvdb.h>
#include <openvdb/tools/MeshToVolume.h>

#include <exception>
#include <vector>

namespace provecut {

std::string writeVdb(const TriangleMesh& mesh, double voxel_mm, const std::string& path) {
  std::vector<openvdb::Vec3s> points;
  points.reserve(mesh.points.size());
  for (const auto& p : mesh.points) points.emplace_back(p[0], p[1], p[2]);
  std::vector<openvdb::Vec3I> triangles;
  triangles.reserve(mesh.triangles.size());
  for (const auto& t : mesh.triangles) triangles.emplace_back(t[0], t[1], t[2]);
  try {
    openvdb::initialize();
    const auto transform = openvdb::math::Transform::createLinearTransform(voxel_mm);
    openvdb::FloatGrid::Ptr grid = openvdb::tools::meshToLevelSet<openvdb::FloatGrid>(*transform, points, triangles);
    grid->setName("blank");
    openvdb::io::File file(path);
    file.write({grid});
    file.close();
    return {};
  } catch (const std::exception& error) {
    return error.what();
  }
}

}  // namespace provecut
