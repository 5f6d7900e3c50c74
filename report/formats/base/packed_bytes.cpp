#include "report/formats/base/packed_bytes.h"

#include <zlib.h>

#include <stdexcept>

namespace provecut {

void putCount(std::string& bytes, std::uint64_t value) {
  for (; value >= 0x80; value >>= 7) bytes += static_cast<char>(value | 0x80);
  bytes += static_cast<char>(value);
}

void putSigned(std::string& bytes, std::int64_t value) {
  const auto bits = static_cast<std::uint64_t>(value);
  putCount(bytes, value < 0 ? ~(bits << 1) : bits << 1);
}

std::string compressed(std::string_view bytes, int level) {
  uLongf size = compressBound(static_cast<uLong>(bytes.size()));
  std::string out(size, '\0');
  // zlib's interface is C: it takes unsigned bytes.
  const int result = compress2(reinterpret_cast<Bytef*>(out.data()), &size,
                               reinterpret_cast<const Bytef*>(bytes.data()), static_cast<uLong>(bytes.size()), level);
  if (result != Z_OK) throw std::runtime_error("zlib ended with " + std::to_string(result));
  out.resize(size);
  return out;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  const auto at = [&](std::size_t i) {
    return i < bytes.size() ? static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i])) : 0U;
  };
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::uint32_t three = at(i) << 16 | at(i + 1) << 8 | at(i + 2);
    out += letters[three >> 18];
    out += letters[three >> 12 & 63];
    out += i + 1 < bytes.size() ? letters[three >> 6 & 63] : '=';
    out += i + 2 < bytes.size() ? letters[three & 63] : '=';
  }
  return out;
}

}  // namespace provecut
