// Numbers as a person reads them. Knows nothing of jobs and units.
#pragma once

#include <string>

namespace provecut {

// Fixed decimals, never "-0.0".
std::string fixedText(double value, int decimals);

// At most `max_decimals`, at least `min_decimals`: "19.05", "12", never "-0"; "?" for what is no number.
std::string shortNumber(double value, int max_decimals = 2, int min_decimals = 0);

// "18,000", "-1,234.5": feeds, speeds and large counts are read faster so. `number` is one of the texts above.
std::string withThousands(std::string number);

// "0:05:12", to the second; "?" for what is no time.
std::string durationText(double seconds);

// "61 %", "0.4 %", "< 0.1 %"
std::string shareText(double share);

// A range in `max_decimals`: "800 to 2,400", or "800" where both ends read alike; empty where nothing is above 0.
std::string rangeText(double low, double high, int max_decimals = 0);

}  // namespace provecut
