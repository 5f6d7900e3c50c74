// Compiles as it is, and must not with MIXED: see CMakeLists.txt.
#include "sim/path/setup_frame.h"

namespace provecut {

double apart(const Setup& setup, WorkPoint tip, SetupPoint screw) {
#ifdef MIXED
  return length(tip - screw);
#else
  return length(workToSetup(setup, tip) - screw);
#endif
}

}  // namespace provecut
