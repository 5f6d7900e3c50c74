#include "sim/clearance/clearance.h"

#include <oneapi/tbb/blocked_range.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "sim/clearance/arc_approach.h"
#include "sim/clearance/line_approach.h"
#include "sim/clearance/move_bounds.h"
#include "sim/clearance/tolerance.h"
#include "sim/path/setup_frame.h"

namespace provecut::clearance {

namespace {

constexpr std::size_t batch_moves = 64;

bool samePart(const BodyPiece& a, const BodyPiece& b) {
  return a.part == b.part && a.attachment == b.attachment;
}

Nearest nearestOf(const PathPiece& p, const BodyPiece& piece, const Obstacle& o, double enough) {
  if (p.arc) return nearestOnArc(p, piece, o, enough, contact_tolerance_mm);
  return nearest(Line{p.start, p.end}, piece, o, enough);
}

double firstOf(const PathPiece& p, const BodyPiece& piece, const Obstacle& o, double otherwise) {
  const auto t = p.arc ? firstContactOnArc(p, piece, o, contact_tolerance_mm)
                       : firstContact(Line{p.start, p.end}, piece, o, contact_tolerance_mm);
  return t.value_or(otherwise);
}

double deepestOf(const PathPiece& p, const BodyPiece& piece, const Obstacle& o, double slack) {
  return p.arc ? deepestOnArc(p, piece, o, slack).overlap : deepest(Line{p.start, p.end}, piece, o, slack).overlap;
}

// The touch of one part, whose pieces are [first, last), or how near it comes below `enough`.
struct PartApproach {
  std::optional<PartTouch> touch;
  Nearest near{infinity, 0};
  const PathPiece* near_on = nullptr;
};

PartApproach approachOf(std::span<const BodyPiece> pieces, const Path& path, const Obstacle& o, double enough) {
  PartApproach found;
  for (const PathPiece& p : path) {
    double first = infinity;
    for (const BodyPiece& piece : pieces) {
      const Nearest n = nearestOf(p, piece, o, std::max(enough, contact_tolerance_mm));
      if (n.distance < found.near.distance) {
        found.near = n;
        found.near_on = &p;
      }
      if (n.distance <= contact_tolerance_mm) first = std::min(first, firstOf(p, piece, o, n.t));
    }
    if (first <= 1 && !found.touch) {
      found.touch = PartTouch{pieces.front().part, pieces.front().attachment, pointAt(p, first), 0};
    }
  }
  if (found.touch) {
    double overlap = -infinity;
    const auto deepen = [&](double slack) {
      for (const PathPiece& p : path) {
        for (const BodyPiece& piece : pieces) overlap = std::max(overlap, deepestOf(p, piece, o, slack));
      }
    };
    deepen(0);
    if (overlap == -infinity) deepen(2 * contact_tolerance_mm);  // it stops within the tolerance above the top
    found.touch->overlap_mm = std::max(0.0, overlap);
  }
  return found;
}

bool isPlunge(const Motion& m) {
  return m.end.z < m.start.z && m.start.z - m.end.z > length(flat(m.end) - flat(m.start));
}

struct Seen {
  std::vector<Contact> contacts;
  std::vector<NearPass> near_passes;
};

// All that the moves of one program have in common.
struct Pass {
  const Program& program;
  const Setup& setup;
  const Machine& machine;
  std::vector<StandingHoldDown> obstacles;
  std::map<int, ToolBody> bodies;
  double wanted = 0;
  std::vector<Way> ways;

  // Moves [begin, end): first the box around those with one tool, then each move's own, then the move itself.
  Seen look(std::size_t begin, std::size_t end) const {
    Seen seen;
    while (begin < end) {
      const int tool = program.motions[begin].tool;
      std::size_t stop = begin;
      SetupBox box;
      for (; stop < end && program.motions[stop].tool == tool; ++stop)
        box.add(boxOf(program.motions[stop], setup.zero_mm));
      if (const auto body = bodies.find(tool); body != bodies.end()) {
        std::vector<const StandingHoldDown*> close;
        for (const StandingHoldDown& h : obstacles) {
          if (boxBound(box, body->second, h.obstacle) <= wanted) close.push_back(&h);
        }
        for (; begin < stop && !close.empty(); ++begin) lookAt(begin, body->second, close, seen);
      }
      begin = stop;
    }
    return seen;
  }

  void lookAt(std::size_t index, const ToolBody& body, const std::vector<const StandingHoldDown*>& close,
              Seen& seen) const {
    const Motion& m = program.motions[index];
    const SetupBox box = boxOf(m, setup.zero_mm);
    const auto move = static_cast<std::uint32_t>(index);
    for (const StandingHoldDown* h : close) {
      if (boxBound(box, body, h->obstacle) > wanted) continue;
      const Path path = knownPath(m, ways[index], setup.zero_mm, machine);
      const Approach a = approach(path, body, h->obstacle, wanted);
      for (const PartTouch& t : a.touches) {
        seen.contacts.push_back(
            {move, h->index, t.part, t.attachment, isPlunge(m), setupToWork(setup, t.entry), t.overlap_mm});
      }
      if (a.near) {
        seen.near_passes.push_back(
            {move, h->index, a.near->part, a.near->attachment, setupToWork(setup, a.near->at), a.near->clearance_mm});
      }
    }
  }
};

Seen lookAtAll(const Job& job, const Setup& setup, const Program& program, std::vector<StandingHoldDown> obstacles,
               double wanted_mm) {
  if (obstacles.empty()) return {};
  Pass pass{program, setup, job.machine, std::move(obstacles), {}, wanted_mm, knownWays(program)};
  for (const Tool& t : job.tools) pass.bodies.emplace(t.number, toolBody(t, job.collet_nut, job.spindle_attachments));
  const std::size_t moves_in_all = program.motions.size();
  const std::size_t batches = (moves_in_all + batch_moves - 1) / batch_moves;
  std::vector<Seen> seen(batches);
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, batches, 16), [&](const tbb::blocked_range<std::size_t>& range) {
    for (std::size_t b = range.begin(); b < range.end(); ++b) {
      seen[b] = pass.look(b * batch_moves, std::min(moves_in_all, (b + 1) * batch_moves));
    }
  });
  Seen all;
  for (const Seen& s : seen) {
    all.contacts.insert(all.contacts.end(), s.contacts.begin(), s.contacts.end());
    all.near_passes.insert(all.near_passes.end(), s.near_passes.begin(), s.near_passes.end());
  }
  return all;
}

// Its top lies so far below the stock that a cut to the underside itself leaves it alone.
std::vector<StandingHoldDown> tapeUnder(const Job& job, const ProgramEntry& entry) {
  constexpr double adhesive_mm = 0.01;
  std::vector<StandingHoldDown> result;
  for (const int index : entry.hold_downs) {
    HoldDown tape = job.hold_downs[index];
    if (tape.kind != HoldDownKind::tape) continue;
    tape.top_mm = 0;
    result.push_back({index, obstacle(tape, -adhesive_mm)});
  }
  return result;
}

}  // namespace

Approach approach(const Path& path, const ToolBody& body, const Obstacle& o, double wanted) {
  Approach result;
  Nearest near{wanted - contact_tolerance_mm, 0};  // just at the clearance is enough
  std::optional<PartNear> nearest_part;
  const std::span<const BodyPiece> pieces(body.pieces);
  for (std::size_t i = 0; i < pieces.size();) {
    std::size_t end = i + 1;
    while (end < pieces.size() && samePart(pieces[i], pieces[end])) ++end;
    const double enough = result.touches.empty() ? near.distance : contact_tolerance_mm;
    const PartApproach part = approachOf(pieces.subspan(i, end - i), path, o, enough);
    if (part.touch) {
      result.touches.push_back(*part.touch);
    } else if (part.near.distance < near.distance) {
      near = part.near;
      nearest_part = PartNear{pieces[i].part, pieces[i].attachment, pointAt(*part.near_on, near.t), near.distance};
    }
    i = end;
  }
  if (result.touches.empty()) result.near = nearest_part;
  return result;
}

double leastGap(const Path& path, const ToolBody& body, const Obstacle& o, double enough) {
  double least = infinity;
  for (const PathPiece& p : path) {
    for (const BodyPiece& piece : body.pieces) {
      least = std::min(least, nearestOf(p, piece, o, std::min(enough, least)).distance);
    }
  }
  return least;
}

std::vector<Way> knownWays(const Program& program) {
  std::vector<Way> ways;
  ways.reserve(program.motions.size());
  bool x = false, y = false, z = false;  // known before the move
  for (const Motion& m : program.motions) {
    const bool moves_x = m.start.x != m.end.x, moves_y = m.start.y != m.end.y, moves_z = m.start.z != m.end.z;
    const bool height_unknown = (m.flags & motion_height_unknown) != 0;
    if ((m.flags & motion_start_unknown) == 0) x = y = z = true;
    if (!moves(m) || (height_unknown && !moves_z)) {
      ways.push_back(Way::none);
    } else if (m.kind != MotionKind::rapid || ((x || !moves_x) && (y || !moves_y) && (z || !moves_z) && (x || y))) {
      ways.push_back(Way::whole);
    } else {
      ways.push_back(x || y || moves_x || moves_y ? Way::end_only : Way::none);
    }
    // After a move in machine coordinates X and Y may be lost; if not, the next move's start says so.
    x = (x || moves_x) && !height_unknown;
    y = (y || moves_y) && !height_unknown;
    z = z || moves_z;
  }
  return ways;
}

Path knownPath(const Motion& m, Way way, SetupPoint work_zero, const Machine& machine) {
  if (way == Way::none) return {};
  if (way == Way::whole) return pathOf(m, work_zero, machine);
  Motion end = m;
  end.start = m.end;
  return pathOf(end, work_zero, machine);
}

std::vector<StandingHoldDown> standing(const Job& job, const Setup& setup, const ProgramEntry& entry) {
  std::vector<StandingHoldDown> result;
  const double stock_top = stockSizeInSetup(job.stock, setup).z;
  for (const int index : entry.hold_downs) {
    const HoldDown& h = job.hold_downs[index];
    if (isObstacle(h)) result.push_back({index, obstacle(h, stock_top)});
  }
  return result;
}

void checkHoldDowns(const Job& job, const Setup& setup, const ProgramEntry& entry, const Program& program,
                    std::vector<Contact>& contacts, std::vector<NearPass>& near_passes) {
  const double wanted_mm = std::max(job.limits.clearance_mm, 2 * contact_tolerance_mm);
  Seen seen = lookAtAll(job, setup, program, standing(job, setup, entry), wanted_mm);
  contacts.insert(contacts.end(), seen.contacts.begin(), seen.contacts.end());
  near_passes.insert(near_passes.end(), seen.near_passes.begin(), seen.near_passes.end());
}

void checkTape(const Job& job, const Setup& setup, const ProgramEntry& entry, const Program& program,
               std::vector<Contact>& contacts) {
  Seen seen = lookAtAll(job, setup, program, tapeUnder(job, entry), 2 * contact_tolerance_mm);
  contacts.insert(contacts.end(), seen.contacts.begin(), seen.contacts.end());
}

}  // namespace provecut::clearance
