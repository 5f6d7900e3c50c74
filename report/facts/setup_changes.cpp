#include "report/facts/setup_changes.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "parser/block/block_grammar.h"
#include "report/base/comment_tokens.h"
#include "report/base/zero_comment.h"

namespace provecut {

namespace {

using Words = std::vector<CommentToken>;

template <std::size_t n>
bool oneOf(std::string_view word, const std::array<std::string_view, n>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

constexpr std::array<std::string_view, 10> workpiece_words{"part", "stock",    "workpiece", "block", "blank",
                                                           "over", "material", "board",     "panel", "around"};
constexpr std::array<std::string_view, 6> turn_words{"turn", "turned", "rotate", "rotated", "roll", "invert"};
constexpr std::array<std::string_view, 6> flip_words{"flip", "flipped", "flipping", "wenden", "umspannen", "umdrehen"};
constexpr std::array<std::string_view, 4> other_words{"other", "second", "opposite", "reverse"};
constexpr std::array<std::string_view, 4> next_words{"second", "third", "next", "new"};
constexpr std::array<std::string_view, 3> setup_words{"setup", "fixture", "vise"};
constexpr std::array<std::string_view, 3> operation_words{"op", "ops", "operation"};

// The part is turned over or moved, or this is its other side, or its second setup.
bool saysAnotherSetup(const Words& words) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string_view word = words[i].text;
    const CommentToken* next = i + 1 < words.size() ? &words[i + 1] : nullptr;
    if (oneOf(word, flip_words)) return true;
    if (oneOf(word, turn_words) &&
        std::any_of(words.begin() + static_cast<std::ptrdiff_t>(i), words.end(),
                    [](const CommentToken& w) { return oneOf(w.text, workpiece_words); }) &&
        std::none_of(words.begin(), words.end(),
                     [](const CommentToken& w) { return w.text == "on" || w.text == "off"; }))
      return true;
    if (!next) continue;
    if (oneOf(word, other_words) && next->text == "side") return true;
    // Further on in a comment they may say where a pocket is.
    if (i == 0 && (word == "back" || word == "bottom") && next->text == "side") return true;
    if (word == "side" && (next->value == 2 || next->text == "b")) return true;
    if (oneOf(word, next_words) && oneOf(next->text, setup_words)) return true;
    if (word == "setup" && next->value >= 2) return true;
  }
  return false;
}

// "OP 2", "OPERATION 20"
std::optional<double> operationOf(const Words& words) {
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    if (!oneOf(words[i].text, operation_words)) continue;
    const std::size_t at = words[i + 1].text == "." && i + 2 < words.size() ? i + 2 : i + 1;
    if (words[at].kind == CommentToken::Kind::number) return words[at].value;
  }
  return std::nullopt;
}

bool differs(const std::string& a, const std::string& b) {
  return !a.empty() && !b.empty() && a != b;
}

bool differs(const ZeroComment& a, const ZeroComment& b) {
  return differs(a.x, b.x) || differs(a.y, b.y) || differs(a.z, b.z);
}

// What stands between two lines that move: comments, stops, work offsets.
struct Between {
  std::vector<std::pair<Place, std::string>> comments;
  std::optional<Place> stop, offset;
};

bool mayCut(const Motion& m) {
  return m.kind == MotionKind::feed || isArc(m) || (m.flags & motion_in_cycle) != 0;
}

// Reads a program's text for what its moves do not show.
class ChangeReader {
 public:
  explicit ChangeReader(const ProgramFacts& program) : program_(program) {}

  std::vector<SetupChange> read() {
    const auto lines = static_cast<std::uint32_t>(program_.line_starts.size());
    for (std::uint32_t number = 1; number <= lines; ++number) {
      const std::string_view text = program_.line(number);
      // Most lines of a program only move.
      const bool plain = text.find_first_of("(;Mm") == std::string_view::npos &&
                         text.find("G5") == std::string_view::npos && text.find("g5") == std::string_view::npos;
      if (plain && between_.comments.empty() && !between_.stop && !between_.offset) continue;
      readLine(number, text);
    }
    return std::move(changes_);
  }

 private:
  void readLine(std::uint32_t number, std::string_view text) {
    readBlock(text, block_);
    const auto place = [&](const auto& part) { return Place{number, part.column, part.end_column}; };
    for (const Comment& c : block_.comments) between_.comments.emplace_back(place(c), std::string(c.text));
    if (block_.statement.kind == StatementKind::text) {
      const Statement& s = block_.statement;
      between_.comments.emplace_back(place(s), std::string(text.substr(s.column - 1, s.end_column - s.column)));
    }
    bool goes_somewhere = false;
    for (const Word& w : block_.words) {
      const bool stops = w.letter == 'M' && (w.value == 0 || w.value == 1 || w.value == 60);
      if (stops && !between_.stop) between_.stop = place(w);
      if (w.letter == 'G' && w.value >= 54 && w.value < 60) {
        if (offset_ > 0 && w.value != offset_) between_.offset = place(w);
        offset_ = w.value;
      }
      goes_somewhere = goes_somewhere || w.letter == 'X' || w.letter == 'Y' || w.letter == 'Z';
    }
    if (goes_somewhere) judge(number);
  }

  // `next`: the line that moves again.
  void judge(std::uint32_t next) {
    std::optional<Place> first;
    bool zero_named = false;
    std::optional<Place> operation_place;
    for (const auto& [place, text] : between_.comments) {
      const std::string plain = plainComment(text);
      const Words words = commentTokens(plain);
      if (!first && saysAnotherSetup(words)) first = place;
      if (const auto zero = readZeroComment(text)) {
        zero_named = true;
        if (!first && zero_ && differs(*zero, *zero_)) first = operation_place ? *operation_place : place;
        zero_ = zero;
      }
      if (const auto number = operationOf(words)) {
        if (operation_ && *number != *operation_ && !operation_place) operation_place = place;
        operation_ = number;
      }
    }
    // An operation may be a pass only; with a zero of its own it is a setup.
    if (!first && operation_place && zero_named) first = operation_place;
    const bool by_stop = between_.stop.has_value();
    if (first && (by_stop || between_.offset)) add(*first, by_stop ? *between_.stop : *between_.offset, by_stop, next);
    between_ = {};
  }

  void add(Place comment, Place stop, bool by_stop, std::uint32_t next) {
    const std::vector<Motion>& motions = program_.program.motions;
    const auto at = std::find_if(motions.begin(), motions.end(), [&](const Motion& m) { return m.line >= next; });
    if (std::none_of(motions.begin(), at, mayCut) || std::none_of(at, motions.end(), mayCut)) return;
    changes_.push_back({comment, stop, static_cast<std::uint32_t>(at - motions.begin()), by_stop});
  }

  const ProgramFacts& program_;
  Block block_;
  Between between_;
  double offset_ = 0;  // G54 …; 0: none yet
  std::optional<double> operation_;
  std::optional<ZeroComment> zero_;
  std::vector<SetupChange> changes_;
};

}  // namespace

std::vector<SetupChange> setupChanges(const ProgramFacts& program) {
  return ChangeReader(program).read();
}

std::vector<SetupChange> setupChanges(const Facts& facts, std::size_t program) {
  const ProgramFacts& p = facts.programs[program];
  const bool accepted = std::any_of(facts.job.accepts.begin(), facts.job.accepts.end(), [&](const Accept& a) {
    return a.rule == "setup-change" && (a.program.empty() || (p.entry && a.program == p.entry->file));
  });
  return accepted ? std::vector<SetupChange>{} : setupChanges(p);
}

}  // namespace provecut
