// How facts become words: numbers with units, directions, names. One quantity has one rounding wherever it is shown.
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

// What a number measures. Values are in mm, mm², mm/min, rpm, s, mm, W, N; texts are in inches where the job file is.
enum class Quantity { length, area, feed, speed_rpm, time_s, fine_length, power_w, force_n };

// The unit that a value of this quantity has in JSON: "mm", "mm²", "mm/min", "rpm", "s", "W", "N".
std::string_view unitOf(Quantity quantity);

// A measured number with its unit: "3.4 mm", "0.134 in", "24 mm²", "1,200 mm/min", "18,000 rpm", "4.0 s", "660 W",
// "24.5 N"; fine lengths, such as chips, "0.127 mm", "0.0050 in". It takes more decimals than usual where it would
// read as 0 without being 0.
std::string quantityText(const Job& job, Quantity quantity, double value);

// A number that somebody wrote in a job file or program, with the decimals that it has: "19.05 mm", "35 mm".
std::string givenText(const Job& job, double mm);

// Rounded up (down) and without idle zeros, for advice that must hold when it is followed to the letter: "8 mm",
// "3.4 mm", "15 mm²".
std::string atLeastText(const Job& job, Quantity quantity, double value);
std::string atMostText(const Job& job, Quantity quantity, double value);

// A measured value with its unit, and its limit without: "takes 8.7 mm; the limit is 6.0". Both have the same decimals,
// as many as it takes to tell them apart and to show the limit as it was given.
struct Compared {
  std::string actual, limit;
  std::string_view unit;  // of the limit: " mm"
};
Compared comparedText(const Job& job, Quantity quantity, double actual, double limit);

// A height as the operator reads it: "Z 7.5", "Z -18.35", in the shown unit without naming it; zAtLeastText rounds up.
std::string zText(const Job& job, double z_mm);
std::string zAtLeastText(const Job& job, double z_mm);

// "44 × 44 × 19.05 mm", "1.73 × 1.73 × 0.75 in": the plan to a tenth, the thickness to a hundredth of a millimetre.
std::string sizeText(const Job& job, Vec3 size_mm);

// "to the left", "to the right", "to the front", "to the back".
std::string_view directionText(Vec2 direction);

std::string_view motionText(MotionKind kind);  // "rapid", "feed move", "arc"
// "cutter", "collet nut", or the name of a spindle attachment by its index.
std::string partText(const Job& job, ToolPart part, int attachment);
std::string toolText(const Job& job, int number);                                    // the tool's name, else "tool 3"
std::string listText(std::span<const std::string> items);                            // "a", "a and b", "a, b and c"
std::string plural(std::size_t count, std::string_view one, std::string_view many);  // "1 move", "3 moves"
std::string withArticle(std::string_view text);                                      // "a 44 mm part", "an 8 mm part"
std::string sentence(std::string clause);  // "move the clamp" becomes "Move the clamp."; "clamp N?" "Clamp N?"

}  // namespace provecut
