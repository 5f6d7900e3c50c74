// How facts become words: numbers with units, directions, names. One quantity has one rounding wherever it is shown.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// What a number measures. Values are in mm, mm², mm/min, rpm, s, mm, W, N; texts are in inches where the job file is.
enum class Quantity { length, area, feed, speed_rpm, time_s, fine_length, power_w, force_n };

// The unit that a value of this quantity has in JSON: "mm", "mm²", "mm/min", "rpm", "s", "W", "N".
std::string_view unitOf(Quantity quantity);

// The unit that texts show it in: "in" for "mm" where the job is in inches.
std::string_view shownUnit(const Job& job, Quantity quantity);

// A measured number with its unit and without idle zeros: "2.95 mm", "0.134 in", "24 mm²", "1,200 mm/min", "18,000
// rpm", "4 s", "660 W", "24.5 N"; fine lengths, such as chips, "0.127 mm", "0.005 in". It takes more decimals than
// usual where it would read as 0 without being 0.
std::string quantityText(const Job& job, Quantity quantity, double value);

// A length of which nobody needs the fractions, rounded up to a millimetre or a tenth of an inch: "355 mm", "14 in".
std::string longLengthText(const Job& job, double mm);

// Its number alone, with as many decimals as asked for: "3.40", "1,200".
std::string shownNumber(const Job& job, Quantity quantity, double value, int decimals);

// Rounded up (down), for advice that must hold when it is followed to the letter: "8 mm", "3.4 mm", "15 mm²",
// "95 in/min".
std::string atLeastText(const Job& job, Quantity quantity, double value);
std::string atMostText(const Job& job, Quantity quantity, double value);

// A measured value and its limit, each with its unit: "8.7 mm deep (maximum 6 mm)". Both are rounded to the same
// decimals, as many as it takes to tell them apart and to show the limit as it was given.
struct Compared {
  std::string actual, limit;
};
Compared comparedText(const Job& job, Quantity quantity, double actual, double limit);

// A height as the operator reads it: "Z 7.5 mm", "Z -0.7225 in"; zAtLeastText rounds up.
std::string zText(const Job& job, double z_mm);
std::string zAtLeastText(const Job& job, double z_mm);

// A part as it was measured: "44 × 44 × 19.05 mm", "1.73 × 1.73 × 0.75 in"; the plan to a tenth of a millimetre or a
// hundredth of an inch, the thickness as the stock's own (dimensionText).
std::string sizeText(const Job& job, Vec3 size_mm);
std::string sizeText(const Job& job, Vec2 size_mm);

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
