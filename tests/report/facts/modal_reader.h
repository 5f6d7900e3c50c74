// A second reading of a program's modes, written from NISTIR 6556 alone: which words are in force before a line, and
// which of them the rest uses before it sets them again. Shares no code with the product and moves nothing.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace provecut::testing {

// A letter and its number, as {'G', 17}; {'#', n} is the setting of a parameter.
using ReadWord = std::pair<char, double>;

// "G17" → {'G', 17}; of "#2=5" only the number of the parameter. To six decimals.
ReadWord readWord(const std::string& word);

struct ModalReading {
  std::set<ReadWord> words;  // to be set
  std::string bar;  // why the line is none to resume at: "compensation", "cycle", "mode", "position"; else empty
  bool zero_moved = false;  // the program moved its zero before, or probed: this reader does not follow by how much
};

class ModalReader {
 public:
  explicit ModalReader(std::string_view text);

  // From 1. The line has words, and no earlier line ends the program.
  bool runs(std::size_t line) const { return line <= end_ && !lines_[line - 1].words.empty(); }
  std::size_t lines() const { return lines_.size(); }
  ModalReading before(std::size_t line) const;

  bool changesTools() const { return changes_tools_; }  // has M6
  // O words, M98 or parameters with a number that is worked out: beyond this reader.
  bool branches() const { return branches_; }
  // The words of `group` ("units", "distance" …) that the program has anywhere.
  std::set<std::string> groups() const { return groups_; }

 private:
  struct Line {
    std::vector<ReadWord> words;
    std::set<char> letters;
    std::vector<int> reads, sets;  // parameters
    bool has(char letter) const { return letters.contains(letter); }
    bool has(double g) const;
    bool hasM(double m) const;
    double value(char letter) const;
  };
  struct State {
    std::map<std::string, std::string> in_force;  // group → its words; none: not set
    std::set<char> known;                         // axes whose place is known
    std::set<char> kept;                          // letters that a cycle keeps
    bool zero_moved = false;
  };
  // What is looked for from a line on.
  struct Search {
    std::set<std::string> needed, decided;
  };
  struct Step;

  static Line parse(std::string_view text, bool& branches);

  std::vector<Line> lines_;
  std::size_t end_ = 0;  // number of the last line that is run
  bool changes_tools_ = false, branches_ = false;
  std::set<std::string> groups_;
};

}  // namespace provecut::testing
