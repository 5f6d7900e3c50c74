#include "sim/surface/stock_surface.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace provecut::surface {

namespace {

constexpr std::uint32_t none = 0xFFFFFFFF;
constexpr float least_thickness_mm = 1e-3F;

// A cell's dexel as the surface needs it, hollows filled.
struct Node {
  bool solid = false;
  float top = 0, floor = 0;
  float share = 0;  // of the cell that holds material: 0.5 and more where its centre does
};

// The dexels' centres as nodes of a mesh, with a rim of nodes on the stock's outline.
class NodeGrid {
 public:
  explicit NodeGrid(const cutting::DexelField& field) : field_(field), nx_(field.nx + 2), ny_(field.ny + 2) {
    nodes_.resize(static_cast<std::size_t>(field.nx) * static_cast<std::size_t>(field.ny));
    for (int y = 0; y < field.ny; ++y) {
      for (int x = 0; x < field.nx; ++x) nodes_[flatIndex(x, y)] = nodeOf(x, y);
    }
  }

  int nx() const { return nx_; }
  int ny() const { return ny_; }
  const Node& at(int i, int j) const {
    return nodes_[flatIndex(std::clamp(i - 1, 0, field_.nx - 1), std::clamp(j - 1, 0, field_.ny - 1))];
  }
  double x(int i) const { return i == 0 ? 0 : i == nx_ - 1 ? field_.nx * field_.cell_x_mm : field_.centreX(i - 1); }
  double y(int j) const { return j == 0 ? 0 : j == ny_ - 1 ? field_.ny * field_.cell_y_mm : field_.centreY(j - 1); }

 private:
  std::size_t flatIndex(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(field_.nx) + static_cast<std::size_t>(x);
  }

  bool solidAt(int x, int y) const { return field_.thickness(field_.index(x, y)) > cutting::no_material_mm; }

  Node nodeOf(int x, int y) const {
    const std::size_t c = field_.index(x, y);
    Node n;
    n.solid = solidAt(x, y);
    bool at_edge = false;
    float thickest_beside = 0;
    for (int v = std::max(y - 1, 0); v <= std::min(y + 1, field_.ny - 1); ++v) {
      for (int u = std::max(x - 1, 0); u <= std::min(x + 1, field_.nx - 1); ++u) {
        if (!solidAt(u, v)) at_edge = true;
        thickest_beside = std::max(thickest_beside, field_.thickness(field_.index(u, v)));
      }
    }
    const float mean = std::max(0.0F, field_.top_mean[c] - field_.floor_mean[c]);
    if (!n.solid) {
      n.share = thickest_beside > 0 ? std::clamp(mean / thickest_beside, 0.0F, 0.5F) : 0;
      return n;
    }
    // At an edge the mean of the cell holds what is cut away beyond the edge: the centre tells the height there.
    // An undercut cell's means leave its hollow out: the surface goes round the outside.
    const bool undercut = field_.undercut.holds(c);
    const bool use_mean = !at_edge && !undercut && mean > least_thickness_mm;
    n.top = use_mean ? field_.top_mean[c] : field_.top[c];
    n.floor = use_mean ? field_.floor_mean[c] : field_.floor[c];
    n.share = at_edge && !undercut ? std::clamp(mean / field_.thickness(c), 0.5F, 1.0F) : 1;
    return n;
  }

  const cutting::DexelField& field_;
  int nx_, ny_;
  std::vector<Node> nodes_;
};

enum class Face { top, floor };

class Builder {
 public:
  explicit Builder(const cutting::DexelField& field)
      : grid_(field), count_(static_cast<std::size_t>(grid_.nx()) * static_cast<std::size_t>(grid_.ny())) {
    for (Sheet& s : sheets_) {
      s.node.assign(count_, none);
      s.across.assign(count_, none);
      s.along.assign(count_, none);
      s.kept.assign(count_, false);
    }
  }

  TriangleMesh build() {
    for (const Face face : {Face::top, Face::floor}) {
      findLevelAreas(face);
      keepCorners(face);
    }
    for (const Face face : {Face::top, Face::floor}) {
      for (const Area& area : sheet(face).areas) addArea(face, area);
    }
    for (int j = 0; j + 1 < grid_.ny(); ++j) {
      for (int i = 0; i + 1 < grid_.nx(); ++i) addSquare(i, j);
    }
    addOutline();
    return std::move(mesh_);
  }

 private:
  struct Area {  // squares [i0, i1) x [j0, j1), all of one height
    int i0, j0, i1, j1;
  };

  // One of the two faces: which points it has, and what of it is level.
  struct Sheet {
    std::vector<std::uint32_t> node;    // the point at a node
    std::vector<std::uint32_t> across;  // at the edge's crossing between node (i, j) and (i + 1, j)
    std::vector<std::uint32_t> along;   // between node (i, j) and (i, j + 1)
    std::vector<bool> kept;             // nodes that are a corner of something
    std::vector<bool> merged;           // squares that belong to an area
    std::vector<Area> areas;
  };

  Sheet& sheet(Face face) { return sheets_[face == Face::top ? 0 : 1]; }
  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(grid_.nx()) + static_cast<std::size_t>(i);
  }
  static float height(const Node& n, Face face) { return face == Face::top ? n.top : n.floor; }

  std::uint32_t add(double x, double y, float z) {
    mesh_.points.push_back({static_cast<float>(x), static_cast<float>(y), z});
    return static_cast<std::uint32_t>(mesh_.points.size() - 1);
  }

  std::uint32_t nodePoint(Face face, int i, int j) {
    std::uint32_t& p = sheet(face).node[index(i, j)];
    if (p == none) p = add(grid_.x(i), grid_.y(j), height(grid_.at(i, j), face));
    return p;
  }

  // Where the edge of the material crosses from node to node; one of them is solid.
  std::uint32_t crossing(Face face, int i, int j, int i2, int j2) {
    if (i2 < i || j2 < j) return crossing(face, i2, j2, i, j);
    std::uint32_t& p = (i2 > i ? sheet(face).across : sheet(face).along)[index(i, j)];
    if (p != none) return p;
    const Node &a = grid_.at(i, j), &b = grid_.at(i2, j2);
    const Node& solid = a.solid ? a : b;
    // A straight wall: each cell tells the part of it that is left. Never so near a node that a triangle vanishes.
    const double way = std::clamp(static_cast<double>(a.share) + static_cast<double>(b.share) - 0.5, 0.02, 0.98);
    const double t = a.solid ? way : 1 - way;
    p = add(grid_.x(i) + t * (grid_.x(i2) - grid_.x(i)), grid_.y(j) + t * (grid_.y(j2) - grid_.y(j)),
            height(solid, face));
    return p;
  }

  bool isLevel(Face face, int i, int j, float z) const {
    for (const auto& [u, v] : {std::pair{i, j}, std::pair{i + 1, j}, std::pair{i, j + 1}, std::pair{i + 1, j + 1}}) {
      const Node& n = grid_.at(u, v);
      if (!n.solid || height(n, face) != z) return false;
    }
    return true;
  }

  void findLevelAreas(Face face) {
    Sheet& s = sheet(face);
    s.merged.assign(count_, false);
    const int nx = grid_.nx() - 1, ny = grid_.ny() - 1;
    for (int j = 0; j < ny; ++j) {
      for (int i = 0; i < nx; ++i) {
        const float z = height(grid_.at(i, j), face);
        const auto free = [&](int u, int v) { return !s.merged[index(u, v)] && isLevel(face, u, v, z); };
        if (!free(i, j)) continue;
        Area area{i, j, i + 1, j + 1};
        while (area.i1 < nx && free(area.i1, j)) ++area.i1;
        for (bool whole = true; whole && area.j1 < ny;) {
          for (int u = i; u < area.i1 && whole; ++u) whole = free(u, area.j1);
          if (whole) ++area.j1;
        }
        for (int v = area.j0; v < area.j1; ++v) {
          for (int u = area.i0; u < area.i1; ++u) s.merged[index(u, v)] = true;
        }
        s.areas.push_back(area);
      }
    }
  }

  void keepCorners(Face face) {
    Sheet& s = sheet(face);
    const auto keep = [&](int i, int j) { s.kept[index(i, j)] = true; };
    for (const Area& a : s.areas) {
      for (const int i : {a.i0, a.i1}) {
        for (const int j : {a.j0, a.j1}) keep(i, j);
      }
    }
    for (int j = 0; j + 1 < grid_.ny(); ++j) {
      for (int i = 0; i + 1 < grid_.nx(); ++i) {
        if (s.merged[index(i, j)]) continue;
        for (const int u : {i, i + 1}) {
          for (const int v : {j, j + 1}) keep(u, v);
        }
      }
    }
  }

  void addTriangle(Face face, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    if (face == Face::top) {
      mesh_.triangles.push_back({a, b, c});
    } else {
      mesh_.triangles.push_back({a, c, b});
    }
  }

  // A convex polygon, counter-clockwise from above.
  void addPolygon(Face face, const std::vector<std::uint32_t>& points) {
    for (std::size_t k = 2; k < points.size(); ++k) addTriangle(face, points[0], points[k - 1], points[k]);
  }

  void addArea(Face face, const Area& a) {
    Sheet& s = sheet(face);
    std::vector<std::uint32_t> rim;
    const auto take = [&](int i, int j) {
      if (s.kept[index(i, j)]) rim.push_back(nodePoint(face, i, j));
    };
    for (int i = a.i0; i < a.i1; ++i) take(i, a.j0);
    for (int j = a.j0; j < a.j1; ++j) take(a.i1, j);
    for (int i = a.i1; i > a.i0; --i) take(i, a.j1);
    for (int j = a.j1; j > a.j0; --j) take(a.i0, j);
    if (rim.size() == 4) return addPolygon(face, rim);
    // Points stand in line on its sides: a fan about the middle gives every triangle an area.
    const std::uint32_t middle = add((grid_.x(a.i0) + grid_.x(a.i1)) / 2, (grid_.y(a.j0) + grid_.y(a.j1)) / 2,
                                     height(grid_.at(a.i0, a.j0), face));
    for (std::size_t k = 0; k < rim.size(); ++k) addTriangle(face, middle, rim[k], rim[(k + 1) % rim.size()]);
  }

  // A wall from p to q, the material on its left.
  void addWall(std::uint32_t top_p, std::uint32_t floor_p, std::uint32_t top_q, std::uint32_t floor_q) {
    mesh_.triangles.push_back({floor_p, floor_q, top_q});
    mesh_.triangles.push_back({floor_p, top_q, top_p});
  }

  struct Corner {
    int i, j;
  };

  void addSquare(int i, int j) {
    const Corner corner[4] = {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}};
    bool solid[4];
    int solids = 0;
    for (int k = 0; k < 4; ++k) solids += (solid[k] = grid_.at(corner[k].i, corner[k].j).solid) ? 1 : 0;
    if (solids == 0) return;
    const auto edge = [&](Face face, int k) {
      const Corner &a = corner[k], &b = corner[(k + 1) % 4];
      return crossing(face, a.i, a.j, b.i, b.j);
    };
    const auto wall = [&](int from, int to) {
      addWall(edge(Face::top, from), edge(Face::floor, from), edge(Face::top, to), edge(Face::floor, to));
    };
    // Two corners that only meet across the square stay apart.
    const bool apart = solids == 2 && solid[0] == solid[2];
    for (const Face face : {Face::top, Face::floor}) {
      if (sheet(face).merged[index(i, j)]) continue;
      std::vector<std::uint32_t> points;
      for (int k = 0; k < 4; ++k) {
        if (apart) {
          if (solid[k])
            addPolygon(face, {nodePoint(face, corner[k].i, corner[k].j), edge(face, k), edge(face, (k + 3) % 4)});
          continue;
        }
        if (solid[k]) points.push_back(nodePoint(face, corner[k].i, corner[k].j));
        if (solid[k] != solid[(k + 1) % 4]) points.push_back(edge(face, k));
      }
      addPolygon(face, points);
    }
    for (int k = 0; k < 4; ++k) {
      if (!solid[k] || solid[(k + 1) % 4]) continue;
      // The material ends on edge k; counter-clockwise it begins again on the next edge that leads into it.
      int next = (k + 1) % 4;
      while (!solid[(next + 1) % 4]) next = (next + 1) % 4;
      wall(k, apart ? (k + 3) % 4 : next);
    }
  }

  // Walls on the stock's own outline, from the points that the two faces keep there.
  void addOutline() {
    const int right = grid_.nx() - 1, back = grid_.ny() - 1;
    std::vector<Corner> way;
    const auto side = [&](Corner from, Corner to) {
      way.clear();
      const int di = (to.i > from.i) - (to.i < from.i), dj = (to.j > from.j) - (to.j < from.j);
      for (Corner c = from;; c = {c.i + di, c.j + dj}) {
        way.push_back(c);
        if (c.i == to.i && c.j == to.j) break;
      }
      addSide(way);
    };
    side({0, 0}, {right, 0});
    side({right, 0}, {right, back});
    side({right, back}, {0, back});
    side({0, back}, {0, 0});
  }

  struct ChainPoint {
    double way;
    std::uint32_t point;
  };

  void addSide(const std::vector<Corner>& way) {
    std::array<std::vector<ChainPoint>, 2> chains;
    const auto put = [&](Face face, double at, std::uint32_t point) {
      chains[face == Face::top ? 0 : 1].push_back({at, point});
    };
    for (std::size_t k = 0; k < way.size(); ++k) {
      const Corner c = way[k];
      const auto at = static_cast<double>(k);
      const bool solid = grid_.at(c.i, c.j).solid;
      for (const Face face : {Face::top, Face::floor}) {
        if (solid && sheet(face).kept[index(c.i, c.j)]) put(face, at, nodePoint(face, c.i, c.j));
      }
      const bool last = k + 1 == way.size();
      if (!last && solid != grid_.at(way[k + 1].i, way[k + 1].j).solid) {
        for (const Face face : {Face::top, Face::floor})
          put(face, at + 0.5, crossing(face, c.i, c.j, way[k + 1].i, way[k + 1].j));
        if (solid) addStrip(chains);
      } else if (last && solid) {
        addStrip(chains);
      }
    }
  }

  void addStrip(std::array<std::vector<ChainPoint>, 2>& chains) {
    const std::vector<ChainPoint>&top = chains[0], &floor = chains[1];
    for (std::size_t t = 0, f = 0; t + 1 < top.size() || f + 1 < floor.size();) {
      const bool along_top = f + 1 >= floor.size() || (t + 1 < top.size() && top[t + 1].way <= floor[f + 1].way);
      if (along_top) {
        mesh_.triangles.push_back({floor[f].point, top[t + 1].point, top[t].point});
        ++t;
      } else {
        mesh_.triangles.push_back({floor[f].point, floor[f + 1].point, top[t].point});
        ++f;
      }
    }
    for (auto& chain : chains) chain.clear();
  }

  NodeGrid grid_;
  std::size_t count_;
  std::array<Sheet, 2> sheets_;
  TriangleMesh mesh_;
};

}  // namespace

TriangleMesh stockSurface(const cutting::DexelField& field) {
  return Builder(field).build();
}

bool hasHollows(const cutting::DexelField& field) {
  for (const auto& row : field.undercut.rows) {
    for (const cutting::UndercutCell& cell : row) {
      if (cell.atCentre().size() > 1) return true;
    }
  }
  return false;
}

double volume_mm3(const TriangleMesh& mesh) {
  double six = 0;
  for (const auto& t : mesh.triangles) {
    const auto point = [&](int k) {
      const auto& p = mesh.points[t[static_cast<std::size_t>(k)]];
      return std::array<double, 3>{p[0], p[1], p[2]};
    };
    const auto a = point(0), b = point(1), c = point(2);
    six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return six / 6;
}

}  // namespace provecut::surface
