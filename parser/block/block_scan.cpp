#include "parser/block/block_scan.h"

#include <array>
#include <charconv>
#include <string>
#include <utility>

namespace provecut {

namespace {

constexpr std::array<double, 23> powers_of_ten{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                               1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

constexpr std::array<std::pair<std::string_view, Op>, 12> functions{{{"ABS", Op::abs},
                                                                     {"ACOS", Op::acos},
                                                                     {"ASIN", Op::asin},
                                                                     {"COS", Op::cos},
                                                                     {"EXP", Op::exp},
                                                                     {"FIX", Op::fix},
                                                                     {"FUP", Op::fup},
                                                                     {"LN", Op::ln},
                                                                     {"ROUND", Op::round},
                                                                     {"SIN", Op::sin},
                                                                     {"SQRT", Op::sqrt},
                                                                     {"TAN", Op::tan}}};

constexpr std::array<std::pair<std::string_view, Flow>, 15> flows{{{"SUB", Flow::sub},
                                                                   {"ENDSUB", Flow::endsub},
                                                                   {"CALL", Flow::call},
                                                                   {"RETURN", Flow::return_},
                                                                   {"IF", Flow::if_},
                                                                   {"ELSEIF", Flow::elseif},
                                                                   {"ELSE", Flow::else_},
                                                                   {"ENDIF", Flow::endif},
                                                                   {"WHILE", Flow::while_},
                                                                   {"ENDWHILE", Flow::endwhile},
                                                                   {"DO", Flow::do_},
                                                                   {"REPEAT", Flow::repeat},
                                                                   {"ENDREPEAT", Flow::endrepeat},
                                                                   {"BREAK", Flow::break_},
                                                                   {"CONTINUE", Flow::continue_}}};

// Line numbers up to 9,999,999 are read by all common controllers (common practice, no source).
constexpr int max_plain_digits = 7;

unsigned digitOf(char c) {
  return static_cast<unsigned>(c - '0');
}

bool isNumberCharacter(char c) {
  return isDigit(c) || c == '.' || c == '+' || c == '-';
}

// The slow way: digits gathered without spaces, then the library's correctly rounded conversion.
double convert(const char* first, const char* last) {
  std::string digits;
  for (; first < last; ++first) {
    if (!isBlank(*first) && *first != '+') digits.push_back(*first);
  }
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error == std::errc::result_out_of_range) {
    // Either beyond the largest double or nearer to zero than the smallest: the point tells.
    const std::size_t start = digits.find_first_of("123456789");
    const std::size_t point = digits.find('.');
    const bool tiny = digits.find("e-") != std::string::npos || (point != std::string::npos && start > point);
    return tiny ? 0.0 : (digits.front() == '-' ? -1e308 : 1e308);
  }
  return value;
}

// End of the bracket that opens at `first`, one past it; the end of the line when it is never closed.
const char* bracketEnd(const char* first, const char* last) {
  int depth = 0;
  for (; first < last; ++first) {
    if (*first == '[') ++depth;
    if (*first == ']' && --depth == 0) return first + 1;
  }
  return last;
}

// Nearly all numbers: some digits, perhaps a point and more digits, then the next word or the end. False: look closer.
bool scanPlain(const char* p, const char* last, bool negative, ScannedNumber& number) {
  std::uint64_t mantissa = 0;
  const char* const begin = p;
  for (; p < last && isDigit(*p); ++p) mantissa = mantissa * 10 + digitOf(*p);
  std::ptrdiff_t digits = p - begin, decimals = 0;
  if (p < last && *p == '.') {
    const char* const after = ++p;
    for (; p < last && isDigit(*p); ++p) mantissa = mantissa * 10 + digitOf(*p);
    decimals = p - after;
    digits += decimals;
  }
  // 15 digits are below 2^53: one division rounds correctly.
  if (digits == 0 || digits > 15) return false;
  const bool ends = p == last || (isLetter(*p) && upper(*p) != 'E') || (*p == ' ' && p + 1 < last && isLetter(p[1]));
  if (!ends) return false;
  const double value = static_cast<double>(mantissa) / powers_of_ten[static_cast<std::size_t>(decimals)];
  number.value = negative ? -value : value;
  number.end = p;
  return true;
}

// A letter's value that is a function's name at `name` and a bracket.
Unreadable unreadableCall(const char* name, const char* bracket, const char* last) {
  const char* const end = bracketEnd(bracket, last);
  Op op;
  if (const char* p = name; scanFunction(p, last, op)) return {FaultKind::bad_expression, end};
  if (const char* p = name; !scanKeyword(p, last, "ATAN") || skipBlanks(p, last) != bracket)
    return {FaultKind::unknown_function, end};
  const char* const slash = skipBlanks(end, last);
  if (slash == last || *slash != '/') return {FaultKind::half_arc_tangent, end};
  const char* const second = skipBlanks(slash + 1, last);
  if (second == last || *second != '[') return {FaultKind::half_arc_tangent, slash + 1};
  return {FaultKind::bad_expression, bracketEnd(second, last)};
}

}  // namespace

bool scanNumber(const char* first, const char* last, ScannedNumber& number) {
  const char* p = skipBlanks(first, last);
  if (p == last || !isNumberCharacter(*p)) return false;
  number = {};
  number.begin = p;
  number.last = last;
  const bool negative = *p == '-';
  if (*p == '-' || *p == '+') p = skipBlanks(p + 1, last);
  if (scanPlain(p, last, negative, number)) return true;
  std::uint64_t mantissa = 0;
  int digits = 0, significant = 0, decimals = 0;
  bool point = false;
  const char* end = p;  // one past the last character of the number
  while (p < last) {
    const char c = *p;
    if (isDigit(c)) {
      if (mantissa != 0 || c != '0') ++significant;
      if (significant < 19) mantissa = mantissa * 10 + digitOf(c);
      ++digits;
      if (point) ++decimals;
    } else if (c == '.' && !point) {
      point = true;
    } else if (isBlank(c)) {
      const char* next = skipBlanks(p, last);
      if (next == last || !(isDigit(*next) || (*next == '.' && !point))) break;
      if (digits > 0 || point) number.spaced = true;
      p = next;
      continue;
    } else {
      break;
    }
    end = ++p;
  }
  if (digits == 0) return false;
  if (const char* next = skipBlanks(end, last); next < last && *next == '.') return false;
  if (last - end >= 3 && upper(end[0]) == 'E' && (end[1] == '-' || end[1] == '+') && isDigit(end[2])) {
    end += 3;
    while (end < last && isDigit(*end)) ++end;
    number.exponent = true;
  }
  number.end = end;
  // Up to 2^53 and 10^22 both are exact doubles, so that one division rounds correctly.
  if (!number.exponent && mantissa <= (std::uint64_t{1} << 53) && significant < 19 && decimals <= 22) {
    const double value = static_cast<double>(mantissa) / powers_of_ten[static_cast<std::size_t>(decimals)];
    number.value = negative ? -value : value;
  } else {
    number.value = convert(number.begin, end);
  }
  return true;
}

bool endsWord(const char* first, const char* last) {
  first = skipBlanks(first, last);
  if (first == last) return true;
  const char c = *first;
  return isLetter(c) || c == '(' || c == ')' || c == ';' || c == '#' || c == '/' || c == '*' || c == '%';
}

bool scanKeyword(const char*& first, const char* last, std::string_view keyword) {
  const char* p = first;
  for (const char k : keyword) {
    p = skipBlanks(p, last);
    if (p == last || upper(*p) != k) return false;
    ++p;
  }
  first = p;
  return true;
}

bool scanFunction(const char*& first, const char* last, Op& op) {
  const char* start = skipBlanks(first, last);
  if (start == last || !isLetter(*start)) return false;
  for (const auto& [name, function] : functions) {
    const char* p = start;
    if (!scanKeyword(p, last, name)) continue;
    p = skipBlanks(p, last);
    if (p == last || *p != '[') continue;
    op = function;
    first = p;
    return true;
  }
  return false;
}

ScannedComment scanComment(const char* first, const char* last) {
  ScannedComment c;
  const char* const text = first + 1;
  if (*first == ';') {
    c.semicolon = true;
    c.text = std::string_view(text, last);
    c.end = last;
    return c;
  }
  int depth = 0;
  const char* first_close = nullptr;
  for (const char* p = first; p < last; ++p) {
    if (*p == '(') {
      if (++depth > 1 && first_close == nullptr) c.nested = true;
    } else if (*p == ')') {
      if (first_close == nullptr) first_close = p;
      if (--depth == 0 || !c.nested) {
        c.text = std::string_view(text, p);
        c.end = p + 1;
        return c;
      }
    }
  }
  // Opened twice and closed once: the standard ends a comment at its first ")".
  c.unclosed = first_close == nullptr;
  const char* const stop = first_close == nullptr ? last : first_close;
  c.text = std::string_view(text, stop);
  c.end = first_close == nullptr ? last : first_close + 1;
  return c;
}

Unreadable scanUnreadable(const char* first, const char* last) {
  const char c = *first;
  const auto rest = [&](const char* from) {  // the characters up to a blank, a letter or a comment
    while (from < last && !isBlank(*from) && !isLetter(*from) && *from != '(' && *from != ';') {
      from = *from == '[' ? bracketEnd(from, last) : from + 1;
    }
    return from;
  };
  if (isLetter(c)) {
    const char* p = skipBlanks(first + 1, last);
    const char* run = p;
    while (run < last && isLetter(*run)) ++run;
    const char* after = skipBlanks(run, last);
    if (run - p >= 2 && after < last && *after == '[') return unreadableCall(p, after, last);
    if (p == first + 1 && run > p) {  // letters side by side are text, not words
      while (run < last && !isBlank(*run) && *run != '(' && *run != ';')
        run = *run == '[' ? bracketEnd(run, last) : run + 1;
      return {FaultKind::no_value, run};
    }
    const FaultKind no_word = upper(c) == 'N' ? FaultKind::bad_line_number : FaultKind::unknown_letter;
    if (p == last || isLetter(*p) || *p == '(' || *p == ';' || *p == '%') {
      return {isWordLetter(c) ? FaultKind::no_value : no_word, first + 1};
    }
    const char* end = rest(p);
    if (!isWordLetter(c)) return {no_word, end};
    if (isNumberCharacter(*p)) {
      const char* value = p + (*p == '-' || *p == '+' ? 1 : 0);
      value = skipBlanks(value, last);
      const bool expression = value < last && (*value == '[' || *value == '#');
      return {expression ? FaultKind::bad_expression : FaultKind::bad_number, end};
    }
    if (*p == '[' || *p == '#') return {FaultKind::bad_expression, end};
    return {isDigit(*p) ? FaultKind::bad_number : FaultKind::no_value, end};
  }
  if (c == '#') {
    const char* p = first + 1;
    while (p < last && *p != '(' && *p != ';') p = *p == '[' ? bracketEnd(p, last) : p + 1;
    return {FaultKind::bad_setting, p};
  }
  if (c == '[') return {FaultKind::stray_bracket, bracketEnd(first, last)};
  if (c == ']' || c == ')') return {FaultKind::stray_bracket, first + 1};
  if (c == '/') return {FaultKind::stray_slash, first + 1};
  if (static_cast<unsigned char>(c) < 32 || c == 127) return {FaultKind::control_character, first + 1};
  return {FaultKind::stray_character, rest(first + 1)};
}

bool scanLineNumber(const char* first, const char* last, ScannedLineNumber& number) {
  const char* p = skipBlanks(first, last);
  if (p == last || upper(*p) != 'N') return false;
  number = {};
  number.begin = p;
  p = skipBlanks(p + 1, last);
  int digits = 0;
  const char* end = p;
  while (p < last && (isDigit(*p) || isBlank(*p))) {
    if (isDigit(*p)) {
      ++digits;
      end = p + 1;
    }
    ++p;
  }
  number.well_formed = digits >= 1 && digits <= 5;
  number.readable = digits >= 1;
  number.plain = digits <= max_plain_digits;
  if (p < last && *p == '.' && digits > 0) {
    end = p + 1;
    while (end < last && isDigit(*end)) ++end;
    number.well_formed = number.plain = false;
  }
  number.end = end;
  return true;
}

bool scanLabel(const char*& first, const char* last, Flow& flow, std::string& name) {
  const char* p = skipBlanks(first, last);
  if (p == last || (upper(*p) != 'O' && *p != ':')) return false;
  const bool colon = *p == ':';
  p = skipBlanks(p + 1, last);
  if (p == last) return false;
  if (*p == '<' && !colon) {
    const char* const from = p + 1;
    while (p < last && *p != '>') ++p;
    if (p == last) return false;
    name.assign(from, p);
    for (char& c : name) c = upper(c);
    ++p;
  } else {
    const char* from = p;
    while (p < last && isDigit(*p)) ++p;
    if (p == from) return false;
    while (from + 1 < p && *from == '0') ++from;
    name.assign(from, p);
  }
  first = p;
  flow = Flow::label;
  if (colon) return true;
  for (const auto& [keyword, f] : flows) {
    const char* q = p;
    if (!scanKeyword(q, last, keyword)) continue;
    if (q < last && isLetter(*q)) continue;  // "DO" is not the start of another name
    flow = f;
    first = q;
    break;
  }
  return true;
}

bool scanChecksum(const char*& first, const char* last, const char* begin, bool& right) {
  const char* p = skipBlanks(first, last);
  if (p == last || *p != '*') return false;
  unsigned sum = 0;
  for (const char* q = begin; q < p; ++q) sum ^= static_cast<unsigned char>(*q);
  const char* digit = p + 1;
  unsigned written = 0;
  while (digit < last && isDigit(*digit) && written < 1000) written = written * 10 + digitOf(*digit++);
  if (digit == p + 1) return false;
  const char* const end = skipBlanks(digit, last);
  if (end != last && *end != ';' && *end != '(') return false;
  right = written == sum;
  first = digit;
  return true;
}

}  // namespace provecut
