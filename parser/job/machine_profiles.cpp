#include "parser/job/machine_profiles.h"

namespace provecut {

namespace {

// Belt-driven desktop: X and Y 5000-10000 mm/min and 200-500 mm/s², Z 500-3000 and 50-270; trim router, to
// speed within a second, 10000-30000 rpm; bit changed by hand in 60-180 s with a new Z zero. Common practice,
// no source.
Machine deskBelt() {
  Machine m;
  m.profile = "desk-belt";
  m.travel_mm = {400, 400, 80};
  m.max_rate_mm_min = {8000, 8000, 1500};
  m.acceleration_mm_s2 = {400, 400, 150};
  m.spindle_rpm_min = 10000;
  m.spindle_rpm_max = 30000;
  m.spindle_start_s = 1;
  m.spindle_power_w = 700;
  return m;
}

// Bench machine on screws: 4000-12000 mm/min and 300-1000 mm/s², slower in Z; 1.5-2.2 kW spindle to speed in
// 4-6 s. Common practice, no source.
Machine benchScrew() {
  Machine m;  // the defaults of Machine are this machine
  m.profile = "bench-screw";
  return m;
}

// Shop machine on racks: 12000-25000 mm/min and 500-1500 mm/s², Z 5000-10000 and 300-800; bits changed by the
// machine in 8-15 s. Common practice, no source.
Machine shopRack() {
  Machine m;
  m.profile = "shop-rack";
  m.travel_mm = {1300, 2500, 200};
  m.max_rate_mm_min = {18000, 18000, 8000};
  m.acceleration_mm_s2 = {1000, 1000, 500};
  m.spindle_rpm_min = 6000;
  m.spindle_start_s = 6;
  m.spindle_power_w = 4000;
  m.tool_change_s = 12;
  return m;
}

}  // namespace

const std::vector<Machine>& machineProfiles() {
  static const std::vector<Machine> profiles{deskBelt(), benchScrew(), shopRack()};
  return profiles;
}

}  // namespace provecut
