// The frames of a setup: work coordinates, the blank as it lies, the blank's own (stock) frame.
#pragma once

#include "parser/job.h"

namespace provecut {

// Footprint of the blank as it lies in this setup (x and y change places for 90 and 270 degrees), mm.
Vec3 lyingSize(const Stock& stock, const Setup& setup);

Vec3 workToLying(const Setup& setup, Vec3 p);
Vec3 lyingToWork(const Setup& setup, Vec3 p);
Vec3 lyingToStock(const Stock& stock, const Setup& setup, Vec3 p);
Vec3 stockToLying(const Stock& stock, const Setup& setup, Vec3 p);

}  // namespace provecut
