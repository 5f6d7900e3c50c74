// One line of a program as it is written: words with their places, comments, settings, and what could not be read.
// Knows nothing of what the words mean.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/place.h"
#include "parser/block/statement.h"

namespace provecut {

// One step of an expression in postfix order, so that a value needs neither tree nor allocation.
enum class Op : std::uint8_t {
  number,
  parameter,
  negate,
  add,
  subtract,
  multiply,
  divide,
  modulo,
  power,
  logical_and,
  logical_or,
  logical_xor,
  equal,
  not_equal,
  greater,
  greater_equal,
  less,
  less_equal,
  abs,
  acos,
  asin,
  atan,
  cos,
  exp,
  fix,
  fup,
  ln,
  round,
  sin,
  sqrt,
  tan,
};

struct Operation {
  Op op = Op::number;
  double number = 0;
};

// Part of Block::operations.
struct Range {
  std::uint32_t first = 0, last = 0;
  bool empty() const { return first == last; }
};

// Columns count bytes from 1.
struct Word {
  char letter = 0;  // upper case
  std::uint32_t column = 0, end_column = 0;
  double value = 0;  // when `expression` is empty
  Range expression;
};

struct Setting {  // #index = value
  std::uint32_t column = 0, end_column = 0;
  Range index, value;
};

struct Comment {
  std::uint32_t column = 0, end_column = 0;
  std::string_view text;  // without its marks
};

enum class FaultKind : std::uint8_t {  // left out of the block
  unknown_letter,
  no_value,
  bad_number,
  bad_expression,
  unknown_function,
  half_arc_tangent,
  stray_character,
  stray_bracket,
  stray_slash,
  bad_setting,
  bad_line_number,
  control_character,
};

enum class ExtensionKind : std::uint8_t {  // read, though the published standard does not have it
  semicolon_comment,
  unclosed_comment,
  nested_comment,
  exponent,
  signed_value,
  comparison,
  long_line_number,    // more than five digits
  faulty_line_number,  // far more, or with a point
  misplaced_line_number,
  label,
  colon,
  checksum,
  percent_text,
  space_in_number,
};

struct Fault {
  FaultKind kind;
  std::uint32_t column = 0, end_column = 0;
};

struct Extension {
  ExtensionKind kind;
  std::uint32_t column = 0, end_column = 0;
};

enum class Flow : std::uint8_t {
  none,
  label,
  sub,
  endsub,
  call,
  return_,
  if_,
  elseif,
  else_,
  endif,
  while_,
  endwhile,
  do_,
  repeat,
  endrepeat,
  break_,
  continue_,
};

// O word at the start of a line.
struct Label {
  Flow flow = Flow::none;
  std::string name;  // digits without leading zeros, or the text between < and >, upper case
  std::uint32_t column = 0, end_column = 0;
  std::vector<Range> arguments;
};

// What is on the line behind its words and is no G-code.
struct Statement {
  StatementKind kind = StatementKind::none;
  std::uint32_t column = 0, end_column = 0;
};

struct Block {
  bool block_delete = false;  // starts with "/"
  bool percent = false;       // starts with "%"
  bool numbered = false;      // has an N number
  bool checksum_wrong = false;
  std::vector<Word> words;
  std::vector<Setting> settings;
  std::vector<Comment> comments;
  std::vector<Fault> faults;
  std::vector<Extension> extensions;
  std::vector<Operation> operations;
  Label label;
  Statement statement;

  void clear();
  bool empty() const { return words.empty() && settings.empty() && label.flow == Flow::none && !percent; }
};

}  // namespace provecut
