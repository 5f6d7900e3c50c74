// Lines of a text. A line ends with LF, CR LF or CR (NISTIR 6556 3.3).
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace provecut {

class LineReader {
 public:
  explicit LineReader(std::string_view text);  // a byte-order mark at the start is passed over

  // The next line without its end; false at the end of the text.
  bool next(std::string_view& line);
  std::uint32_t lineNumber() const { return line_number_; }  // of the line that next() gave last, from 1

  struct Mark {
    std::size_t offset = 0;
    std::uint32_t line_number = 0;
  };
  Mark mark() const { return {offset_, line_number_}; }  // the line after the last given one
  void seek(Mark m) {
    offset_ = m.offset;
    line_number_ = m.line_number;
  }

 private:
  std::string_view text_;
  std::size_t offset_ = 0;
  // There is no LF in [searched_from_, line_feed_): kept so that files of CR lines, or jumps back, do not search again.
  std::size_t searched_from_ = 1, line_feed_ = 0;
  std::uint32_t line_number_ = 0;
};

// Upper bound of the number of lines, cheap.
std::size_t countLineEnds(std::string_view text);

}  // namespace provecut
