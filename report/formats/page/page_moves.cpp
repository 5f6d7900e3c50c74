#include "report/formats/page/page_moves.h"

#include <algorithm>
#include <cmath>

#include "report/base/visible_text.h"
#include "report/formats/base/packed_bytes.h"
#include "sim/path/setup_frame.h"
#include "sim/path/sweep.h"

namespace provecut {

namespace {

constexpr double chord_error_mm = 0.008;

// Beside the kind of move, in the bits above it.
enum PageMoveFlag : unsigned {
  page_removes = 8,
  page_jump = 16,      // it does not start where the move before it ended: the first piece only leads there
  page_unplaced = 32,  // where it starts or how high it runs is not known: there is nothing to draw
  page_spindle_on = 64,
};

std::int64_t micrometres(double mm) {
  return std::llround(std::clamp(mm, -1e6, 1e6) * 1000);
}

struct Point {
  std::int64_t x = 0, y = 0, z = 0;
  friend bool operator==(const Point&, const Point&) = default;
};

Point pointOf(SetupPoint p) {
  return {micrometres(p.x), micrometres(p.y), micrometres(p.z)};
}

// A number that is written as the difference to the one before.
struct Stepped {
  std::string bytes;
  std::int64_t last = 0;
  void put(std::int64_t value) {
    putSigned(bytes, value - last);
    last = value;
  }
};

// Times are rounded where they stand, so that no error builds up.
void putTime(Stepped& stream, double seconds) {
  stream.put(std::llround(std::min(seconds, 1e9) * 1e4));
}

void putWhole(Stepped& stream, float value) {
  stream.put(std::llround(std::clamp(double{value}, 0.0, 1e9)));
}

void putHundredths(std::string& stream, float mm) {
  putCount(stream, static_cast<std::uint64_t>(std::llround(std::clamp(double{mm}, 0.0, 1e4) * 100)));
}

// The points that moves run through, one after the other.
struct Points {
  Stepped x, y, z;
  Point last;
  std::size_t count = 0;
  void put(Point p) {
    x.put(p.x);
    y.put(p.y);
    z.put(p.z);
    last = p;
    ++count;
  }
};

// What is packed of each move, a stream each.
struct Streams {
  std::string kinds, pieces, axials, widths, max_widths;
  Stepped lines, tools, begins, ends, feeds, rpms;
  Points points;
};

// Adds the points of a move; gives the flags that say how they are to be drawn.
unsigned putPath(const Motion& m, const Setup& setup, const Machine& machine, Points& points) {
  if (!moves(m)) return 0;
  const bool height_unknown = (m.flags & motion_height_unknown) != 0;
  if (height_unknown || (m.flags & motion_start_unknown) != 0) {
    if (!height_unknown) points.put(pointOf(workToSetup(setup, m.end)));
    return page_unplaced;
  }
  std::vector<Sweep> sweeps;
  appendSweeps(m, 0, setup, machine, chord_error_mm, sweeps);
  unsigned flags = 0;
  for (const Sweep& s : sweeps) {
    const Point from = pointOf({s.ax, s.ay, s.a_tip});
    if (&s == &sweeps.front() && !(from == points.last)) {
      flags |= page_jump;
      points.put(from);
    }
    points.put(pointOf({s.bx, s.by, s.b_tip}));
  }
  return flags;
}

void putMove(const Motion& m, const MoveCut& cut, const Setup& setup, const Machine& machine, Streams& s) {
  const std::size_t points_before = s.points.count;
  unsigned kind = static_cast<unsigned>(m.kind) | putPath(m, setup, machine, s.points);
  if (cut.removed_mm3 > 0) kind |= page_removes;
  if (m.spindle != Spindle::off) kind |= page_spindle_on;
  s.kinds += static_cast<char>(kind);
  putCount(s.pieces, s.points.count - points_before);
  s.lines.put(m.line);
  s.tools.put(m.tool);
  putHundredths(s.axials, cut.axial_depth_mm);
  putHundredths(s.widths, cut.radial_depth_mm);
  putHundredths(s.max_widths, cut.max_radial_depth_mm);
  putWhole(s.feeds, m.feed_mm_min);
  putWhole(s.rpms, m.rpm);
}

PackedMoves packedStreams(const Streams& s) {
  PackedMoves packed;
  packed.segments = s.points.count;
  const std::pair<const char*, const std::string*> streams[] = {
      {"kind", &s.kinds},       {"pieces", &s.pieces},      {"line", &s.lines.bytes},
      {"tool", &s.tools.bytes}, {"begin", &s.begins.bytes}, {"end", &s.ends.bytes},
      {"axial", &s.axials},     {"width", &s.widths},       {"max_radial_depth", &s.max_widths},
      {"feed", &s.feeds.bytes}, {"rpm", &s.rpms.bytes},     {"x", &s.points.x.bytes},
      {"y", &s.points.y.bytes}, {"z", &s.points.z.bytes}};
  for (const auto& [name, bytes] : streams) {
    packed.bytes += *bytes;
    packed.streams.emplace_back(name, bytes->size());
  }
  return packed;
}

unsigned sixteenBits(float height, double thickness_mm) {
  return static_cast<unsigned>(std::clamp(std::lround(double{height} * 65535 / thickness_mm), 0L, 65535L));
}

void putFace(const std::vector<float>& heights, double thickness_mm, std::string& bytes) {
  std::string high;
  high.reserve(heights.size());
  unsigned last = 0;
  for (const float height : heights) {
    const unsigned value = sixteenBits(height, thickness_mm);
    const unsigned step = value - last;
    bytes += static_cast<char>(step & 0xFF);
    high += static_cast<char>(step >> 8 & 0xFF);
    last = value;
  }
  bytes += high;
}

}  // namespace

PackedMoves packedMoves(const Facts& facts, std::size_t index, const ProgramReplay& replay) {
  const Program& program = facts.programs[index].program;
  const std::vector<MoveCut>& cuts = facts.run.programs[index].cuts;
  Streams streams;
  double clock_s = replay.change_before_s;
  std::size_t event = 0;
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    for (; event < program.events.size() && program.events[event].before_motion <= i; ++event)
      clock_s += replay.event_s[event];
    putTime(streams.begins, clock_s);
    clock_s += replay.move_s[i];
    putTime(streams.ends, clock_s);
    const MoveCut cut = i < cuts.size() ? cuts[i] : MoveCut{};
    putMove(program.motions[i], cut, *facts.programs[index].setup, facts.job.machine, streams);
  }
  return packedStreams(streams);
}

std::string packedHeights(const cutting::HeightMap& map, double thickness_mm) {
  std::string bytes;
  bytes.reserve(map.top.size() * 4);
  putFace(map.top, thickness_mm, bytes);
  putFace(map.floor, thickness_mm, bytes);
  return bytes;
}

std::string packedOverhangs(const cutting::HeightMap& map, double thickness_mm) {
  std::string bytes;
  std::uint32_t last = 0;
  for (const cutting::HeightMap::Overhang& h : map.overhangs) {
    putCount(bytes, h.cell - last);
    last = h.cell;
    putCount(bytes, h.segments.size());
    for (const cutting::DexelSegment& r : h.segments) {
      putCount(bytes, sixteenBits(r.low, thickness_mm));
      putCount(bytes, sixteenBits(r.high, thickness_mm));
    }
  }
  return bytes;
}

std::string packedText(const ProgramFacts& program) {
  std::string text;
  text.reserve(program.text.size() + program.line_starts.size());
  for (std::uint32_t line = 1; line <= program.line_starts.size(); ++line) {
    const std::string_view bytes = program.line(line);
    const bool plain = std::all_of(bytes.begin(), bytes.end(), [](char c) { return c >= ' ' && c < 0x7F; });
    if (plain) {
      text += bytes;
    } else {
      text += visibleText(bytes);
    }
    text += '\n';
  }
  return text;
}

}  // namespace provecut
