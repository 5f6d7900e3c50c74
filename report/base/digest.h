// SHA-256 (FIPS 180-4): tells one export of a program from another.
#pragma once

#include <string>
#include <string_view>

namespace provecut {

// 64 lower-case hexadecimal digits.
std::string sha256(std::string_view bytes);

}  // namespace provecut
