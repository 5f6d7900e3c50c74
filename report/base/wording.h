// How rules put facts into words: numbers with units, directions, names.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// Fixed decimals, never "-0.0".
std::string fixedText(double value, int decimals);

// What a number is shown as: inches where the job file is written in inches.
enum class Quantity { length, area, feed, speed_rpm, time_s, fine_length, power_w, force_n };

// One number with its unit: "3.4 mm", "0.134 in", "24 mm2", "1200 mm/min", "18000 rpm", "4.0 s", "660 W",
// "24.5 N"; fine lengths, such as chips, as "0.127 mm", "0.0050 in". More decimals than usual where it would be shown
// as 0 without being 0. Values are in mm, mm2, mm/min, rpm, s, W, N.
std::string quantityText(const Job& job, Quantity quantity, double value);

// The same, rounded up (down), for advice that must hold when it is followed to the letter.
std::string atLeastText(const Job& job, Quantity quantity, double value);
std::string atMostText(const Job& job, Quantity quantity, double value);

// A value met and the value allowed with the same decimals, as many as it takes to tell them apart.
struct Compared {
  std::string met, allowed;
};
Compared comparedText(const Job& job, Quantity quantity, double met, double allowed);

// A height as the operator reads it: "Z 7.5", "Z -18.35", in the shown unit without naming it; zAtLeastText rounds up.
std::string zText(const Job& job, double z_mm);
std::string zAtLeastText(const Job& job, double z_mm);

// "96.0 x 45.0 x 18.0 mm"
std::string sizeText(const Job& job, Vec3 size_mm);

// "to the left", "to the right", "to the front", "to the back".
std::string_view directionText(Vec2 direction);

std::string_view motionText(MotionKind kind);  // "rapid", "feed move", "arc"
std::string partText(const Job& job, ToolPart part,
                     int attachment);                      // "cutter", "collet nut", a spindle attachment's name
std::string toolText(const Job& job, int number);          // the tool's name, else "tool 3"
std::string listText(std::span<const std::string> items);  // "a", "a and b", "a, b and c"
std::string plural(std::size_t count, std::string_view one, std::string_view many);  // "1 move", "3 moves"

}  // namespace provecut
