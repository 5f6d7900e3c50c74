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

class Packer {
 public:
  Packer(const Facts& facts, std::size_t program, const ProgramReplay& replay)
      : facts_(facts),
        program_(facts.programs[program].program),
        run_(facts.run.programs[program]),
        replay_(replay),
        setup_(*facts.programs[program].setup) {}

  PackedMoves pack() {
    double clock_s = replay_.change_before_s;
    std::size_t event = 0;
    const auto takeEvents = [&](std::size_t before) {
      for (; event < program_.events.size() && program_.events[event].before_motion <= before; ++event) {
        clock_s += static_cast<double>(replay_.event_s[event]);
      }
    };
    for (std::size_t i = 0; i < program_.motions.size(); ++i) {
      takeEvents(i);
      put(begins_, clock_s);
      clock_s += static_cast<double>(replay_.move_s[i]);
      put(ends_, clock_s);
      putMove(program_.motions[i], i);
    }
    PackedMoves packed;
    packed.segments = segments_;
    const std::pair<const char*, std::string*> streams[] = {
        {"kind", &kinds_},       {"pieces", &pieces_},      {"line", &lines_.bytes},
        {"tool", &tools_.bytes}, {"begin", &begins_.bytes}, {"end", &ends_.bytes},
        {"axial", &axials_},     {"width", &widths_},       {"max_radial_depth", &max_widths_},
        {"feed", &feeds_.bytes}, {"rpm", &rpms_.bytes},     {"x", &x_.bytes},
        {"y", &y_.bytes},        {"z", &z_.bytes}};
    for (const auto& [name, bytes] : streams) {
      packed.bytes += *bytes;
      packed.streams.emplace_back(name, bytes->size());
    }
    return packed;
  }

 private:
  // Times are rounded where they stand, so that no error builds up.
  static void put(Stepped& stream, double seconds) { stream.put(std::llround(std::min(seconds, 1e9) * 1e4)); }

  static void putHundredths(std::string& stream, float mm) {
    putCount(stream, static_cast<std::uint64_t>(std::llround(std::clamp(static_cast<double>(mm), 0.0, 1e4) * 100)));
  }

  void putMove(const Motion& m, std::size_t i) {
    unsigned kind = static_cast<unsigned>(m.kind);
    const MoveCut cut = i < run_.cuts.size() ? run_.cuts[i] : MoveCut{};
    if (cut.removed_mm3 > 0) kind |= page_removes;
    if (m.spindle != Spindle::off) kind |= page_spindle_on;
    const bool unplaced = (m.flags & (motion_start_unknown | motion_height_unknown)) != 0;
    std::size_t pieces = 0;
    if (moves(m) && unplaced) {
      kind |= page_unplaced;
      const bool known_end = (m.flags & motion_height_unknown) == 0;
      if (known_end) pieces = putPoint(pointOf(workToSetup(setup_, m.end)));
    } else if (moves(m)) {
      sweeps_.clear();
      appendSweeps(m, 0, setup_, facts_.job.machine, chord_error_mm, sweeps_);
      for (const Sweep& s : sweeps_) {
        const Point from = pointOf({s.ax, s.ay, static_cast<double>(s.a_tip)});
        if (pieces == 0 && !(from == last_)) {
          kind |= page_jump;
          pieces += putPoint(from);
        }
        pieces += putPoint(pointOf({s.bx, s.by, static_cast<double>(s.b_tip)}));
      }
    }
    kinds_ += static_cast<char>(kind);
    putCount(pieces_, pieces);
    lines_.put(m.line);
    tools_.put(m.tool);
    putHundredths(axials_, cut.axial_depth_mm);
    putHundredths(widths_, cut.radial_depth_mm);
    putHundredths(max_widths_, cut.max_radial_depth_mm);
    feeds_.put(std::llround(std::clamp(static_cast<double>(m.feed_mm_min), 0.0, 1e9)));
    rpms_.put(std::llround(std::clamp(static_cast<double>(m.rpm), 0.0, 1e9)));
  }

  std::size_t putPoint(Point p) {
    x_.put(p.x);
    y_.put(p.y);
    z_.put(p.z);
    last_ = p;
    ++segments_;
    return 1;
  }

  const Facts& facts_;
  const Program& program_;
  const ProgramRun& run_;
  const ProgramReplay& replay_;
  const Setup& setup_;
  std::vector<Sweep> sweeps_;
  std::string kinds_, pieces_, axials_, widths_, max_widths_;
  Stepped lines_, tools_, begins_, ends_, feeds_, rpms_, x_, y_, z_;
  Point last_;
  std::size_t segments_ = 0;
};

unsigned sixteenBits(float height, double thickness_mm) {
  return static_cast<unsigned>(std::clamp(std::lround(static_cast<double>(height) * 65535 / thickness_mm), 0L, 65535L));
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

PackedMoves packedMoves(const Facts& facts, std::size_t program, const ProgramReplay& replay) {
  return Packer(facts, program, replay).pack();
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
