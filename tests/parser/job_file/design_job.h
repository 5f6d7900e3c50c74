// A job file that uses every section, for tests that change a line of it.
#pragma once

#include <string>

namespace provecut {

inline const std::string& cribbageJob() {
  static const std::string text = R"(version = 1
name  = "Cribbage board"
units = "mm"

[machine]
profile = "bench-screw"
travel = [800, 800, 120]
max_rate = [5000, 5000, 3000]
acceleration = [500, 500, 270]
junction_deviation = 0.01
rapids = "straight"
blocks_per_second = 0
spindle_rpm = [8000, 24000]
spindle_start_s = 4
spindle_power_w = 1500
tool_change_s = 120
accepts = ["arcs", "canned-cycles", "tool-change", "cutter-compensation", "parameters", "subprograms"]

[stock]
size = [420, 130, 19.05]
grain = "x"
thickness_tolerance = 0.3
material = "hardwood"

[spoilboard]
thickness = 18
allowed_cut = 0.3

[[tool]]
number = 1
name = "6 mm flat"
shape = "flat"
diameter = 6
flutes = 2
flute_length = 22
shank_diameter = 6
stickout = 35
center_cutting = true
max_stepdown = 6
plunge_feed = 800
chip_load = [0.05, 0.15]

[[tool]]
number = 2
shape = "flat"
diameter = 6

[collet_nut]
diameter = 30
length = 20
spindle_diameter = 65

[[spindle_attachment]]
name = "dust shoe"
diameter = 100
bottom = -6
top = 40

[[hold_down]]
name = "screw SW"
kind = "screw"
at = [12, 12]
diameter = 9
top = 4.5

[[hold_down]]
name = "screw NE"
kind = "screw"
at = [408, 118]
diameter = 9
top = 4.5

[[hold_down]]
name = "pin W"
kind = "pin"
at = [12, 65]
diameter = 6
depth_in_stock = 10

[[hold_down]]
name = "clamp N"
kind = "clamp"
at = [210, 140]
size = [60, 20]
angle = 90
top = 12

[[setup]]
name = "front"
flip = "none"
rotate = 0
zero = ["left", "front", "top"]
hold_downs = ["screw SW", "screw NE"]

[[setup.program]]
file = "10-pocket.nc"
tool = 1

[[setup.program]]
file = "20-slot.nc"
hold_downs = ["screw SW"]
through = true

[[setup.program]]
file = "30-holes.nc"

[[setup]]
name = "back"
flip = "left-right"
zero = ["left", "front", "top"]
hold_downs = ["pin W", "clamp N"]
[[setup.program]]
file = "50-profile.nc"
tool = 2

[limits]
clearance = 3
min_floor = 1.5
min_tab_area = 15
cell = 0.25

[[accept]]
rule = "spoilboard-cut"
program = "50-profile.nc"
max_amount = 0.5
reason = "board is skimmed after this job"

[quote]
currency = "USD"
machine_rate = 45
labour_rate = 30
setup_minutes = 20
per_setup_minutes = 10
material_cost = 18
finishing_minutes = 40
margin = 0.25
quantity = [1, 10, 50]
)";
  return text;
}

}  // namespace provecut
