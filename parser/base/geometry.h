// Points, vectors and boxes in millimetres. A point or a box says in its type which frame it stands in; sizes, shifts
// and ways between points are plain vectors. Knows nothing of machines or programs.
//
//   point - point = vector      point + vector = point      point + point does not compile
//
// Nor does a sum or a difference of points of two frames: the frames are told apart in sim/path/setup_frame.h, and only
// its conversions lead from one to another.
#pragma once

#include <algorithm>
#include <cmath>

namespace provecut {

// A vector without a frame: a size, a shift, the way from one point to another, a unit direction. Its axes are those of
// the points that it came from.
struct Vec2 {
  double x = 0, y = 0;
  friend bool operator==(const Vec2&, const Vec2&) = default;
};

struct Vec3 {
  double x = 0, y = 0, z = 0;
  friend bool operator==(const Vec3&, const Vec3&) = default;
};

inline Vec2 operator+(Vec2 a, Vec2 b) {
  return {a.x + b.x, a.y + b.y};
}
inline Vec2 operator-(Vec2 a, Vec2 b) {
  return {a.x - b.x, a.y - b.y};
}
inline Vec2 operator*(Vec2 a, double k) {
  return {a.x * k, a.y * k};
}
inline double dot(Vec2 a, Vec2 b) {
  return a.x * b.x + a.y * b.y;
}
// Positive where b points to the left of a.
inline double cross(Vec2 a, Vec2 b) {
  return a.x * b.y - a.y * b.x;
}
inline double length(Vec2 a) {
  return std::hypot(a.x, a.y);
}

inline Vec3 operator+(Vec3 a, Vec3 b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
inline Vec3 operator-(Vec3 a, Vec3 b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
inline Vec3 operator*(Vec3 a, double k) {
  return {a.x * k, a.y * k, a.z * k};
}
inline double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
inline double length(Vec3 a) {
  return std::sqrt(dot(a, a));
}
// As seen from above.
inline Vec2 flat(Vec3 a) {
  return {a.x, a.y};
}

// The four frames; sim/path/setup_frame.h says where each has its zero and its axes.
struct WorkFrame;
struct SetupFrame;
struct StockFrame;
struct MachineFrame;

// A place in plan, or in the two axes of an arc's plane where that is said.
template <class Frame>
struct Point2 {
  double x = 0, y = 0;
  friend bool operator==(const Point2&, const Point2&) = default;
};

template <class Frame>
struct Point3 {
  double x = 0, y = 0, z = 0;
  friend bool operator==(const Point3&, const Point3&) = default;
};

template <class Frame>
Point2<Frame> operator+(Point2<Frame> p, Vec2 way) {
  return {p.x + way.x, p.y + way.y};
}
template <class Frame>
Point2<Frame> operator-(Point2<Frame> p, Vec2 way) {
  return {p.x - way.x, p.y - way.y};
}
template <class Frame>
Vec2 operator-(Point2<Frame> to, Point2<Frame> from) {
  return {to.x - from.x, to.y - from.y};
}

template <class Frame>
Point3<Frame> operator+(Point3<Frame> p, Vec3 way) {
  return {p.x + way.x, p.y + way.y, p.z + way.z};
}
template <class Frame>
Point3<Frame> operator-(Point3<Frame> p, Vec3 way) {
  return {p.x - way.x, p.y - way.y, p.z - way.z};
}
template <class Frame>
Vec3 operator-(Point3<Frame> to, Point3<Frame> from) {
  return {to.x - from.x, to.y - from.y, to.z - from.z};
}

template <class Frame>
Point2<Frame> flat(Point3<Frame> p) {
  return {p.x, p.y};
}
// The place in plan at a height: what flat() undoes.
template <class Frame>
Point3<Frame> atHeight(Point2<Frame> p, double z) {
  return {p.x, p.y, z};
}

template <class Frame>
Point2<Frame> middle(Point2<Frame> a, Point2<Frame> b) {
  return {(a.x + b.x) * 0.5, (a.y + b.y) * 0.5};
}
template <class Frame>
Point3<Frame> middle(Point3<Frame> a, Point3<Frame> b) {
  return {(a.x + b.x) * 0.5, (a.y + b.y) * 0.5, (a.z + b.z) * 0.5};
}

// A direction in plan, or a shift in one, that is handed on with the axes of its frame.
template <class Frame>
struct Direction2 {
  double x = 0, y = 0;
  Vec2 vec() const { return {x, y}; }
  friend bool operator==(const Direction2&, const Direction2&) = default;
};

template <class Frame>
Direction2<Frame> operator*(Direction2<Frame> d, double k) {
  return {d.x * k, d.y * k};
}
template <class Frame>
double length(Direction2<Frame> d) {
  return length(d.vec());
}
template <class Frame>
Direction2<Frame> direction(Point2<Frame> from, Point2<Frame> to) {
  return {to.x - from.x, to.y - from.y};
}

// The smallest box around the points added.
template <class Frame>
struct Box3 {
  Point3<Frame> low, high;
  bool empty = true;
  void add(Point3<Frame> p) {
    if (empty) {
      low = high = p;
      empty = false;
      return;
    }
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  void add(const Box3& b) {
    if (b.empty) return;
    add(b.low);
    add(b.high);
  }
};

using WorkPoint = Point3<WorkFrame>;
using WorkPoint2 = Point2<WorkFrame>;
using WorkDirection2 = Direction2<WorkFrame>;
using WorkBox = Box3<WorkFrame>;
using SetupPoint = Point3<SetupFrame>;
using SetupPoint2 = Point2<SetupFrame>;
using SetupDirection2 = Direction2<SetupFrame>;
using SetupBox = Box3<SetupFrame>;
using StockPoint = Point3<StockFrame>;
using StockPoint2 = Point2<StockFrame>;
using StockDirection2 = Direction2<StockFrame>;
using MachinePoint = Point3<MachineFrame>;

}  // namespace provecut
