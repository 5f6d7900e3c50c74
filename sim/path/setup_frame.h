// The frames of a setup: work coordinates, the setup frame, the stock's own (stock) frame.
#pragma once

#include "parser/job/job.h"

namespace provecut {

// Size of the stock in this setup (x and y change places for 90 and 270 degrees), mm.
Vec3 stockSizeInSetup(const Stock& stock, const Setup& setup);

Vec3 workToSetup(const Setup& setup, Vec3 p);
Vec3 setupToWork(const Setup& setup, Vec3 p);
Box3 setupToWork(const Setup& setup, const Box3& box);
Vec3 setupToStock(const Stock& stock, const Setup& setup, Vec3 p);
Vec3 stockToSetup(const Stock& stock, const Setup& setup, Vec3 p);

}  // namespace provecut
