#include "parser/block/block_grammar.h"

#include <boost/spirit/home/x3.hpp>

#include <array>
#include <functional>
#include <type_traits>

#include "parser/block/block_scan.h"

namespace provecut {

void Block::clear() {
  block_delete = percent = numbered = checksum_wrong = false;
  words.clear();
  settings.clear();
  comments.clear();
  faults.clear();
  extensions.clear();
  operations.clear();
  label.flow = Flow::none;
  label.arguments.clear();
  statement.kind = StatementKind::none;
}

namespace {

namespace x3 = boost::spirit::x3;
using Iterator = const char*;

constexpr int deepest_nesting = 64;  // brackets within brackets: bounds the recursion

// What the actions write to.
struct Building {
  Block& block;
  Iterator begin;
  int depth = 0;
  Word word;  // the one being read
  Setting setting;
  std::uint32_t operations_before = 0;
  std::vector<Op> calls{};            // functions whose arguments are being read
  std::size_t extensions_before = 0;  // the item being read
  Iterator comparison = nullptr;      // where one may begin

  std::uint32_t column(Iterator at) const { return static_cast<std::uint32_t>(at - begin) + 1; }
  std::uint32_t operationCount() const { return static_cast<std::uint32_t>(block.operations.size()); }
  void emit(Op op, double number = 0) { block.operations.push_back({op, number}); }
  void extend(ExtensionKind kind, Iterator from, Iterator to) {
    block.extensions.push_back({kind, column(from), column(to)});
  }
  void fault(FaultKind kind, Iterator from, Iterator to) {
    std::vector<Fault>& faults = block.faults;
    // Unreadable text that runs on is one fault.
    if (!faults.empty() && skipBlanks(begin + faults.back().end_column - 1, from) == from) {
      faults.back().end_column = column(to);
      return;
    }
    faults.push_back({kind, column(from), column(to)});
  }
};

struct BuildingTag;
template <typename Context>
Building& building(const Context& context) {
  return x3::get<BuildingTag>(context).get();
}

// ---- Primitives: spaces mean nothing outside comments, even inside a number or a name (NISTIR 6556 3.3).

// A function of block_scan as a parser of the grammar: `scan(first, last, building, value)` moves `first` past what it
// read; false: nothing was read, and nothing has changed.
template <class Value, class Scan>
struct Primitive : x3::parser<Primitive<Value, Scan>> {
  using attribute_type = Value;
  static constexpr bool has_attribute = !std::is_same_v<Value, x3::unused_type>;
  Scan scan;
  explicit Primitive(Scan s) : scan(s) {}
  template <typename Context, typename RuleContext, typename Attribute>
  bool parse(Iterator& first, const Iterator& last, const Context& context, RuleContext&, Attribute& attribute) const {
    if constexpr (std::is_invocable_v<Scan, Iterator&, Iterator>) {
      return scan(first, last);
    } else if constexpr (has_attribute) {
      Value value{};
      if (!scan(first, last, building(context), value)) return false;
      x3::traits::move_to(value, attribute);
      return true;
    } else {
      return scan(first, last, building(context));
    }
  }
};
template <class Value = x3::unused_type, class Scan>
Primitive<Value, Scan> primitive(Scan scan) {
  return Primitive<Value, Scan>(scan);
}

const auto number = primitive<ScannedNumber>([](Iterator& first, Iterator last, Building& b, ScannedNumber& n) {
  if (!scanNumber(first, last, n)) return false;
  if (n.exponent) b.extend(ExtensionKind::exponent, n.begin, n.end);
  if (n.spaced) b.extend(ExtensionKind::space_in_number, n.begin, n.end);
  first = n.end;
  return true;
});

const auto letter = primitive<Iterator>([](Iterator& first, Iterator last, Building&, Iterator& at) {
  at = skipBlanks(first, last);
  if (at == last || !isWordLetter(*at)) return false;
  first = at + 1;
  return true;
});

const auto function =
    primitive<Op>([](Iterator& first, Iterator last, Building&, Op& op) { return scanFunction(first, last, op); });

auto keyword(std::string_view k) {
  return primitive([k](Iterator& first, Iterator last) { return scanKeyword(first, last, k); });
}

// The library's own asks the C library, which takes no negative char: bytes of UTF-8 are such.
const auto blank = primitive([](Iterator& first, Iterator last) {
  if (first == last || !isBlank(*first)) return false;
  ++first;
  return true;
});

// Where reading stands, before any spaces.
const auto here = primitive<Iterator>([](Iterator& first, Iterator, Building&, Iterator& at) {
  at = first;
  return true;
});

// Consumes what cannot be read, so that the rest of the line still is.
const auto unreadable = primitive([](Iterator& first, Iterator last, Building& b) {
  const Iterator from = skipBlanks(first, last);
  if (from == last) return false;
  const Unreadable u = scanUnreadable(from, last);
  b.block.extensions.resize(b.extensions_before);  // those of readings that failed
  b.fault(u.kind, from, u.end);
  first = u.end;
  return true;
});

const auto comment = primitive([](Iterator& first, Iterator last, Building& b) {
  const Iterator from = skipBlanks(first, last);
  if (from == last || (*from != '(' && *from != ';')) return false;
  const ScannedComment c = scanComment(from, last);
  b.block.comments.push_back({b.column(from), b.column(c.end), c.text});
  if (c.semicolon) b.extend(ExtensionKind::semicolon_comment, from, c.end);
  if (c.unclosed) b.extend(ExtensionKind::unclosed_comment, from, c.end);
  if (c.nested) b.extend(ExtensionKind::nested_comment, from, c.end);
  first = c.end;
  return true;
});

const auto line_number =
    primitive<ScannedLineNumber>([](Iterator& first, Iterator last, Building&, ScannedLineNumber& n) {
      if (!scanLineNumber(first, last, n) || !n.readable) return false;
      first = n.end;
      return true;
    });

const auto label = primitive([](Iterator& first, Iterator last, Building& b) {
  const Iterator from = skipBlanks(first, last);
  Iterator end = from;
  Label& l = b.block.label;
  if (!scanLabel(end, last, l.flow, l.name)) return false;
  l.column = b.column(from);
  l.end_column = b.column(end);
  b.extend(ExtensionKind::label, from, end);
  first = end;
  return true;
});

const auto checksum = primitive([](Iterator& first, Iterator last, Building& b) {
  const Iterator from = skipBlanks(first, last);
  Iterator end = from;
  bool right = true;
  if (!scanChecksum(end, last, b.begin, right)) return false;
  b.block.checksum_wrong = !right;
  b.extend(ExtensionKind::checksum, from, end);
  first = end;
  return true;
});

// A bracketed part, no deeper than the limit.
template <typename Subject>
struct NestedParser : x3::unary_parser<Subject, NestedParser<Subject>> {
  using Base = x3::unary_parser<Subject, NestedParser<Subject>>;
  using attribute_type = x3::unused_type;
  static constexpr bool has_attribute = false;
  static constexpr bool handles_container = false;
  explicit NestedParser(const Subject& s) : Base(s) {}
  template <typename Context, typename RuleContext, typename Attribute>
  bool parse(Iterator& first, const Iterator& last, const Context& context, RuleContext& r,
             Attribute& attribute) const {
    Building& b = building(context);
    if (b.depth >= deepest_nesting) return false;
    ++b.depth;
    const bool read = this->subject.parse(first, last, context, r, attribute);
    --b.depth;
    return read;
  }
};
template <typename Subject>
NestedParser<Subject> nested(const Subject& subject) {
  return NestedParser<Subject>(subject);
}

// ---- Expressions (NISTIR 6556 3.3.2.3): values go to Block::operations in postfix order.

const auto pushNumber = [](auto& c) { building(c).emit(Op::number, x3::_attr(c).value); };
template <Op op>
const auto push = [](auto& c) { building(c).emit(op); };
const auto startCall = [](auto& c) { building(c).calls.push_back(x3::_attr(c)); };
const auto finishCall = [](auto& c) {
  Building& b = building(c);
  b.emit(b.calls.back());
  b.calls.pop_back();
};
const auto noteSign = [](auto& c) {
  const Iterator after = x3::_attr(c);
  building(c).extend(ExtensionKind::signed_value, after - 1, after);
};
const auto startComparison = [](auto& c) { building(c).comparison = x3::_attr(c); };
const auto noteComparison = [](auto& c) {
  Building& b = building(c);
  const Iterator end = x3::_attr(c);
  b.extend(ExtensionKind::comparison, skipBlanks(b.comparison, end), end);
};

const x3::rule<struct ExpressionId> expression = "expression";
const x3::rule<struct ComputedId> computed = "computed value";
const x3::rule<struct PrimaryId> primary = "value";
const x3::rule<struct SumId> sum = "sum";

const auto bracketed = nested('[' >> expression >> ']');
// The argument is read before its function is written: postfix order.
const auto call = function[startCall] >> bracketed >> x3::eps[finishCall];
const auto arc_tangent = keyword("ATAN") >> bracketed >> '/' >> bracketed >> x3::eps[push<Op::atan>];
// A sign before anything but a number is not in the standard's grammar, yet often written.
const auto signed_value = ('-' >> here[noteSign] >> nested(computed) >> x3::eps[push<Op::negate>]) |
                          ('+' >> here[noteSign] >> nested(computed));
const auto computed_def =
    bracketed | ('#' >> nested(primary) >> x3::eps[push<Op::parameter>]) | arc_tangent | call | signed_value;
const auto primary_def = number[pushNumber] | computed;

const auto power = primary >> *("**" >> primary >> x3::eps[push<Op::power>]);
const auto product = power >>
                     *(('*' >> power >> x3::eps[push<Op::multiply>]) | ('/' >> power >> x3::eps[push<Op::divide>]) |
                       (keyword("MOD") >> power >> x3::eps[push<Op::modulo>]));
const auto sum_def = product >>
                     *(('+' >> product >> x3::eps[push<Op::add>]) | ('-' >> product >> x3::eps[push<Op::subtract>]) |
                       (keyword("OR") >> product >> x3::eps[push<Op::logical_or>]) |
                       (keyword("XOR") >> product >> x3::eps[push<Op::logical_xor>]) |
                       (keyword("AND") >> product >> x3::eps[push<Op::logical_and>]));
template <Op op>
auto comparison(std::string_view name) {
  return here[startComparison] >> keyword(name) >> here[noteComparison] >> sum >> x3::eps[push<op>];
}
const auto expression_def = sum >> *(comparison<Op::equal>("EQ") | comparison<Op::not_equal>("NE") |
                                     comparison<Op::greater>("GT") | comparison<Op::greater_equal>("GE") |
                                     comparison<Op::less>("LT") | comparison<Op::less_equal>("LE"));
BOOST_SPIRIT_DEFINE(expression, computed, primary, sum)

// ---- Words and settings.

const auto startWord = [](auto& c) {
  Building& b = building(c);
  const Iterator at = x3::_attr(c);
  b.operations_before = b.operationCount();
  b.word = {upper(*at), b.column(at), 0, 0, {}};
};
const auto finishNumber = [](auto& c) {
  Building& b = building(c);
  const ScannedNumber& n = x3::_attr(c);
  if (!endsWord(n.end, n.last)) {
    x3::_pass(c) = false;
    return;
  }
  b.word.value = n.value;
  b.word.end_column = b.column(n.end);
  b.block.words.push_back(b.word);
};
const auto finishExpression = [](auto& c) {
  Building& b = building(c);
  b.word.end_column = b.column(x3::_attr(c));
  b.word.expression = {b.operations_before, b.operationCount()};
  b.block.words.push_back(b.word);
};
const auto word = letter[startWord] >> (number[finishNumber] | (computed >> here[finishExpression]));

const auto startSetting = [](auto& c) {
  Building& b = building(c);
  const Iterator at = x3::_attr(c);
  b.setting = {b.column(at), 0, {b.operationCount(), b.operationCount()}, {}};
};
const auto finishIndex = [](auto& c) {
  Building& b = building(c);
  b.setting.index.last = b.setting.value.first = b.operationCount();
};
const auto finishSetting = [](auto& c) {
  Building& b = building(c);
  b.setting.end_column = b.column(x3::_attr(c));
  b.setting.value.last = b.operationCount();
  b.block.settings.push_back(b.setting);
};
const auto setting = &x3::lit('#') >> here[startSetting] >> '#' >> primary >> x3::lit('=')[finishIndex] >> primary
                     >> here[finishSetting];

// ---- The line (NISTIR 6556 3.3): "/", line number, then words, settings and comments in any order.

const auto setDelete = [](auto& c) { building(c).block.block_delete = true; };
const auto setNumber = [](auto& c) {
  Building& b = building(c);
  const ScannedLineNumber& n = x3::_attr(c);
  const bool at_start = b.block.words.empty() && b.block.settings.empty() && !b.block.numbered;
  if (!at_start) b.extend(ExtensionKind::misplaced_line_number, n.begin, n.end);
  if (!n.well_formed)
    b.extend(n.plain ? ExtensionKind::long_line_number : ExtensionKind::faulty_line_number, n.begin, n.end);
  b.block.numbered = true;
};
const auto setColon = [](auto& c) {
  Building& b = building(c);
  b.extend(ExtensionKind::colon, x3::_attr(c), x3::_attr(c) + 1);
};
const auto startArgument = [](auto& c) {
  Building& b = building(c);
  b.operations_before = b.operationCount();
};
const auto finishArgument = [](auto& c) {
  Building& b = building(c);
  b.block.label.arguments.push_back({b.operations_before, b.operationCount()});
};

const auto argument = here[startArgument] >> bracketed >> here[finishArgument];
const auto colon = &x3::lit(':') >> here[setColon] >> ':';
const auto startItem = [](auto& c) {
  Building& b = building(c);
  b.extensions_before = b.block.extensions.size();
};
const auto item = here[startItem] >> (word | comment | line_number[setNumber] | setting | checksum | unreadable);
const auto line = -x3::lit('/')[setDelete] >> -line_number[setNumber] >> -(label >> *argument | colon) >> *item;

}  // namespace

void readBlock(std::string_view text, Block& block) {
  block.clear();
  Iterator first = text.data();
  Iterator last = first + text.size();
  Building b{block, first, 0, {}, {}, 0};
  if (const Iterator start = skipBlanks(first, last); start < last && *start == '%') {
    block.percent = true;
    if (const Iterator rest = skipBlanks(start + 1, last); rest < last)
      b.extend(ExtensionKind::percent_text, rest, last);
    return;
  }
  if (const ScannedStatement s = scanStatement(first, last); s.kind != StatementKind::none) {
    block.statement = {s.kind, b.column(s.begin), b.column(s.end)};
    last = s.begin;
  }
  const auto grammar = x3::with<BuildingTag>(std::ref(b))[line];
  x3::phrase_parse(first, last, grammar, blank);
}

}  // namespace provecut
