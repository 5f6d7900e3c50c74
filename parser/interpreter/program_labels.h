// Where O words stand in a program: the targets of calls and jumps.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "parser/base/line_reader.h"
#include "parser/block/block.h"

namespace provecut::interpreter {

struct LabelLine {
  Flow flow = Flow::none;
  std::string name;              // as Label::name
  LineReader::Mark line;         // where the line begins
  LineReader::Mark after;        // the line after it
  std::size_t next_of_name = 0;  // index of the next line with the same name; the list's size: none
};

class ProgramLabels {
 public:
  explicit ProgramLabels(std::string_view text);

  // Index of the label line with this number in the file; none: size().
  std::size_t at(std::uint32_t line_number) const;
  // The plain label or the sub of this name; none: size().
  std::size_t find(std::string_view name, Flow flow) const;
  // The next line of the same name after `index` whose flow is `a` or `b`; none: size().
  std::size_t nextOf(std::size_t index, Flow a, Flow b = Flow::none, Flow c = Flow::none) const;

  // Is the line between an if and its endif, or one of those in between?
  bool inBranch(std::uint32_t line_number) const;

  // Lines looked at by nextOf() so far: a measure of the work done, for limits.
  std::uint64_t steps() const { return steps_; }

  const LabelLine& operator[](std::size_t index) const { return lines_[index]; }
  std::size_t size() const { return lines_.size(); }

 private:
  std::vector<LabelLine> lines_;
  std::map<std::pair<std::string, Flow>, std::size_t> first_;
  // From each if, the first and the last of the lines after it up to its endif; in order of the first.
  struct Branch {
    std::uint32_t first = 0, last = 0;
  };
  std::vector<Branch> branches_;
  mutable std::uint64_t steps_ = 0;
};

}  // namespace provecut::interpreter
