// Lines and arcs in the plane, and where two that meet at an inside corner cross. Knows nothing of programs.
#pragma once

#include <optional>

#include "parser/base/geometry.h"

namespace provecut::interpreter {

struct OffsetCurve {
  WorkPoint2 start, end;
  WorkPoint2 centre;  // of an arc
  int turn = 0;       // 0: line; 1: counter-clockwise arc; -1: clockwise
};

// The common point of both curves that lies nearest to `corner`; absent when they have none.
std::optional<WorkPoint2> meetingPoint(const OffsetCurve& before, const OffsetCurve& after, WorkPoint2 corner);

}  // namespace provecut::interpreter
