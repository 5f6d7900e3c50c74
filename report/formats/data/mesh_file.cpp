#include "report/formats/data/mesh_file.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <ostream>
#include <string>

namespace provecut {

namespace {

void put(std::string& bytes, std::uint32_t value) {
  for (int shift = 0; shift < 32; shift += 8) bytes += static_cast<char>(value >> shift & 0xFF);
}

void put(std::string& bytes, float value) {
  put(bytes, std::bit_cast<std::uint32_t>(value));
}

// Printable ASCII only: these headers know no other text, and a line end would begin a new entry.
std::string plain(std::string_view text, std::size_t max_bytes) {
  std::string out;
  for (const char c : text.substr(0, max_bytes)) out += c >= ' ' && c <= '~' ? c : '?';
  return out;
}

std::array<float, 3> normalOf(const surface::TriangleMesh& mesh, const std::array<std::uint32_t, 3>& t) {
  const auto &a = mesh.points[t[0]], &b = mesh.points[t[1]], &c = mesh.points[t[2]];
  std::array<double, 3> u{}, v{};
  for (std::size_t k = 0; k < 3; ++k) {
    u[k] = static_cast<double>(b[k]) - static_cast<double>(a[k]);
    v[k] = static_cast<double>(c[k]) - static_cast<double>(a[k]);
  }
  const std::array<double, 3> n{u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]};
  const double length = std::hypot(n[0], n[1], n[2]);
  if (!(length > 0)) return {0, 0, 0};
  return {static_cast<float>(n[0] / length), static_cast<float>(n[1] / length), static_cast<float>(n[2] / length)};
}

constexpr std::size_t chunk = 1u << 20;

void flushIfLarge(std::string& bytes, std::ostream& out) {
  if (bytes.size() < chunk) return;
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.clear();
}

}  // namespace

void writeStl(const surface::TriangleMesh& mesh, std::string_view name, std::ostream& out) {
  // Eighty bytes that must not begin with "solid": that word begins the form in text.
  std::string bytes = "cut stock, mm: " + plain(name, 60);
  bytes.resize(80, ' ');
  put(bytes, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (const auto& t : mesh.triangles) {
    for (const float v : normalOf(mesh, t)) put(bytes, v);
    for (const std::uint32_t p : t) {
      for (const float v : mesh.points[p]) put(bytes, v);
    }
    bytes.append(2, '\0');
    flushIfLarge(bytes, out);
  }
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

void writePly(const surface::TriangleMesh& mesh, std::string_view name, std::ostream& out) {
  std::string bytes = "ply\nformat binary_little_endian 1.0\ncomment cut stock, mm: " + plain(name, 200) +
                      "\nelement vertex " + std::to_string(mesh.points.size()) +
                      "\nproperty float x\nproperty float y\nproperty float z\nelement face " +
                      std::to_string(mesh.triangles.size()) + "\nproperty list uchar uint vertex_indices\nend_header\n";
  for (const auto& p : mesh.points) {
    for (const float v : p) put(bytes, v);
    flushIfLarge(bytes, out);
  }
  for (const auto& t : mesh.triangles) {
    bytes += '\3';
    for (const std::uint32_t p : t) put(bytes, p);
    flushIfLarge(bytes, out);
  }
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

}  // namespace provecut
