// Programs for the clock's benchmarks.
#pragma once

#include <cmath>
#include <cstddef>

#include "parser/program/motion.h"

namespace provecut::bench {

// A 3D finishing program: raster lines over waves, moves of 0.5 mm.
inline Program finishingProgram(std::size_t moves) {
  Program p;
  p.motions.reserve(moves);
  Motion m;
  m.kind = MotionKind::feed;
  m.feed_mm_min = 3000;
  double x = 0, y = 0, step = 0.5;
  while (p.motions.size() < moves) {
    m.start = m.end;
    x += step;
    if (x > 300 || x < 0) {
      x -= step;
      step = -step;
      y += 0.3;
    }
    m.end = {x, y, 3 * std::sin(x / 9) * std::cos(y / 7) - 4};
    p.motions.push_back(m);
  }
  return p;
}

// Circles of 3 to 23 mm, each a quarter turn at a time, with a climb.
inline Program arcProgram(std::size_t moves) {
  Program p;
  Motion m;
  m.kind = MotionKind::arc_ccw;
  m.feed_mm_min = 3000;
  for (std::size_t i = 0; i < moves; ++i) {
    const double r = 3 + static_cast<double>(i % 21);
    m.start = {r, 0, 0};
    m.end = {0, r, -0.1};
    p.motions.push_back(m);
  }
  return p;
}

}  // namespace provecut::bench
