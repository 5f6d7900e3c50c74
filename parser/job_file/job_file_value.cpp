#include "parser/job_file/job_file_value.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "parser/base/length_text.h"
#include "parser/base/nearest_word.h"
#include "parser/base/units.h"
#include "parser/base/utf8.h"

namespace provecut::job_file {

namespace {

std::string described(const Node& node) {
  switch (node.kind) {
    case NodeKind::text:
      return quoted(node.text) + " in quotes";
    case NodeKind::whole:
    case NodeKind::number:
      return shown(node.number);
    case NodeKind::flag:
      return node.flag ? "true" : "false";
    case NodeKind::list:
      return "a list";
    case NodeKind::table:
      return "a section";
    case NodeKind::date:
      return "a date or time";
  }
  return "";
}

bool isNumber(const Node& node) {
  return node.kind == NodeKind::whole || node.kind == NodeKind::number;
}

// "a number above 0 mm"
// 1,000,000: nobody counts zeros.
std::string bound(double value) {
  std::string digits = shown(value);
  if (value == std::floor(value) && value >= 1e4) {
    for (std::size_t i = digits.size() - 3; i > 0 && i < digits.size(); i -= std::min<std::size_t>(i, 3))
      digits.insert(i, ",");
  }
  return digits;
}

// "a number in mm, above 0"
std::string wantedNumber(const Range& range, std::string_view unit, std::string_view noun) {
  const bool has_low = std::isfinite(range.low), has_high = std::isfinite(range.high);
  const bool inches = unit == "in" || unit.starts_with("in ");  // "in in" is hard to read
  const std::string number(noun), in_unit = unit.empty() ? ""
                                            : inches     ? " in inches" + std::string(unit.substr(2))
                                                         : " in " + std::string(unit);
  if (has_low && has_high) {
    const std::string after = unit.empty() ? "" : " " + std::string(unit);
    const std::string low = bound(range.low), high = bound(range.high);
    if (range.above_low)
      return number + " above " + low + (range.below_high ? " and below " : " and up to ") + high + after;
    return number + " from " + low + (range.below_high ? " to less than " : " to ") + high + after;
  }
  if (has_low && range.above_low) return number + in_unit + (unit.empty() ? " above " : ", above ") + bound(range.low);
  if (has_low) return number + in_unit + ", " + bound(range.low) + " or more";
  if (has_high) return number + in_unit + (range.below_high ? ", below " : ", at most ") + bound(range.high);
  return number + in_unit;
}

// What a list of `count` numbers looks like under this key.
std::string wantedList(const Reader& reader, const Spot& spot, std::size_t count) {
  const auto of_key = std::find_if(reader.known.begin(), reader.known.end(), [&](const KnownKey& k) {
    return k.name == spot.key && "[" + k.section + "]" == spot.section && !k.example.empty();
  });
  if (of_key != reader.known.end()) {
    std::string example = of_key->example.substr(of_key->example.find('['));
    std::erase(example, '`');
    return (count == 3 ? "three numbers, as in " : "two numbers, as in ") + example +
           (spot.node.kind == NodeKind::text ? ", without quotes" : "");
  }
  return std::to_string(count) + " numbers in square brackets, " + (count == 3 ? "[1, 2, 3]" : "[1, 2]");
}

std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

bool inRange(double v, const Range& range) {
  return (range.above_low ? v > range.low : v >= range.low) && (range.below_high ? v < range.high : v <= range.high);
}

}  // namespace

std::string shown(double value) {
  std::array<char, 32> buffer{};
  // What came from inches and goes back to them is off in its last digits.
  const auto result =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::general, 12);
  return {buffer.data(), result.ptr};
}

std::string shown(double value, std::string_view unit) {
  return unit.empty() ? shown(value) : shown(value) + " " + std::string(unit);
}

std::string quoted(std::string_view text) {
  constexpr std::size_t max_bytes = 60;
  if (text.size() <= max_bytes) return std::string("\"").append(text) + "\"";
  std::size_t cut = 0;
  while (cut + symbolAt(text, cut).bytes <= max_bytes) cut += symbolAt(text, cut).bytes;
  return std::string("\"").append(text.substr(0, cut)) + "...\"";
}

std::string orList(std::span<const std::string> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += "\"" + words[i] + "\"";
  }
  return text;
}

std::string nameOf(const Spot& spot) {
  return std::string("`").append(spot.key) + "` of " + std::string(spot.section);
}

void Reader::fail(Place place, std::string message, std::string help, std::vector<JobFileProblem::Other> others) {
  problems.push_back({place, std::move(message), std::move(help), std::move(others)});
}

double Reader::factor(const Quantity& quantity) const {
  return inches ? std::pow(mm_per_inch, quantity.power) : 1.0;
}

void failType(Reader& reader, const Spot& spot, std::string_view wanted) {
  reader.fail(spot.node.place, nameOf(spot) + " is " + described(spot.node), "Write " + std::string(wanted) + ".");
}

struct Written {
  double in_file_unit = 0, mm = 0;
};

// The number that a value stands for: a length may be text with a unit of its own.
std::optional<Written> writtenNumber(Reader& reader, const Spot& spot, const Quantity& quantity,
                                     const std::string& wanted) {
  const double factor = reader.factor(quantity);
  if (isNumber(spot.node)) return Written{spot.node.number, spot.node.number * factor};
  const bool is_text = spot.node.kind == NodeKind::text;
  if (is_text && isLength(quantity)) {
    const auto length = readLength(trimmed(spot.node.text));
    if (length && length->mm_per_unit) return Written{length->mm(1) / factor, length->mm(1)};
    failType(reader, spot,
             wanted + (length ? ", without quotes; or its unit in the quotes: \"" + shown(length->value) + " mm\""
                              : "; or a number and its unit in quotes: \"6 mm\", \"1/4 in\""));
    return std::nullopt;
  }
  failType(reader, spot, wanted + (is_text ? ", without quotes" : ""));
  return std::nullopt;
}

std::optional<double> readNumber(Reader& reader, const Spot& spot, const Quantity& quantity, const Range& range) {
  const std::string_view unit = reader.unit(quantity);
  const std::string wanted = wantedNumber(range, unit, "a number");
  const auto number = writtenNumber(reader, spot, quantity, wanted);
  if (!number) return std::nullopt;
  const double written = number->in_file_unit, value = number->mm;
  const std::string is = nameOf(spot) + " is " + shown(written, unit);
  if (!std::isfinite(written) || !inRange(written, range)) {
    reader.fail(spot.node.place, is, "Write " + wanted + ".");
    return std::nullopt;
  }
  if (range.low == 0 && value < quantity.min && (range.above_low || value > 0)) {
    reader.fail(spot.node.place, is + ": too small to be meant",
                std::string(range.above_low ? "Write" : "Write 0, or") + " at least " +
                    shown(quantity.min / reader.factor(quantity), unit) + ".");
    return std::nullopt;
  }
  if (std::abs(value) > quantity.max) {
    reader.fail(spot.node.place, is + ": too large to be meant",
                "Write at most " + bound(std::floor(quantity.max / reader.factor(quantity))) +
                    (unit.empty() ? "" : " " + std::string(unit)) + ".");
    return std::nullopt;
  }
  return value;
}

std::optional<int> readWhole(Reader& reader, const Spot& spot, const Range& range) {
  const std::string wanted = wantedNumber(range, "", "a whole number");
  if (spot.node.kind != NodeKind::whole) {
    failType(reader, spot, wanted);
    return std::nullopt;
  }
  constexpr double max_whole = std::numeric_limits<int>::max();
  if (!inRange(spot.node.number, range) || std::abs(spot.node.number) > max_whole) {
    reader.fail(spot.node.place, nameOf(spot) + " is " + std::to_string(spot.node.whole), "Write " + wanted + ".");
    return std::nullopt;
  }
  return static_cast<int>(spot.node.whole);
}

std::optional<bool> readFlag(Reader& reader, const Spot& spot) {
  if (spot.node.kind == NodeKind::flag) return spot.node.flag;
  failType(reader, spot, "true or false");
  return std::nullopt;
}

std::optional<std::string> readText(Reader& reader, const Spot& spot) {
  if (spot.node.kind != NodeKind::text) {
    failType(reader, spot, "text in quotes");
    return std::nullopt;
  }
  constexpr std::size_t longest = 1000;
  const std::string& text = spot.node.text;
  if (text.find_first_not_of(" \t") == std::string::npos) {
    reader.fail(spot.node.place, nameOf(spot) + " is empty", "Write the text between the quotes, or delete the line.");
    return std::nullopt;
  }
  if (std::any_of(text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; })) {
    reader.fail(spot.node.place, nameOf(spot) + " has a control character in it, such as a tab",
                "Write it on one line of plain text. In a path, write / in place of \\: \\t in \"quotes\" is a tab.");
    return std::nullopt;
  }
  if (text.size() > longest) {
    reader.fail(spot.node.place, nameOf(spot) + " has " + std::to_string(text.size()) + " bytes",
                "Write at most " + bound(longest) + ".");
    return std::nullopt;
  }
  return text;
}

std::optional<std::size_t> readWord(Reader& reader, const Spot& spot, std::span<const std::string> words) {
  if (spot.node.kind != NodeKind::text) {
    failType(reader, spot, orList(words));
    return std::nullopt;
  }
  const auto it = std::find(words.begin(), words.end(), spot.node.text);
  if (it != words.end()) return static_cast<std::size_t>(it - words.begin());
  const std::string meant = meantWord(spot.node.text, words);
  const bool of_a_bit = spot.key == "shape" && std::find(words.begin(), words.end(), "form") != words.end();
  const std::string how = of_a_bit ? howToDescribeBit(spot.node.text, reader.inches) : "";
  reader.fail(spot.node.place, nameOf(spot) + " cannot be " + quoted(spot.node.text),
              (meant.empty() ? "" : "Did you mean " + quoted(meant) + "? ") + (how.empty() ? "" : how + " ") +
                  "It takes " + orList(words) + ".");
  return std::nullopt;
}

std::optional<std::vector<double>> readNumbers(Reader& reader, const Spot& spot, const Quantity& quantity,
                                               const Range& range, std::size_t count) {
  if (spot.node.kind != NodeKind::list || spot.node.items.size() != count) {
    const std::string wanted = wantedList(reader, spot, count);
    if (spot.node.kind != NodeKind::list) {
      failType(reader, spot, wanted);
    } else {
      reader.fail(spot.node.place, nameOf(spot) + " has " + std::to_string(spot.node.items.size()) + " values",
                  "Write " + wanted + "." +
                      (spot.node.items.size() > count ? " Numbers have a decimal point, not a comma." : ""));
    }
    return std::nullopt;
  }
  std::vector<double> values;
  for (const Node& item : spot.node.items) {
    if (const auto v = readNumber(reader, {item, spot.key, spot.section}, quantity, range)) values.push_back(*v);
  }
  if (values.size() != count) return std::nullopt;
  return values;
}

std::optional<std::vector<Vec2>> readPoints(Reader& reader, const Spot& spot) {
  constexpr std::size_t max_points = 2000;
  if (spot.node.kind != NodeKind::list) {
    failType(reader, spot, "a list of points, [[0, 0], [10, 0], [10, 5]]");
    return std::nullopt;
  }
  if (spot.node.items.size() > max_points) {
    reader.fail(spot.node.place, nameOf(spot) + " has " + std::to_string(spot.node.items.size()) + " points",
                "Give at most " + bound(max_points) + ".");
    return std::nullopt;
  }
  std::vector<Vec2> points;
  for (const Node& item : spot.node.items) {
    if (const auto v = readNumbers(reader, {item, spot.key, spot.section}, lengths, any, 2)) {
      points.push_back({(*v)[0], (*v)[1]});
    }
  }
  if (points.size() != spot.node.items.size()) return std::nullopt;
  return points;
}

std::vector<std::pair<std::string, Place>> readTexts(Reader& reader, const Spot& spot) {
  std::vector<std::pair<std::string, Place>> texts;
  if (spot.node.kind != NodeKind::list) {
    failType(reader, spot, "a list of names, [\"one\", \"two\"]");
    return texts;
  }
  for (const Node& item : spot.node.items) {
    if (auto text = readText(reader, {item, spot.key, spot.section})) texts.emplace_back(std::move(*text), item.place);
  }
  return texts;
}

}  // namespace provecut::job_file
