#include "parser/job/real_thickness.h"

namespace provecut {

void setRealThickness(Job& job, double thickness_mm) {
  const double more = thickness_mm - job.stock.size_mm.z;
  job.stock.size_mm.z = thickness_mm;
  job.stock.thickness_tolerance_mm = 0;
  for (Setup& setup : job.setups) {
    if (!setup.zero_z_on_top) continue;
    setup.zero_mm.z += more;
    // The zero is touched off again on the face as it is.
    if (setup.zero_in_machine_mm) setup.zero_in_machine_mm->z += more;
  }
}

}  // namespace provecut
