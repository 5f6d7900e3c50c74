#include "sim/path/setup_frame.h"

#include <utility>

namespace provecut {

namespace {

// The turning over, its own inverse.
Vec3 turnOver(const Stock& stock, Flip flip, Vec3 p) {
  const Vec3 size = stock.size_mm;
  switch (flip) {
    case Flip::none:
      return p;
    case Flip::left_right:
      return {size.x - p.x, p.y, size.z - p.z};
    case Flip::front_back:
      return {p.x, size.y - p.y, size.z - p.z};
  }
  return p;
}

}  // namespace

Vec3 stockSizeInSetup(const Stock& stock, const Setup& setup) {
  Vec3 size = stock.size_mm;
  if (setup.rotate_deg == 90 || setup.rotate_deg == 270) std::swap(size.x, size.y);
  return size;
}

Vec3 workToSetup(const Setup& setup, Vec3 p) {
  return p + setup.zero_mm;
}
Vec3 setupToWork(const Setup& setup, Vec3 p) {
  return p - setup.zero_mm;
}
Box3 setupToWork(const Setup& setup, const Box3& box) {
  Box3 b;
  if (box.empty) return b;
  b.add(setupToWork(setup, box.low));
  b.add(setupToWork(setup, box.high));
  return b;
}

Vec3 stockToSetup(const Stock& stock, const Setup& setup, Vec3 p) {
  const Vec3 t = turnOver(stock, setup.flip, p);
  const double w = stock.size_mm.x, d = stock.size_mm.y;
  switch (setup.rotate_deg) {
    case 90:
      return {d - t.y, t.x, t.z};
    case 180:
      return {w - t.x, d - t.y, t.z};
    case 270:
      return {t.y, w - t.x, t.z};
    default:
      return t;
  }
}

Vec3 setupToStock(const Stock& stock, const Setup& setup, Vec3 p) {
  const double w = stock.size_mm.x, d = stock.size_mm.y;
  Vec3 t = p;
  switch (setup.rotate_deg) {
    case 90:
      t = {p.y, d - p.x, p.z};
      break;
    case 180:
      t = {w - p.x, d - p.y, p.z};
      break;
    case 270:
      t = {w - p.y, p.x, p.z};
      break;
    default:
      break;
  }
  return turnOver(stock, setup.flip, t);
}

}  // namespace provecut
