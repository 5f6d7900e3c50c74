#include "parser/line_reader.h"

#include <algorithm>
#include <cstring>

namespace provecut {

namespace {

std::size_t find(std::string_view text, char c, std::size_t from) {
  if (from >= text.size()) return text.size();
  const void* at = std::memchr(text.data() + from, c, text.size() - from);
  return at == nullptr ? text.size() : static_cast<std::size_t>(static_cast<const char*>(at) - text.data());
}

}  // namespace

LineReader::LineReader(std::string_view text) : text_(text) {
  if (text_.starts_with("\xEF\xBB\xBF")) text_.remove_prefix(3);
  seek({0, 0});
}

void LineReader::seek(Mark m) {
  offset_ = m.offset;
  line_number_ = m.line_number;
  line_feed_ = find(text_, '\n', offset_);
  carriage_return_ = find(text_, '\r', offset_);
}

bool LineReader::next(std::string_view& line) {
  if (offset_ >= text_.size()) return false;
  if (line_feed_ < offset_) line_feed_ = find(text_, '\n', offset_);
  if (carriage_return_ < offset_) carriage_return_ = find(text_, '\r', offset_);
  const std::size_t stop = std::min(line_feed_, carriage_return_);
  line = text_.substr(offset_, stop - offset_);
  offset_ = stop + 1;
  if (carriage_return_ == stop && offset_ < text_.size() && text_[offset_] == '\n') ++offset_;
  ++line_number_;
  return true;
}

std::size_t countLineEnds(std::string_view text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n') + std::count(text.begin(), text.end(), '\r'));
}

}  // namespace provecut
