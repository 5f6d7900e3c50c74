// True if a surface encloses something.
#pragma once

#include <gtest/gtest.h>

#include <cstdint>
#include <map>
#include <utility>

#include "sim/surface/stock_surface.h"

namespace provecut::testing {

// Each edge between exactly two triangles that agree which side is outside: every directed edge once, and its opposite
// once.
inline void expectClosed(const surface::TriangleMesh& mesh) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
  for (const auto& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) ++edges[{t[k], t[(k + 1) % 3]}];
  }
  for (const auto& [edge, times] : edges) {
    ASSERT_EQ(times, 1) << edge.first << " " << edge.second;
    ASSERT_EQ(edges.count({edge.second, edge.first}), 1u) << edge.first << " " << edge.second;
  }
}

}  // namespace provecut::testing
