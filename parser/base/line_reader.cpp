#include "parser/base/line_reader.h"

#include <algorithm>
#include <cstring>

namespace provecut {

namespace {

// Place of `c` in [from, stop), or `stop`.
std::size_t find(std::string_view text, char c, std::size_t from, std::size_t stop) {
  if (from >= stop) return stop;
  const void* at = std::memchr(text.data() + from, c, stop - from);
  return at == nullptr ? stop : static_cast<std::size_t>(static_cast<const char*>(at) - text.data());
}

}  // namespace

LineReader::LineReader(std::string_view text) : text_(text) {
  if (text_.starts_with("\xEF\xBB\xBF")) text_.remove_prefix(3);
}

bool LineReader::next(std::string_view& line) {
  if (offset_ >= text_.size()) return false;
  if (offset_ < searched_from_ || offset_ > line_feed_) {
    line_feed_ = find(text_, '\n', offset_, text_.size());
    searched_from_ = offset_;
  }
  const std::size_t stop = find(text_, '\r', offset_, line_feed_);
  line = text_.substr(offset_, stop - offset_);
  offset_ = stop + 1;
  if (stop < line_feed_ && offset_ == line_feed_) ++offset_;
  ++line_number_;
  return true;
}

std::size_t countLineEnds(std::string_view text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n') +
                                  std::count(text.begin(), text.end(), '\r'));
}

}  // namespace provecut
