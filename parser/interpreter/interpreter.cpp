#include "parser/interpreter/interpreter.h"

#include <algorithm>
#include <string>

#include "parser/base/line_reader.h"
#include "parser/base/quoted_text.h"
#include "parser/block/block_grammar.h"
#include "parser/interpreter/reading.h"

namespace provecut {

namespace {

constexpr std::size_t longest_line = 65'536;        // beyond: not read, so that time and memory stay bounded
constexpr std::size_t longest_standard_line = 256;  // NISTIR 6556 3.3
constexpr std::size_t max_reserved = 4'000'000;

// Where the comment ends that `at` stands in; `at` itself when it stands in none.
std::size_t commentEnd(std::string_view text, std::size_t at) {
  for (std::size_t q = at; q-- > 0 && text[q] != '\n' && text[q] != '\r' && text[q] != ')';) {
    if (text[q] != '(' && text[q] != ';') continue;
    return std::min(text.find_first_of(text[q] == '(' ? ")\r\n" : "\r\n", at), text.size());
  }
  return at;
}

// Old systems end their files with Ctrl-Z or NULs, perhaps with line ends between.
std::string_view withoutTail(std::string_view text) {
  using namespace std::string_view_literals;
  const std::size_t last = text.find_last_not_of("\x1A\0 \t\r\n"sv);
  return text.substr(0, text.find_first_of("\x1A\0"sv, last == std::string_view::npos ? 0 : last + 1));
}

// Whether M6 stands anywhere outside comments: without it a T word alone changes the tool.
bool usesToolChange(std::string_view text) {
  for (const char letter : {'M', 'm'}) {
    for (std::size_t at = text.find(letter); at != std::string_view::npos; at = text.find(letter, at + 1)) {
      std::size_t p = at + 1;
      while (p < text.size() && (text[p] == ' ' || text[p] == '\t' || text[p] == '0')) ++p;
      if (p == text.size() || text[p] != '6') continue;
      if (p + 1 < text.size() && text[p + 1] >= '0' && text[p + 1] <= '9') continue;
      const std::size_t end = commentEnd(text, at);
      if (end == at) return true;
      at = end;
    }
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
  if (comment.size() >= 2 && (comment[0] == 'T' || comment[0] == 't') && comment[1] >= '0' && comment[1] <= '9')
    return true;
  for (const std::string_view word :
       {"tool", "endmill", "end mill", "drill", "cutter", "ball nose", "ballnose", "v-bit", "vbit", "diameter"}) {
    if (containsWord(comment, word)) return true;
  }
  return false;
}

void noteToolComments(interpreter::Reading& r) {
  constexpr std::size_t max_comments = 1000, longest_comment = 200;
  for (const Comment& c : r.block.comments) {
    if (r.comment_count >= max_comments || !describesTool(c.text)) continue;
    ++r.comment_count;
    interpreter::addEvent(r, EventKind::comment_tool, 0, {r.line_number, c.column, c.end_column},
                          shownText(c.text, longest_comment));
  }
}

// The % lines that may frame a program (NISTIR 6556 3.1).
void readPercent(interpreter::Reading& r, Place place) {
  if (!r.percent_open && !r.any_words) {
    r.percent_open = true;
    r.percent_place = place;
    return;
  }
  if (!r.percent_open) {
    interpreter::tolerate(r, "percent-unpaired", "percent-refused", place,
                          "A % line ends the program, and none begins it.", "The program ends here.");
  }
  r.percent_closed = true;
  r.ended = true;
}

void noteBlockDelete(interpreter::Reading& r) {
  const bool on = r.options.block_delete;
  interpreter::addProblemOnce(
      r, "block-delete", {r.line_number, 1, static_cast<std::uint32_t>(r.line.size()) + 1},
      "The machine's block-delete switch decides whether this line, and others that begin with /, are run.",
      on ? "The switch is taken as on: they are skipped." : "The switch is taken as off: they are run.",
      on ? "Check the program without --block-delete too." : "Check the program with --block-delete too.");
}

void readLine(interpreter::Reading& r) {
  if (r.line.size() > longest_line) {
    interpreter::addNotFollowed(r, "limit-reached", {r.line_number, 1, 2},
                                "The line has " + std::to_string(r.line.size()) + " characters, more than are read.",
                                "The line is left out.");
    return;
  }
  if (r.line.size() > longest_standard_line) {
    interpreter::tolerate(r, "", "line-over-256", {r.line_number, 257, static_cast<std::uint32_t>(r.line.size()) + 1},
                          "The line has " + std::to_string(r.line.size()) + " characters; the standard allows 256.",
                          "It is read whole.");
  }
  const Block& block = r.block;
  readBlock(r.line, r.block);
  if (!block.comments.empty()) noteToolComments(r);
  if (block.percent) {
    for (const Extension& e : block.extensions) {
      const Place place{r.line_number, e.column, e.end_column};
      interpreter::addProblem(r, "syntax", place, "Text stands on the line of a %.", "It is left out.");
    }
    readPercent(r, {r.line_number, 1, 2});
    return;
  }
  r.any_words |= !block.words.empty() || !block.settings.empty();
  interpreter::reportSyntax(r);
  if (block.block_delete && !block.empty()) noteBlockDelete(r);
  if (block.block_delete && r.options.block_delete) return;  // read all the same: NISTIR 6556 A.1
  if (!block.words.empty() || !block.settings.empty()) {
    interpreter::gatherWords(r);
    interpreter::runLine(r);
  }
  if (block.label.flow > Flow::label) {
    interpreter::noteUse(r, "subprograms", {r.line_number, block.label.column, block.label.end_column});
    r.flow.runLabel(r);
  }
}

// Lines after the end are not run; say so where they would do something.
void lookAfterEnd(interpreter::Reading& r) {
  constexpr std::uint32_t max_looked_at = 10'000;
  LineReader& lines = r.flow.lines();
  std::uint32_t looked = 0;
  bool said = false, subprograms = false;
  while (lines.next(r.line)) {
    if (r.line.size() > longest_line || said || subprograms || ++looked > max_looked_at) continue;
    r.line_number = lines.lineNumber();
    readBlock(r.line, r.block);
    r.percent_closed |= r.block.percent;
    subprograms = r.block.label.flow != Flow::none;
    const bool only_end = std::all_of(r.block.words.begin(), r.block.words.end(),
                                      [](const Word& w) { return w.letter == 'M' && (w.value == 2 || w.value == 30); });
    // Lines run before the end, in a loop or subprogram, are none of them.
    if (subprograms || only_end || r.line_number <= r.program.lines) continue;
    said = true;
    interpreter::addProblem(r, "text-after-end",
                            {r.line_number, r.block.words.front().column, r.block.words.back().end_column},
                            "Words stand after the end of the program.", "They are not run.");
  }
  r.program.lines = std::max(r.program.lines, lines.lineNumber());
}

void reportEnd(interpreter::Reading& r) {
  const Place end{r.program.lines, 0, 0};
  if (r.percent_open && !r.percent_closed) {
    interpreter::tolerate(r, "percent-unpaired", "percent-refused", r.percent_place,
                          "The program opens with % and is never closed by one.", "It ends with the file.");
  }
  const bool framed = r.percent_open && r.percent_closed;
  if (!r.ended_by_word && !framed && r.any_words) {
    interpreter::tolerate(r, r.program.motions.empty() ? "" : "end-missing", "end-refused", end,
                          "The program ends without M2 or M30.", "It ends with the file.");
  }
  if (!r.ended_by_word && r.state.incremental && r.any_words) {
    interpreter::addProblem(r, "incremental-at-end", end, "The program ends with G91 in force.", {},
                            "The next program may then read its coordinates as increments: end with G90.");
  }
  interpreter::reportFeedFromUnknown(r);
  if (r.repeated_points > 0) {
    interpreter::addProblem(r, "repeated-point", r.first_repeated_point,
                            std::to_string(r.repeated_points) +
                                (r.repeated_points == 1 ? " feed move ends" : " feed moves end") +
                                " where the tool stands already.");
  }
}

}  // namespace

Program interpret(std::string_view whole, const InterpreterOptions& options) {
  const std::string_view text = withoutTail(whole);
  interpreter::Reading r(text, options);
  r.state.tool = options.tool_in_spindle;
  r.position = {0, 0, options.top_of_travel_mm};
  r.uses_tool_change = usesToolChange(text);
  if (const auto g54 = options.work_offset_mm.find(1); g54 != options.work_offset_mm.end()) r.origin = g54->second;
  // A move takes at least four characters and nearly always a line of its own.
  r.program.motions.reserve(std::min(
      {countLineEnds(text) + 16, text.size() / 4 + 16, max_reserved, static_cast<std::size_t>(options.max_motions)}));
  while (!r.ended && !r.over_limit && r.flow.next(r)) {
    r.program.lines = std::max(r.program.lines, r.line_number);
    readLine(r);
  }
  if (r.over_limit) {
    interpreter::addNotFollowed(r, "limit-reached", {r.line_number, 1, 2},
                                "The program makes more moves than are followed.", "The rest is left out.");
  }
  lookAfterEnd(r);
  reportEnd(r);
  if (text.size() < whole.size()) {
    interpreter::tolerate(r, "beyond-standard", "syntax", {r.program.lines, 0, 0},
                          "The file ends with Ctrl-Z or NUL characters.", "They are left out.");
  }
  interpreter::finishProblems(r);
  return std::move(r.program);
}

}  // namespace provecut
