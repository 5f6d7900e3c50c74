#include "parser/interpreter/program_labels.h"

#include <algorithm>
#include <iterator>
#include <unordered_map>

#include "parser/block/block_scan.h"

namespace provecut::interpreter {

ProgramLabels::ProgramLabels(std::string_view text) {
  LineReader reader(text);
  std::string_view line;
  for (LineReader::Mark before = reader.mark(); reader.next(line); before = reader.mark()) {
    const char* first = skipBlanks(line.data(), line.data() + line.size());
    const char* const last = line.data() + line.size();
    if (first < last && *first == '/') ++first;
    ScannedLineNumber number;
    if (scanLineNumber(first, last, number) && number.readable) first = number.end;
    LabelLine label;
    if (!scanLabel(first, last, label.flow, label.name)) continue;
    label.line = before;
    label.after = reader.mark();
    first_.try_emplace({label.name, label.flow}, lines_.size());
    lines_.push_back(label);
  }
  std::unordered_map<std::string_view, std::size_t> later;
  std::unordered_map<std::string_view, std::uint32_t> ends;  // of the next endif
  for (std::size_t i = lines_.size(); i-- > 0;) {
    const auto [it, first_seen] = later.try_emplace(lines_[i].name, lines_.size());
    lines_[i].next_of_name = it->second;
    it->second = i;
    if (lines_[i].flow == Flow::endif) ends[lines_[i].name] = lines_[i].after.line_number;
    const auto end = ends.find(lines_[i].name);
    if (lines_[i].flow == Flow::if_ && end != ends.end())
      branches_.push_back({lines_[i].after.line_number + 1, end->second});
  }
  std::reverse(branches_.begin(), branches_.end());
  // A branch within another one reaches as far as that: the last one that begins before a line then tells.
  for (std::size_t i = 1; i < branches_.size(); ++i)
    branches_[i].last = std::max(branches_[i].last, branches_[i - 1].last);
}

bool ProgramLabels::inBranch(std::uint32_t line_number) const {
  const auto after = std::upper_bound(branches_.begin(), branches_.end(), line_number,
                                      [](std::uint32_t n, const Branch& b) { return n < b.first; });
  return after != branches_.begin() && line_number <= std::prev(after)->last;
}

std::size_t ProgramLabels::at(std::uint32_t line_number) const {
  const auto it = std::lower_bound(lines_.begin(), lines_.end(), line_number,
                                   [](const LabelLine& l, std::uint32_t n) { return l.after.line_number < n; });
  return it == lines_.end() || it->after.line_number != line_number ? size()
                                                                    : static_cast<std::size_t>(it - lines_.begin());
}

std::size_t ProgramLabels::find(std::string_view name, Flow flow) const {
  const auto found = first_.find({std::string(name), flow});
  return found == first_.end() ? size() : found->second;
}

std::size_t ProgramLabels::nextOf(std::size_t index, Flow a, Flow b, Flow c) const {
  for (std::size_t i = lines_[index].next_of_name; i < lines_.size(); i = lines_[i].next_of_name) {
    ++steps_;
    const Flow flow = lines_[i].flow;
    if (flow == a || flow == b || flow == c) return i;
  }
  return size();
}

}  // namespace provecut::interpreter
