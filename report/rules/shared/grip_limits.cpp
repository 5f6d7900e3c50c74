#include "report/rules/shared/grip_limits.h"

#include <algorithm>

namespace provecut {

namespace {

constexpr double min_bite_mm = 10, bite_in_shafts = 3;

}  // namespace

std::string_view pinPlayText(const Job& job) {
  return job.inches ? "0.002 to 0.006 in" : "0.05 to 0.15 mm";
}

double minBite_mm(const Job& job, const HoldDown& screw) {
  const double bite_mm = std::max(min_bite_mm, bite_in_shafts * screw.shaft_diameter_mm);
  return job.spoilboard.thickness_mm > 0 ? std::min(bite_mm, job.spoilboard.thickness_mm) : bite_mm;
}

}  // namespace provecut
