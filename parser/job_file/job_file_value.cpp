#include "parser/job_file/job_file_value.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "parser/base/nearest_word.h"
#include "parser/base/units.h"
#include "parser/base/utf8.h"

namespace provecut::job_file {

namespace {

std::string described(const Node& node) {
  switch (node.kind) {
    case NodeKind::text:
      return "the text " + quoted(node.text);
    case NodeKind::whole:
    case NodeKind::number:
      return "the number " + shown(node.number);
    case NodeKind::flag:
      return node.flag ? "true" : "false";
    case NodeKind::list:
      return "a list";
    case NodeKind::table:
      return "a table";
    case NodeKind::date:
      return "a date or time";
  }
  return "";
}

bool isNumber(const Node& node) {
  return node.kind == NodeKind::whole || node.kind == NodeKind::number;
}

// "a number above 0 mm"
std::string wantedNumber(const Range& range, std::string_view unit, std::string_view noun) {
  std::string text(noun);
  const bool has_low = std::isfinite(range.low), has_high = std::isfinite(range.high);
  if (has_low) text += (range.above_low ? " above " : " of at least ") + shown(range.low);
  if (has_low && has_high) text += " and";
  if (has_high) text += (range.below_high ? " below " : " of at most ") + shown(range.high);
  if (!unit.empty()) text += (has_low || has_high ? " " : " in ") + std::string(unit);
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
  reader.fail(spot.node.place, nameOf(spot) + " is " + described(spot.node), "write " + std::string(wanted));
}

std::optional<double> readNumber(Reader& reader, const Spot& spot, const Quantity& quantity, const Range& range) {
  const std::string_view unit = reader.unit(quantity);
  const std::string wanted = wantedNumber(range, unit, "a number");
  if (!isNumber(spot.node)) {
    failType(reader, spot, wanted + (spot.node.kind == NodeKind::text ? ", without quotes" : ""));
    return std::nullopt;
  }
  const double written = spot.node.number;
  const double value = written * reader.factor(quantity);
  const std::string is = nameOf(spot) + " is " + shown(written, unit);
  if (!std::isfinite(written) || !inRange(written, range)) {
    reader.fail(spot.node.place, is, "write " + wanted);
    return std::nullopt;
  }
  if (range.low == 0 && value < quantity.min && (range.above_low || value > 0)) {
    reader.fail(spot.node.place, is + ": too small to be meant",
                std::string(range.above_low ? "write" : "write 0, or") + " at least " +
                    shown(quantity.min / reader.factor(quantity), unit));
    return std::nullopt;
  }
  if (std::abs(value) > quantity.max) {
    reader.fail(spot.node.place, is + ": too large to be meant",
                "write at most " + shown(std::floor(quantity.max / reader.factor(quantity)), unit));
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
    reader.fail(spot.node.place, nameOf(spot) + " is " + std::to_string(spot.node.whole), "write " + wanted);
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
    reader.fail(spot.node.place, nameOf(spot) + " is empty",
                "write the text between the quotes, or leave the line out");
    return std::nullopt;
  }
  if (std::any_of(text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; })) {
    reader.fail(spot.node.place, nameOf(spot) + " holds a control character (a line end or a tab, say)",
                "write it on one line of plain text");
    return std::nullopt;
  }
  if (text.size() > longest) {
    reader.fail(spot.node.place, nameOf(spot) + " has " + std::to_string(text.size()) + " bytes",
                "write at most " + std::to_string(longest));
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
  const std::string nearest = nearestWord(spot.node.text, words);
  reader.fail(
      spot.node.place, nameOf(spot) + " is " + quoted(spot.node.text) + ", not one of its words",
      nearest.empty() ? "it takes " + orList(words) : "did you mean \"" + nearest + "\"? It takes " + orList(words));
  return std::nullopt;
}

std::optional<std::vector<double>> readNumbers(Reader& reader, const Spot& spot, const Quantity& quantity,
                                               const Range& range, std::size_t count) {
  if (spot.node.kind != NodeKind::list || spot.node.items.size() != count) {
    const std::string wanted = "a list of " + std::to_string(count) + " numbers in square brackets";
    if (spot.node.kind != NodeKind::list) {
      failType(reader, spot, wanted);
    } else {
      reader.fail(spot.node.place, nameOf(spot) + " holds " + std::to_string(spot.node.items.size()) + " values",
                  "write " + wanted);
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
                "give at most " + std::to_string(max_points));
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
    failType(reader, spot, "a list of texts, [\"one\", \"two\"]");
    return texts;
  }
  for (const Node& item : spot.node.items) {
    if (auto text = readText(reader, {item, spot.key, spot.section})) texts.emplace_back(std::move(*text), item.place);
  }
  return texts;
}

}  // namespace provecut::job_file
