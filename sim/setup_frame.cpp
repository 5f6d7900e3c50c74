#include "sim/setup_frame.h"

#include <utility>

namespace provecut {

namespace {

// The turning over, its own inverse.
Vec3 turnOver(const Stock& stock, Turn turn, Vec3 p) {
  const Vec3 size = stock.size_mm;
  switch (turn) {
    case Turn::none: return p;
    case Turn::over_y: return {size.x - p.x, p.y, size.z - p.z};
    case Turn::over_x: return {p.x, size.y - p.y, size.z - p.z};
  }
  return p;
}

}  // namespace

Vec3 lyingSize(const Stock& stock, const Setup& setup) {
  Vec3 size = stock.size_mm;
  if (setup.rotate_deg == 90 || setup.rotate_deg == 270) std::swap(size.x, size.y);
  return size;
}

Vec3 workToLying(const Setup& setup, Vec3 p) { return p + setup.zero_mm; }
Vec3 lyingToWork(const Setup& setup, Vec3 p) { return p - setup.zero_mm; }

Vec3 stockToLying(const Stock& stock, const Setup& setup, Vec3 p) {
  const Vec3 t = turnOver(stock, setup.turn, p);
  const double w = stock.size_mm.x, d = stock.size_mm.y;
  switch (setup.rotate_deg) {
    case 90: return {d - t.y, t.x, t.z};
    case 180: return {w - t.x, d - t.y, t.z};
    case 270: return {t.y, w - t.x, t.z};
    default: return t;
  }
}

Vec3 lyingToStock(const Stock& stock, const Setup& setup, Vec3 p) {
  const double w = stock.size_mm.x, d = stock.size_mm.y;
  Vec3 t = p;
  switch (setup.rotate_deg) {
    case 90: t = {p.y, d - p.x, p.z}; break;
    case 180: t = {w - p.x, d - p.y, p.z}; break;
    case 270: t = {w - p.y, p.x, p.z}; break;
    default: break;
  }
  return turnOver(stock, setup.turn, t);
}

}  // namespace provecut
