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
    nodes_.resize(field.nx * field.ny);
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
  int flatIndex(int x, int y) const { return y * field_.nx + x; }

  bool solidAt(int x, int y) const { return field_.thickness(field_.index(x, y)) > cutting::no_material_mm; }

  Node nodeOf(int x, int y) const {
    const cutting::Cell c = field_.index(x, y);
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

struct Area {  // squares [i0, i1) x [j0, j1), all of one height
  int i0, j0, i1, j1;
};

struct Corner {
  int i, j;
};

// One of the two faces: which points it has, and what of it is level. By node, or by square from its first node.
struct Sheet {
  std::vector<std::uint32_t> node;    // the point at a node
  std::vector<std::uint32_t> across;  // at the edge's crossing between node (i, j) and (i + 1, j)
  std::vector<std::uint32_t> along;   // between node (i, j) and (i, j + 1)
  std::vector<bool> kept;             // nodes that are a corner of something
  std::vector<bool> merged;           // squares that belong to an area
  std::vector<Area> areas;
};

// A surface in the making.
struct Building {
  NodeGrid grid;
  std::array<Sheet, 2> sheets;
  TriangleMesh mesh;
};

constexpr std::array<Face, 2> faces{Face::top, Face::floor};

Sheet& sheet(Building& b, Face face) {
  return b.sheets[face == Face::top ? 0 : 1];
}

int index(const Building& b, int i, int j) {
  return j * b.grid.nx() + i;
}

float height(const Node& n, Face face) {
  return face == Face::top ? n.top : n.floor;
}

Building newBuilding(const cutting::DexelField& field) {
  Building b{NodeGrid(field), {}, {}};
  const int nodes = b.grid.nx() * b.grid.ny();
  for (Sheet& s : b.sheets) {
    s.node.assign(nodes, none);
    s.across.assign(nodes, none);
    s.along.assign(nodes, none);
    s.kept.assign(nodes, false);
    s.merged.assign(nodes, false);
  }
  return b;
}

std::uint32_t addPoint(Building& b, double x, double y, float z) {
  b.mesh.points.push_back({static_cast<float>(x), static_cast<float>(y), z});
  return static_cast<std::uint32_t>(b.mesh.points.size() - 1);
}

std::uint32_t nodePoint(Building& b, Face face, int i, int j) {
  std::uint32_t& p = sheet(b, face).node[index(b, i, j)];
  if (p == none) p = addPoint(b, b.grid.x(i), b.grid.y(j), height(b.grid.at(i, j), face));
  return p;
}

// Where the edge of the material crosses from node to node; one of them is solid.
std::uint32_t crossing(Building& b, Face face, Corner from, Corner to) {
  if (to.i < from.i || to.j < from.j) std::swap(from, to);
  std::uint32_t& p = (to.i > from.i ? sheet(b, face).across : sheet(b, face).along)[index(b, from.i, from.j)];
  if (p != none) return p;
  const Node &first = b.grid.at(from.i, from.j), &second = b.grid.at(to.i, to.j);
  const Node& solid = first.solid ? first : second;
  // A straight wall: each cell tells the part of it that is left. Never so near a node that a triangle vanishes.
  const double way = std::clamp(double{first.share} + second.share - 0.5, 0.02, 0.98);
  const double t = first.solid ? way : 1 - way;
  const double x = b.grid.x(from.i), y = b.grid.y(from.j);
  p = addPoint(b, x + t * (b.grid.x(to.i) - x), y + t * (b.grid.y(to.j) - y), height(solid, face));
  return p;
}

bool isLevel(const Building& b, Face face, int i, int j, float z) {
  for (const Corner& c : {Corner{i, j}, Corner{i + 1, j}, Corner{i, j + 1}, Corner{i + 1, j + 1}}) {
    const Node& n = b.grid.at(c.i, c.j);
    if (!n.solid || height(n, face) != z) return false;
  }
  return true;
}

void findLevelAreas(Building& b, Face face) {
  Sheet& s = sheet(b, face);
  const int nx = b.grid.nx() - 1, ny = b.grid.ny() - 1;
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      const float z = height(b.grid.at(i, j), face);
      const auto free = [&](int u, int v) { return !s.merged[index(b, u, v)] && isLevel(b, face, u, v, z); };
      if (!free(i, j)) continue;
      Area area{i, j, i + 1, j + 1};
      while (area.i1 < nx && free(area.i1, j)) ++area.i1;
      for (bool whole = true; whole && area.j1 < ny;) {
        for (int u = i; u < area.i1 && whole; ++u) whole = free(u, area.j1);
        if (whole) ++area.j1;
      }
      for (int v = area.j0; v < area.j1; ++v) {
        for (int u = area.i0; u < area.i1; ++u) s.merged[index(b, u, v)] = true;
      }
      s.areas.push_back(area);
    }
  }
}

void keepCorners(Building& b, Face face) {
  Sheet& s = sheet(b, face);
  const auto keep = [&](int i, int j) { s.kept[index(b, i, j)] = true; };
  for (const Area& a : s.areas) {
    for (const int i : {a.i0, a.i1}) {
      for (const int j : {a.j0, a.j1}) keep(i, j);
    }
  }
  for (int j = 0; j + 1 < b.grid.ny(); ++j) {
    for (int i = 0; i + 1 < b.grid.nx(); ++i) {
      if (s.merged[index(b, i, j)]) continue;
      for (const int u : {i, i + 1}) {
        for (const int v : {j, j + 1}) keep(u, v);
      }
    }
  }
}

void addTriangle(TriangleMesh& mesh, Face face, std::uint32_t p, std::uint32_t q, std::uint32_t r) {
  if (face == Face::top) {
    mesh.triangles.push_back({p, q, r});
  } else {
    mesh.triangles.push_back({p, r, q});
  }
}

// A convex polygon, counter-clockwise from above.
void addPolygon(TriangleMesh& mesh, Face face, const std::vector<std::uint32_t>& points) {
  for (std::size_t k = 2; k < points.size(); ++k) addTriangle(mesh, face, points[0], points[k - 1], points[k]);
}

void addArea(Building& b, Face face, const Area& a) {
  const Sheet& s = sheet(b, face);
  std::vector<std::uint32_t> rim;
  const auto take = [&](int i, int j) {
    if (s.kept[index(b, i, j)]) rim.push_back(nodePoint(b, face, i, j));
  };
  for (int i = a.i0; i < a.i1; ++i) take(i, a.j0);
  for (int j = a.j0; j < a.j1; ++j) take(a.i1, j);
  for (int i = a.i1; i > a.i0; --i) take(i, a.j1);
  for (int j = a.j1; j > a.j0; --j) take(a.i0, j);
  if (rim.size() == 4) return addPolygon(b.mesh, face, rim);
  // Points stand in line on its sides: a fan about the middle gives every triangle an area.
  const std::uint32_t middle = addPoint(b, (b.grid.x(a.i0) + b.grid.x(a.i1)) / 2, (b.grid.y(a.j0) + b.grid.y(a.j1)) / 2,
                                        height(b.grid.at(a.i0, a.j0), face));
  for (std::size_t k = 0; k < rim.size(); ++k) addTriangle(b.mesh, face, middle, rim[k], rim[(k + 1) % rim.size()]);
}

// Between two nodes, one of them solid, on both faces.
struct WallEdge {
  std::uint32_t top, floor;
};

// A wall from p to q, the material on its left.
void addWall(TriangleMesh& mesh, WallEdge p, WallEdge q) {
  mesh.triangles.push_back({p.floor, q.floor, q.top});
  mesh.triangles.push_back({p.floor, q.top, p.top});
}

// A square between four nodes, counter-clockwise.
struct Square {
  std::array<Corner, 4> corner;
  std::array<bool, 4> solid;
  bool apart;  // two corners that only meet across the square stay apart

  int after(int k) const { return (k + 1) % 4; }
  int before(int k) const { return (k + 3) % 4; }
};

// Where the material crosses the square's edge from corner k on.
std::uint32_t edgePoint(Building& b, const Square& q, Face face, int k) {
  return crossing(b, face, q.corner[k], q.corner[q.after(k)]);
}

void addFace(Building& b, const Square& q, Face face) {
  std::vector<std::uint32_t> points;
  for (int k = 0; k < 4; ++k) {
    const auto own = [&] { return nodePoint(b, face, q.corner[k].i, q.corner[k].j); };
    if (q.apart) {
      if (!q.solid[k]) continue;
      const std::uint32_t node = own(), on = edgePoint(b, q, face, k), back = edgePoint(b, q, face, q.before(k));
      addPolygon(b.mesh, face, {node, on, back});
      continue;
    }
    if (q.solid[k]) points.push_back(own());
    if (q.solid[k] != q.solid[q.after(k)]) points.push_back(edgePoint(b, q, face, k));
  }
  addPolygon(b.mesh, face, points);
}

void addWalls(Building& b, const Square& q) {
  const auto edge = [&](int k) {
    const std::uint32_t top = edgePoint(b, q, Face::top, k);
    return WallEdge{top, edgePoint(b, q, Face::floor, k)};
  };
  for (int k = 0; k < 4; ++k) {
    if (!q.solid[k] || q.solid[q.after(k)]) continue;
    // The material ends on edge k; counter-clockwise it begins again on the next edge that leads into it.
    int next = q.after(k);
    while (!q.solid[q.after(next)]) next = q.after(next);
    addWall(b.mesh, edge(k), edge(q.apart ? q.before(k) : next));
  }
}

void addSquare(Building& b, int i, int j) {
  Square q{{{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}}, {}, false};
  int solids = 0;
  for (int k = 0; k < 4; ++k) solids += (q.solid[k] = b.grid.at(q.corner[k].i, q.corner[k].j).solid) ? 1 : 0;
  if (solids == 0) return;
  q.apart = solids == 2 && q.solid[0] == q.solid[2];
  for (const Face face : faces) {
    if (!sheet(b, face).merged[index(b, i, j)]) addFace(b, q, face);
  }
  addWalls(b, q);
}

struct ChainPoint {
  double way;
  std::uint32_t point;
};

struct Chains {
  std::vector<ChainPoint> top, floor;
};

void addStrip(TriangleMesh& mesh, Chains& chains) {
  const std::vector<ChainPoint>&top = chains.top, &floor = chains.floor;
  for (std::size_t t = 0, f = 0; t + 1 < top.size() || f + 1 < floor.size();) {
    const bool along_top = f + 1 >= floor.size() || (t + 1 < top.size() && top[t + 1].way <= floor[f + 1].way);
    if (along_top) {
      mesh.triangles.push_back({floor[f].point, top[t + 1].point, top[t].point});
      ++t;
    } else {
      mesh.triangles.push_back({floor[f].point, floor[f + 1].point, top[t].point});
      ++f;
    }
  }
  chains = {};
}

void addSide(Building& b, const std::vector<Corner>& way) {
  Chains chains;
  const auto put = [&](Face face, double at, std::uint32_t point) {
    (face == Face::top ? chains.top : chains.floor).push_back({at, point});
  };
  for (std::size_t k = 0; k < way.size(); ++k) {
    const Corner c = way[k];
    const auto at = static_cast<double>(k);
    const bool solid = b.grid.at(c.i, c.j).solid;
    for (const Face face : faces) {
      if (solid && sheet(b, face).kept[index(b, c.i, c.j)]) put(face, at, nodePoint(b, face, c.i, c.j));
    }
    const bool last = k + 1 == way.size();
    if (!last && solid != b.grid.at(way[k + 1].i, way[k + 1].j).solid) {
      for (const Face face : faces) put(face, at + 0.5, crossing(b, face, c, way[k + 1]));
      if (solid) addStrip(b.mesh, chains);
    } else if (last && solid) {
      addStrip(b.mesh, chains);
    }
  }
}

// Walls on the stock's own outline, from the points that the two faces keep there.
void addOutline(Building& b) {
  const int right = b.grid.nx() - 1, back = b.grid.ny() - 1;
  const auto side = [&](Corner from, Corner to) {
    std::vector<Corner> way;
    const int di = (to.i > from.i) - (to.i < from.i), dj = (to.j > from.j) - (to.j < from.j);
    for (Corner c = from;; c = {c.i + di, c.j + dj}) {
      way.push_back(c);
      if (c.i == to.i && c.j == to.j) break;
    }
    addSide(b, way);
  };
  side({0, 0}, {right, 0});
  side({right, 0}, {right, back});
  side({right, back}, {0, back});
  side({0, back}, {0, 0});
}

}  // namespace

TriangleMesh stockSurface(const cutting::DexelField& field) {
  Building b = newBuilding(field);
  for (const Face face : faces) {
    findLevelAreas(b, face);
    keepCorners(b, face);
  }
  for (const Face face : faces) {
    for (const Area& area : sheet(b, face).areas) addArea(b, face, area);
  }
  for (int j = 0; j + 1 < b.grid.ny(); ++j) {
    for (int i = 0; i + 1 < b.grid.nx(); ++i) addSquare(b, i, j);
  }
  addOutline(b);
  return std::move(b.mesh);
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
      const auto& p = mesh.points[t[k]];
      return std::array<double, 3>{p[0], p[1], p[2]};
    };
    const auto a = point(0), b = point(1), c = point(2);
    six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return six / 6;
}

}  // namespace provecut::surface
