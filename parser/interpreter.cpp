#include "parser/interpreter.h"

#include <algorithm>
#include <cstring>

#include "parser/block_grammar.h"
#include "parser/line_reader.h"
#include "parser/quoted_text.h"
#include "parser/reading.h"

namespace provecut {

namespace {

constexpr std::size_t longest_line = 65'536;         // beyond: not read, so that time and memory stay bounded
constexpr std::size_t longest_standard_line = 256;   // NISTIR 6556 3.3
constexpr std::size_t most_reserved = 4'000'000;

// Whether M6 stands anywhere outside comments: without it a T word alone changes the tool.
bool usesToolChange(std::string_view text) {
  for (std::size_t at = text.find_first_of("Mm"); at != std::string_view::npos; at = text.find_first_of("Mm", at + 1)) {
    std::size_t p = at + 1;
    while (p < text.size() && (text[p] == ' ' || text[p] == '\t' || text[p] == '0')) ++p;
    if (p == text.size() || text[p] != '6') continue;
    if (p + 1 < text.size() && ((text[p + 1] >= '0' && text[p + 1] <= '9'))) continue;
    // Back to the line's start: an open bracket or a semicolon makes it a comment.
    bool in_comment = false;
    for (std::size_t q = at; q-- > 0 && text[q] != '\n' && text[q] != '\r' && at - q < longest_line;) {
      if (text[q] == ')') break;
      if (text[q] == '(' || text[q] == ';') {
        in_comment = true;
        break;
      }
    }
    if (!in_comment) return true;
  }
  return false;
}

bool containsWord(std::string_view text, std::string_view lower_word) {
  const auto same = [](char a, char b) { return (a >= 'A' && a <= 'Z' ? static_cast<char>(a - 'A' + 'a') : a) == b; };
  return std::search(text.begin(), text.end(), lower_word.begin(), lower_word.end(), same) != text.end();
}

// "(T1 D=6 flat end mill)", "(Tool diameter = 3.175)": what generators write about their tools.
bool describesTool(std::string_view comment) {
  while (!comment.empty() && (comment.front() == ' ' || comment.front() == '\t')) comment.remove_prefix(1);
  if (comment.size() >= 2 && (comment[0] == 'T' || comment[0] == 't') && comment[1] >= '0' && comment[1] <= '9') return true;
  for (const std::string_view word : {"tool", "endmill", "end mill", "drill", "cutter", "ball nose", "ballnose", "v-bit", "vbit", "diameter"}) {
    if (containsWord(comment, word)) return true;
  }
  return false;
}

void noteToolComments(Reading& r) {
  constexpr std::size_t most_comments = 1000;
  for (const Comment& c : r.block.comments) {
    if (r.comment_count >= most_comments || !describesTool(c.text)) continue;
    ++r.comment_count;
    addEvent(r, EventKind::comment_tool, 0, {r.line_number, c.column, c.end_column}, shownText(c.text));
  }
}

// The % lines that may frame a program (NISTIR 6556 3.1).
void readPercent(Reading& r, Place place) {
  if (!r.percent_open && !r.any_words) {
    r.percent_open = true;
    r.percent_place = place;
    return;
  }
  if (!r.percent_open) {
    addProblem(r, "percent-unpaired", place, "A % line ends the program, and none begins it.", "The program ends here.");
  }
  r.percent_closed = true;
  r.ended = true;
}

void readLine(Reading& r) {
  if (r.line.size() > longest_line) {
    addNotFollowed(r, "line-too-long", {r.line_number, 1, 2},
                   "The line has " + std::to_string(r.line.size()) + " characters, more than are read.", "The line is left out.");
    return;
  }
  if (r.options.strict && r.line.size() > longest_standard_line) {
    addProblem(r, "line-too-long", {r.line_number, 257, static_cast<std::uint32_t>(r.line.size()) + 1},
               "The line has " + std::to_string(r.line.size()) + " characters; the standard allows 256.", "The line is left out.");
    return;
  }
  readBlock(r.line, r.block);
  if (!r.block.comments.empty()) noteToolComments(r);
  if (r.block.percent) {
    readPercent(r, {r.line_number, 1, 2});
    return;
  }
  if (r.block.words.empty() && r.block.settings.empty() && r.block.faults.empty() && r.block.extensions.empty()) return;
  r.any_words |= !r.block.words.empty();
  if (r.block.block_delete && r.options.block_delete) return;
  if (r.block.label.flow > Flow::label) {
    addNotFollowed(r, "not-followed", {r.line_number, r.block.label.column, r.block.label.end_column},
                   "O words for subprograms and loops are not followed.", "The line is left out.");
    return;
  }
  if (gatherWords(r)) runLine(r);
}

// Lines after the end are not run; say so where they would do something.
void lookAfterEnd(Reading& r, LineReader& lines) {
  std::uint32_t looked = 0;
  while (lines.next(r.line)) {
    r.line_number = lines.lineNumber();
    if (r.line.size() > longest_line || ++looked > 10'000) continue;
    readBlock(r.line, r.block);
    if (r.block.percent) {
      r.percent_closed = true;
      continue;
    }
    if (r.block.label.flow != Flow::none) break;  // subprograms stand there
    const bool only_end = std::all_of(r.block.words.begin(), r.block.words.end(),
                                      [](const Word& w) { return w.letter == 'M' && (w.value == 2 || w.value == 30); });
    if (r.block.words.empty() || only_end) continue;
    addProblem(r, "text-after-end", {r.line_number, r.block.words.front().column, r.block.words.back().end_column},
               "Words stand after the end of the program.", "They are not run.");
    break;
  }
  while (lines.next(r.line)) {
  }
  r.program.lines = lines.lineNumber();
}

}  // namespace

Program interpret(std::string_view text, const InterpreterOptions& options) {
  Reading r(text, options);
  r.state.tool = options.tool_in_spindle;
  r.position = {0, 0, options.top_of_travel_mm};
  r.uses_tool_change = usesToolChange(text);
  if (const auto g54 = options.work_offset_mm.find(1); g54 != options.work_offset_mm.end()) r.origin = g54->second;
  // A move takes at least four characters and nearly always a line of its own.
  r.program.motions.reserve(std::min({countLineEnds(text) + 16, text.size() / 4 + 16, most_reserved,
                                      static_cast<std::size_t>(options.max_motions)}));
  LineReader lines(text);
  while (!r.ended && !r.over_limit && lines.next(r.line)) {
    r.line_number = lines.lineNumber();
    readLine(r);
  }
  if (r.over_limit) {
    addNotFollowed(r, "limit-reached", {r.line_number, 1, 2}, "The program makes more moves than are followed.", "The rest is left out.");
  }
  const bool ended_by_word = !r.program.events.empty() && r.program.events.back().kind == EventKind::end;
  lookAfterEnd(r, lines);
  if (r.percent_open && !r.percent_closed) {
    addProblem(r, "percent-unpaired", r.percent_place, "The program opens with % and is never closed by one.", "It ends with the file.");
  }
  if (!ended_by_word && !(r.percent_open && r.percent_closed) && !r.program.motions.empty()) {
    addProblem(r, "end-missing", {r.program.lines, 0, 0}, "The program ends without M2 or M30.", "It ends with the file.");
  }
  finishProblems(r);
  return std::move(r.program);
}

}  // namespace provecut
