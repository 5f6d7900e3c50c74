#include "sim/path/setup_frame.h"

#include <utility>

namespace provecut {

namespace {

// The turning over, its own inverse.
StockPoint turnOver(const Stock& stock, Flip flip, StockPoint p) {
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

SetupPoint workToSetup(const Setup& setup, WorkPoint p) {
  return workToSetup(setup.zero_mm, p);
}
WorkPoint setupToWork(const Setup& setup, SetupPoint p) {
  return setupToWork(setup.zero_mm, p);
}

WorkBox setupToWork(const Setup& setup, const SetupBox& box) {
  if (box.empty) return {};
  return {setupToWork(setup, box.low), setupToWork(setup, box.high), false};
}
SetupBox workToSetup(const Setup& setup, const WorkBox& box) {
  if (box.empty) return {};
  return {workToSetup(setup, box.low), workToSetup(setup, box.high), false};
}

SetupPoint2 workToSetup(const Setup& setup, WorkPoint2 p) {
  return workToSetup(flat(setup.zero_mm), p);
}
WorkPoint2 setupToWork(const Setup& setup, SetupPoint2 p) {
  return setupToWork(flat(setup.zero_mm), p);
}

SetupPoint stockToSetup(const Stock& stock, const Setup& setup, StockPoint p) {
  const StockPoint t = turnOver(stock, setup.flip, p);
  const double w = stock.size_mm.x, d = stock.size_mm.y;
  switch (setup.rotate_deg) {
    case 90:
      return {d - t.y, t.x, t.z};
    case 180:
      return {w - t.x, d - t.y, t.z};
    case 270:
      return {t.y, w - t.x, t.z};
    default:
      return {t.x, t.y, t.z};
  }
}

StockPoint setupToStock(const Stock& stock, const Setup& setup, SetupPoint p) {
  const double w = stock.size_mm.x, d = stock.size_mm.y;
  StockPoint t{p.x, p.y, p.z};
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

StockPoint2 setupToStock(const Stock& stock, const Setup& setup, SetupPoint2 p) {
  return flat(setupToStock(stock, setup, atHeight(p, 0)));
}
SetupPoint2 stockToSetup(const Stock& stock, const Setup& setup, StockPoint2 p) {
  return flat(stockToSetup(stock, setup, atHeight(p, 0)));
}

SetupPoint setupToSetup(const Stock& stock, const Setup& from, const Setup& to, SetupPoint p) {
  return stockToSetup(stock, to, setupToStock(stock, from, p));
}
SetupPoint2 setupToSetup(const Stock& stock, const Setup& from, const Setup& to, SetupPoint2 p) {
  return stockToSetup(stock, to, setupToStock(stock, from, p));
}

SetupDirection2 stockToSetup(const Stock& stock, const Setup& setup, StockDirection2 d) {
  return direction(stockToSetup(stock, setup, StockPoint2{0, 0}), stockToSetup(stock, setup, StockPoint2{d.x, d.y}));
}

}  // namespace provecut
