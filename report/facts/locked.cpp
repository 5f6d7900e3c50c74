#include "report/facts/locked.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>
#include <utility>

#include "parser/block/block_grammar.h"
#include "report/base/digest.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "sim/path/motion_extent.h"

namespace provecut {

namespace {

constexpr std::size_t max_comments = 3;
constexpr std::size_t max_comment_symbols = 80;
constexpr std::uint32_t max_header_lines = 50;
constexpr double same_place_mm = 0.0005;

// What stands in a line that is a comment and nothing else; empty: it is not.
std::string_view commentOf(std::string_view line) {
  const auto trim = [](std::string_view t) {
    while (!t.empty() && (t.front() == ' ' || t.front() == '\t')) t.remove_prefix(1);
    while (!t.empty() && (t.back() == ' ' || t.back() == '\t')) t.remove_suffix(1);
    return t;
  };
  line = trim(line);
  if (line.starts_with(';')) return trim(line.substr(1));
  if (line.starts_with('(') && line.find(')') == line.size() - 1) return trim(line.substr(1, line.size() - 2));
  return {};
}

// Code points, not bytes: a cut letter would be none.
std::string cutTo(std::string text, std::size_t symbols) {
  std::size_t seen = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool begins = (static_cast<unsigned char>(text[i]) & 0xC0) != 0x80;
    if (begins && ++seen > symbols) return text.substr(0, i);
  }
  return text;
}

// To a millionth, and one text for both zeros, so that the same moves read the same on every machine.
void addNumber(std::string& text, double value) {
  fmt::format_to(std::back_inserter(text), "{:.6f} ", value == 0 || std::abs(value) < 5e-7 ? 0.0 : value);
}

std::string movesText(const Program& program) {
  std::string text;
  std::size_t event = 0;
  const auto addEvents = [&](std::size_t before) {
    for (; event < program.events.size() && program.events[event].before_motion <= before; ++event) {
      const Event& e = program.events[event];
      if (e.kind == EventKind::comment_tool) continue;
      fmt::format_to(std::back_inserter(text), "E{} ", static_cast<int>(e.kind));
      addNumber(text, e.value);
    }
  };
  for (std::size_t i = 0; i < program.motions.size(); ++i) {
    const Motion& m = program.motions[i];
    addEvents(i);
    fmt::format_to(std::back_inserter(text), "\nM{} {} {} {} {} {} ", static_cast<int>(m.kind),
                   static_cast<int>(m.plane), static_cast<int>(m.spindle), m.tool, m.flags, m.turns);
    for (const double v : {m.start.x, m.start.y, m.start.z, m.end.x, m.end.y, m.end.z, m.centre.x, m.centre.y,
                           double{m.feed_mm_min}, double{m.dwell_s}, double{m.rpm}})
      addNumber(text, v);
  }
  addEvents(program.motions.size());
  return text;
}

bool isMotionCode(const Word& w) {
  return w.letter == 'G' && (w.value == 0 || w.value == 1 || w.value == 2 || w.value == 3);
}

// What a machine may do otherwise though the moves are the same: path control, offsets, coolant and outputs, stops that
// the end implies, other axes, lines that its switch for "/" leaves out, and what was not read. Of a line with such a
// code every word.
std::string codesText(const ProgramFacts& p) {
  constexpr std::string_view in_moves = "XYZIJKRFSNO";
  std::string text;
  Block block;
  const auto lines = static_cast<std::uint32_t>(p.line_starts.size());
  for (std::uint32_t n = 1; n <= lines; ++n) {
    const std::string_view line = p.line(n);
    readBlock(line, block);
    std::vector<std::pair<char, double>> said;
    bool other = block.block_delete && !block.empty();
    if (other) said.emplace_back('/', 0);
    for (const Word& w : block.words) {
      if (w.letter != 'N' && !isMotionCode(w)) said.emplace_back(w.letter, w.value);
      other |= in_moves.find(w.letter) == std::string_view::npos && !isMotionCode(w);
    }
    if (!other) said.clear();
    std::sort(said.begin(), said.end());
    for (const auto& [letter, value] : said) fmt::format_to(std::back_inserter(text), "{}{:.6f} ", letter, value);
    if (!block.faults.empty()) text += line;
  }
  return text;
}

std::string digestOfWork(const ProgramFacts& program) {
  return sha256(movesText(program.program) + "\n" + codesText(program));
}

std::string deeperText(const Job& job, double was_z, double now_z) {
  const std::string by = quantityText(job, Quantity::length, std::abs(now_z - was_z));
  return fmt::format("cuts {} {}, to {} (was {})", by, now_z < was_z ? "deeper" : "less deep", zText(job, now_z),
                     zText(job, was_z));
}

std::string toolsText(std::span<const int> tools) {
  std::vector<std::string> names;
  for (const int t : tools) names.push_back(std::to_string(t));
  return (tools.size() == 1 ? "tool " : "tools ") + listText(names);
}

void compareSpan(const Job& job, std::string_view axis, Vec2 was, Vec2 now, std::vector<std::string>& out) {
  if (std::abs(was.x - now.x) < same_place_mm && std::abs(was.y - now.y) < same_place_mm) return;
  const auto span = [&](Vec2 s) { return fmt::format("{} to {}", positionText(job, s.x), positionText(job, s.y)); };
  out.push_back(fmt::format("cuts from {} {} {} (was {})", axis, span(now), lengthUnit(job), span(was)));
}

}  // namespace

std::vector<std::string> firstComments(const ProgramFacts& program) {
  std::vector<std::string> comments;
  const auto lines = std::min(static_cast<std::uint32_t>(program.line_starts.size()), max_header_lines);
  for (std::uint32_t n = 1; n <= lines && comments.size() < max_comments; ++n) {
    const std::string_view comment = commentOf(program.line(n));
    if (!comment.empty()) comments.push_back(cutTo(visibleText(comment), max_comment_symbols));
  }
  return comments;
}

LockedProgram lockedProgram(const ProgramFacts& program) {
  LockedProgram out;
  out.file = program.entry->file;
  out.sha256 = sha256(program.text);
  out.moves_sha256 = digestOfWork(program);
  out.bytes = static_cast<int>(program.text.size());
  out.comments = firstComments(program);
  std::set<int> tools;
  for (const Motion& m : program.program.motions) {
    if (!moves(m)) continue;
    ++out.moves;
    tools.insert(m.tool);
    if (m.kind != MotionKind::rapid && !(m.flags & (motion_height_unknown | motion_start_unknown)))
      out.cuts.add(motionExtent(m));
  }
  out.tools.assign(tools.begin(), tools.end());
  return out;
}

const LockedProgram* findLocked(const Lock& lock, std::string_view file) {
  const auto it =
      std::find_if(lock.programs.begin(), lock.programs.end(), [&](const LockedProgram& p) { return p.file == file; });
  return it == lock.programs.end() ? nullptr : &*it;
}

Lock lockOf(const Facts& facts) {
  Lock lock;
  for (const ProgramFacts& p : facts.programs) {
    if (!findLocked(lock, p.entry->file)) lock.programs.push_back(lockedProgram(p));
  }
  return lock;
}

LockState lockStateOf(const Facts& facts, const ProgramFacts& program) {
  if (!facts.lock) return LockState::no_lock;
  const LockedProgram* locked = findLocked(*facts.lock, program.entry->file);
  if (!locked) return LockState::not_in_lock;
  if (locked->sha256 == sha256(program.text)) return LockState::same;
  return locked->moves_sha256 == digestOfWork(program) ? LockState::same_moves : LockState::other_program;
}

std::vector<std::string> differences(const Job& job, const LockedProgram& was, const LockedProgram& now) {
  std::vector<std::string> out;
  if (was.moves != now.moves) {
    const int more = now.moves - was.moves;
    out.push_back(fmt::format("{} {} ({}, was {})", plural(static_cast<std::size_t>(std::abs(more)), "move", "moves"),
                              more > 0 ? "more" : "fewer", withThousands(std::to_string(now.moves)),
                              withThousands(std::to_string(was.moves))));
  }
  if (was.tools != now.tools) out.push_back(toolsText(now.tools) + " in place of " + toolsText(was.tools));
  if (was.cuts.empty != now.cuts.empty) {
    out.push_back(now.cuts.empty ? "it no longer has a feed move" : "it had no feed move");
  } else if (!now.cuts.empty) {
    const auto &a = was.cuts, &b = now.cuts;
    if (std::abs(a.low.z - b.low.z) >= same_place_mm) out.push_back(deeperText(job, a.low.z, b.low.z));
    compareSpan(job, "X", {a.low.x, a.high.x}, {b.low.x, b.high.x}, out);
    compareSpan(job, "Y", {a.low.y, a.high.y}, {b.low.y, b.high.y}, out);
  }
  return out;
}

}  // namespace provecut
