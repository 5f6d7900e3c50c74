#include "sim/tool/cutter.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace provecut {

namespace {

constexpr double same_radius_mm = 1e-4;
constexpr double steep = 0.1;  // mm outward per mm up

// Somewhere the cutting part is narrower than further down.
bool hasOverhang(const std::vector<BodyPiece>& pieces) {
  double widest = 0;
  for (const BodyPiece& p : pieces) {
    if (std::min(p.r0, p.r1) < widest - same_radius_mm || p.r1 < p.r0 - same_radius_mm) return true;
    widest = std::max({widest, p.r0, p.r1});
  }
  return false;
}

// A wall inside the rim: an upright side with something wider above it.
bool hasStep(const std::vector<BodyPiece>& pieces) {
  const double rim = pieces.empty() ? 0 : std::max(pieces.back().r0, pieces.back().r1);
  return std::any_of(pieces.begin(), pieces.end(), [&](const BodyPiece& p) {
    return p.arc_radius == 0 && p.r1 - p.r0 < steep * (p.z1 - p.z0) && p.r1 < rim - same_radius_mm;
  });
}

// The underside turns down somewhere on the way out.
bool isHollow(const std::vector<BodyPiece>& pieces) {
  double before = 0;
  for (const BodyPiece& p : pieces) {
    const double rise = (p.z1 - p.z0) / std::max(p.r1 - p.r0, 1e-12);
    if (rise < before * (1 - 1e-9)) return true;
    before = rise;
  }
  return false;
}

}  // namespace

Cutters makeCutters(const Job& job) {
  Cutters cutters;
  for (const Tool& tool : job.tools) {
    Cutter c;
    c.body = toolBody(tool, job.collet_nut, job.spindle_attachments);
    c.shape = cutterShape(tool, c.body);
    c.neck_from = std::numeric_limits<float>::infinity();
    for (const BodyPiece& piece : c.body.pieces) {
      if (piece.part == ToolPart::cutter) c.pieces.push_back(piece);
    }
    if (tool.shape == ToolShape::form) {
      c.undercut = hasOverhang(c.pieces);
      c.by_pieces = c.undercut || hasStep(c.pieces);
      c.pieces_on_slopes = isHollow(c.pieces);
    }
    const float wall = c.undercut ? static_cast<float>(c.pieces.back().r1) : c.shape.radius;
    for (const BodyPiece& piece : c.body.pieces) {
      if (piece.part == ToolPart::cutter) continue;
      const float radius = static_cast<float>(std::max(piece.r0, piece.r1));
      const bool neck = piece.part == ToolPart::shank && radius < wall - static_cast<float>(same_radius_mm);
      if (neck) c.neck_from = static_cast<float>(piece.z0);
      c.above.push_back({piece.part, piece.attachment, radius, static_cast<float>(piece.z0),
                         piece.part == ToolPart::shank && !neck ? wall : 0, neck});
    }
    cutters.emplace(tool.number, std::move(c));
  }
  return cutters;
}

}  // namespace provecut
