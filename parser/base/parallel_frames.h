// From one frame to another whose axes run the same way: they differ by the place of the work zero alone.
#pragma once

#include "parser/base/geometry.h"

namespace provecut {

// `work_zero`: the work frame's origin in the other frame.
inline SetupPoint workToSetup(SetupPoint work_zero, WorkPoint p) {
  return {p.x + work_zero.x, p.y + work_zero.y, p.z + work_zero.z};
}
inline WorkPoint setupToWork(SetupPoint work_zero, SetupPoint p) {
  return {p.x - work_zero.x, p.y - work_zero.y, p.z - work_zero.z};
}
inline SetupPoint2 workToSetup(SetupPoint2 work_zero, WorkPoint2 p) {
  return {p.x + work_zero.x, p.y + work_zero.y};
}
inline WorkPoint2 setupToWork(SetupPoint2 work_zero, SetupPoint2 p) {
  return {p.x - work_zero.x, p.y - work_zero.y};
}
inline MachinePoint workToMachine(MachinePoint work_zero, WorkPoint p) {
  return {p.x + work_zero.x, p.y + work_zero.y, p.z + work_zero.z};
}
inline WorkPoint machineToWork(MachinePoint work_zero, MachinePoint p) {
  return {p.x - work_zero.x, p.y - work_zero.y, p.z - work_zero.z};
}

}  // namespace provecut
