// Random lines of programs: what has to be set there is what a second reading of the modes finds, and from there on the
// program moves as it did as a whole, on a machine that was left in other modes. The programs that people exported lie
// outside the project, in ../shared/corpus; where they are not, only those made here are read.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <random>
#include <sstream>

#include "parser/interpreter/interpreter.h"
#include "report/facts/resume.h"
#include "tests/paths.h"
#include "tests/report/facts/modal_reader.h"
#include "tests/report/facts/random_program.h"

namespace provecut::testing {
namespace {

namespace fs = std::filesystem;

InterpreterOptions machine() {
  InterpreterOptions o;
  for (int tool = 1; tool < 100; ++tool) o.tool_diameter_mm[tool] = 1;
  // Each work offset elsewhere, so that a wrong one shows.
  for (int system = 2; system <= 9; ++system) o.work_offset_mm[system] = {10.0 * system, 3.0 * system, 1.0 * system};
  return o;
}

std::set<ReadWord> wordsOf(const ResumePoint& p) {
  std::set<ReadWord> words;
  std::istringstream cut(wordsToSet(p));
  for (std::string word; cut >> word;) words.insert(readWord(word));
  return words;
}

std::string shown(const std::set<ReadWord>& words) {
  std::ostringstream out;
  for (const auto& [letter, value] : words) out << letter << value << ' ';
  return out.str();
}

const ResumePoint* pointAt(const Program& program, std::size_t line) {
  const auto found = std::find_if(program.resumes.begin(), program.resumes.end(),
                                  [&](const ResumePoint& p) { return p.line == line; });
  return found == program.resumes.end() ? nullptr : &*found;
}

// Lines as the machine reads them: each ends with LF.
std::vector<std::string> linesOf(std::string text) {
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
  std::vector<std::string> lines(1);
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n') continue;
    if (text[i] == '\n' || text[i] == '\r') {
      lines.emplace_back();
    } else {
      lines.back() += text[i];
    }
  }
  return lines;
}

// A machine that stands at the start point and was left in other modes than the program's: of each kind that the
// program has a word of.
std::string leftOtherwise(const ResumePoint& p, const ModalReader& reader) {
  std::ostringstream out;
  out.precision(15);
  out << "T" << p.tool << (reader.changesTools() ? " M6\n" : "\n");
  out << "G21 G90 G94 G17 G40 G54 G0 X" << p.at.x << " Y" << p.at.y << " Z" << p.at.z << '\n';
  const auto setBefore = [&](Mode mode) { return (p.set_before & modeSet(mode)) != 0; };
  // What a branch would set may never be run.
  const auto otherwise = [&](Mode mode, const char* group, const char* words) {
    if (setBefore(mode) || (!reader.branches() && reader.groups().contains(group))) out << words << '\n';
  };
  // Nobody knows what these were before the program set them.
  const auto setOtherwise = [&](Mode mode, const char* words) {
    if (setBefore(mode)) out << words << '\n';
  };
  otherwise(Mode::feed_mode, "feed mode", p.inverse_time ? "G94" : "G93");
  setOtherwise(Mode::feed, "F0.123");
  setOtherwise(Mode::speed, "S7");
  otherwise(Mode::spindle, "spindle", p.spindle == Spindle::cw ? "M4" : "M3");
  otherwise(Mode::plane, "plane", p.plane == Plane::zx ? "G17" : "G18");
  otherwise(Mode::work_offset, "work offset", p.system == 9 ? "G59.2" : "G59.3");
  otherwise(Mode::arc_centre, "arc centre", p.arc_centre_absolute ? "G91.1" : "G90.1");
  setOtherwise(Mode::path_control, p.path_control == PathControl::exact_stop ? "G61" : "G61.1");
  otherwise(Mode::cycle_return, "return", p.retract_to_r ? "G98" : "G99");
  if (reader.changesTools()) setOtherwise(Mode::selected_tool, "T98");
  otherwise(Mode::units, "units", p.inch ? "G21" : "G20");
  otherwise(Mode::distance, "distance", p.incremental ? "G90" : "G91");
  return out.str();
}

// The words to set as lines: each group that allows no more than one word a line on its own.
std::string asLines(std::string words) {
  for (const std::string_view own : {" M8", " G64", " G43", " T"}) {
    if (const std::size_t at = words.find(own); at != std::string::npos) words.replace(at, 1, "\n");
  }
  return words + "\n";
}

PathControlChange pathAt(const Program& program, std::size_t motion) {
  PathControlChange now;
  for (const PathControlChange& c : program.path_control) {
    if (c.before_motion > motion) break;
    now = c;
  }
  return now;
}

// Empty, or what differs. Speed and spindle are only looked at where the tool may cut.
std::string difference(const Motion& a, const Motion& b) {
  const auto near = [](const auto& p, const auto& q) { return length(p - q) < 1e-6; };
  const auto alike = [](float p, float q) { return std::abs(p - q) <= 1e-5F * std::max(1.0F, std::abs(p)); };
  if (a.kind != b.kind) return "kind";
  if (!near(a.start, b.start)) return "start";
  if (!near(a.end, b.end)) return "end";
  if (a.tool != b.tool) return "tool";
  if (a.kind == MotionKind::dwell) return a.dwell_s == b.dwell_s ? "" : "dwell";
  if ((a.flags & motion_in_cycle) != (b.flags & motion_in_cycle)) return "cycle";
  if (a.kind == MotionKind::rapid) return "";
  if (!alike(a.feed_mm_min, b.feed_mm_min))
    return "feed " + std::to_string(a.feed_mm_min) + " / " + std::to_string(b.feed_mm_min);
  if (a.spindle != b.spindle) return "spindle";
  if (a.spindle != Spindle::off && a.rpm != b.rpm) return "speed";
  if (isArc(a) && (!near(a.centre, b.centre) || a.plane != b.plane || a.turns != b.turns)) return "arc";
  return "";
}

// Empty, or where the resumed program first moves in another way than the whole.
std::string resumedDifference(const Program& whole, const std::vector<std::string>& lines, const ResumePoint& p,
                              const ModalReader& reader) {
  const std::string before = leftOtherwise(p, reader) + asLines(wordsToSet(p));
  const auto first_line = static_cast<std::uint32_t>(std::count(before.begin(), before.end(), '\n') + 1);
  std::string text = before;
  for (std::size_t i = p.line - 1; i < lines.size(); ++i) text += lines[i] + "\n";
  const Program rest = interpret(text, machine());
  const auto from =
      std::find_if(rest.motions.begin(), rest.motions.end(), [&](const Motion& m) { return m.line >= first_line; });
  const std::size_t skipped = static_cast<std::size_t>(from - rest.motions.begin());
  if (rest.motions.size() - skipped != whole.motions.size() - p.before_motion)
    return "other number of moves: " + std::to_string(whole.motions.size() - p.before_motion) + " / " +
           std::to_string(rest.motions.size() - skipped);
  for (std::size_t i = 0; i + skipped < rest.motions.size(); ++i) {
    const Motion& a = whole.motions[p.before_motion + i];
    std::string what = difference(a, rest.motions[skipped + i]);
    const PathControlChange c = pathAt(whole, p.before_motion + i), d = pathAt(rest, skipped + i);
    if (c.control != d.control || std::abs(c.tolerance_mm - d.tolerance_mm) > 1e-4) what += " path control";
    if (!what.empty()) return what + " of the move on line " + std::to_string(a.line);
  }
  return "";
}

bool agrees(ResumeBar bar, const ModalReading& reading) {
  switch (bar) {
    case ResumeBar::none:
      return reading.bar.empty();
    case ResumeBar::compensation_on:
      return reading.bar == "compensation";
    case ResumeBar::in_cycle:
      return reading.bar == "cycle";
    case ResumeBar::motion_unset:
      return reading.bar == "mode";
    case ResumeBar::position_unknown:
      return reading.bar == "position";
    case ResumeBar::measured:
    case ResumeBar::zero_moved:
      return reading.zero_moved;
    case ResumeBar::in_subprogram:
    case ResumeBar::in_loop:
    case ResumeBar::in_branch:
    case ResumeBar::subprogram_behind:
      return false;  // such programs are beyond the second reader
  }
  return false;
}

struct Counts {
  int lines = 0, barred = 0, compared = 0, resumed = 0;
};

// A random line of the program, with `lifted` one of those that begin with the tool up; looked at in both ways.
void tryLine(const std::string& text, std::size_t line, const ModalReader& reader, Counts& counts) {
  InterpreterOptions options = machine();
  options.resume_line = static_cast<std::uint32_t>(line);
  const Program whole = interpret(text, options);
  const ResumePoint* const p = pointAt(whole, line);
  if (p == nullptr) return;  // never run
  ++counts.lines;
  if (!reader.branches()) {
    const ModalReading reading = reader.before(line);
    EXPECT_TRUE(agrees(p->bar, reading)) << "bar " << static_cast<int>(p->bar) << ", by the second reading \""
                                         << reading.bar << '"';
    if (p->bar == ResumeBar::none && reading.bar.empty()) {
      EXPECT_EQ(shown(wordsOf(*p)), shown(reading.words));
      ++counts.compared;
    }
  }
  if (p->bar != ResumeBar::none) {
    ++counts.barred;
    return;
  }
  ++counts.resumed;
  EXPECT_EQ(resumedDifference(whole, linesOf(text), *p, reader), "") << wordsToSet(*p);
}

// `random` of the lines with words, and as many of those where the tool is up.
void tryProgram(const std::string& text, std::mt19937& random, int count, Counts& counts) {
  const ModalReader reader(text);
  std::vector<std::size_t> any, up;
  for (std::size_t line = 1; line <= reader.lines(); ++line) {
    if (reader.runs(line)) any.push_back(line);
  }
  for (const ResumePoint& p : interpret(text, machine()).resumes) up.push_back(p.line);
  for (const std::vector<std::size_t>& from : {any, up}) {
    for (int i = 0; i < count && !from.empty(); ++i) {
      const std::size_t line = from[random() % from.size()];
      SCOPED_TRACE("line " + std::to_string(line));
      tryLine(text, line, reader, counts);
    }
  }
}

TEST(ResumeAtRandomLines, of_programs_made_here_sets_what_a_second_reading_needs_and_moves_alike) {
  std::mt19937 random(11);
  Counts counts;
  for (int i = 0; i < 120; ++i) {
    const std::string text = randomProgram(random);
    SCOPED_TRACE(text);
    tryProgram(text, random, 5, counts);
  }
  RecordProperty("lines", counts.lines);
  RecordProperty("resumed", counts.resumed);
  EXPECT_GE(counts.lines, 300);
  EXPECT_GE(counts.resumed, 150);
  EXPECT_GE(counts.compared, 100);
  EXPECT_GE(counts.barred, 30);
}

TEST(ResumeAtRandomLines, of_exported_programs_sets_what_a_second_reading_needs_and_moves_alike) {
  const fs::path folder = fs::path(PROVECUT_SOURCE_DIR) / ".." / "shared" / "corpus";
  std::ifstream index(folder / "INDEX.tsv");
  if (!index) GTEST_SKIP() << "the exported programs are not here: " << folder;
  std::mt19937 random(300);
  Counts counts;
  std::string row;
  std::getline(index, row);  // the headings
  while (std::getline(index, row)) {
    const std::string file = row.substr(0, row.find('\t'));
    SCOPED_TRACE(file);
    std::ifstream in(folder / file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    tryProgram(text, random, 4, counts);
  }
  RecordProperty("lines", counts.lines);
  RecordProperty("resumed", counts.resumed);
  EXPECT_GE(counts.lines, 300);
  EXPECT_GE(counts.resumed, 200);
  EXPECT_GE(counts.compared, 200);
}

}  // namespace
}  // namespace provecut::testing
