// Numbers packed small for the page: variable-length integers, compressed, as text that a page can hold.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace provecut {

// Seven bits to a byte, the lowest first; the highest bit says that more follow.
void putCount(std::string& bytes, std::uint64_t value);
// The same for numbers of either sign: 0, -1, 1, -2, 2 … become 0, 1, 2, 3, 4 …
void putSigned(std::string& bytes, std::int64_t value);

// zlib's format (RFC 1950). `level` as zlib's, 1 … 9.
std::string compressed(std::string_view bytes, int level);

// RFC 4648.
std::string base64(std::string_view bytes);

}  // namespace provecut
