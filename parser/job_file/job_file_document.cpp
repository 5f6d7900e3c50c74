#include "parser/job_file/job_file_document.h"

#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <utility>

#include "parser/base/utf8.h"

namespace provecut::job_file {

namespace {

constexpr std::size_t max_bytes = 4'000'000;

// TOML places count code points; ours count bytes.
class Lines {
 public:
  // `skipped`: bytes of the first line that stand before `text`.
  Lines(std::string_view text, std::uint32_t skipped) : skipped_(skipped) {
    std::size_t start = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] != '\n') continue;
      lines_.push_back(text.substr(start, i - start));
      start = i + 1;
    }
    lines_.push_back(text.substr(start));
  }

  std::string_view line(std::uint32_t number) const {
    return number == 0 || number > lines_.size() ? std::string_view{} : lines_[number - 1];
  }

  std::uint32_t byteColumn(toml::source_position p) const {
    const std::string_view text = line(static_cast<std::uint32_t>(p.line));
    std::size_t byte = 0;
    for (toml::source_index k = 1; k < p.column && byte < text.size(); ++k) byte += symbolAt(text, byte).bytes;
    return static_cast<std::uint32_t>(byte + 1);
  }

  // A region that spans lines ends with its first one: a place marks one line.
  Place place(const toml::source_region& region) const {
    const auto number = static_cast<std::uint32_t>(region.begin.line);
    if (number == 0) return {};
    std::string_view text = line(number);
    while (!text.empty() && (text.back() == '\r' || text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
    const std::uint32_t begin = byteColumn(region.begin);
    std::uint32_t end = static_cast<std::uint32_t>(text.size() + 1);
    if (region.end.line == region.begin.line) end = std::min(end, byteColumn(region.end));
    const std::uint32_t shift = number == 1 ? skipped_ : 0;
    return {number, begin + shift, std::max(end, begin + 1) + shift};
  }

 private:
  std::vector<std::string_view> lines_;
  std::uint32_t skipped_;
};

Node convert(const toml::node& from, const Lines& lines);

Node convertTable(const toml::table& table, const Lines& lines) {
  Node node;
  node.kind = NodeKind::table;
  for (const auto& [key, value] : table) {
    node.entries.push_back({std::string(key.str()), lines.place(key.source()), convert(value, lines)});
  }
  std::stable_sort(node.entries.begin(), node.entries.end(), [](const Entry& a, const Entry& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  return node;
}

Node convert(const toml::node& from, const Lines& lines) {
  Node node;
  if (const auto* table = from.as_table()) {
    node = convertTable(*table, lines);
  } else if (const auto* list = from.as_array()) {
    node.kind = NodeKind::list;
    for (const toml::node& item : *list) node.items.push_back(convert(item, lines));
  } else if (const auto* text = from.as_string()) {
    node.kind = NodeKind::text;
    node.text = text->get();
  } else if (const auto* whole = from.as_integer()) {
    node.kind = NodeKind::whole;
    node.whole = whole->get();
    node.number = static_cast<double>(node.whole);
  } else if (const auto* number = from.as_floating_point()) {
    node.kind = NodeKind::number;
    node.number = number->get();
  } else if (const auto* flag = from.as_boolean()) {
    node.kind = NodeKind::flag;
    node.flag = flag->get();
  } else {
    node.kind = NodeKind::date;
  }
  node.place = lines.place(from.source());
  return node;
}

JobFileProblem problemAt(Place place, std::string message, std::string help) {
  return {place, std::move(message), std::move(help), {}};
}

Place placeOfByte(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, byte);
  const std::size_t last_end = before.rfind('\n');
  const auto line = static_cast<std::uint32_t>(std::count(before.begin(), before.end(), '\n') + 1);
  const std::size_t start = last_end == std::string_view::npos ? 0 : last_end + 1;
  const auto column = static_cast<std::uint32_t>(byte - start + 1);
  return {line, column, column + 1};
}

// What keeps the bytes from being a text at all.
std::optional<JobFileProblem> notText(std::string_view text) {
  if (text.size() > max_bytes) {
    // Rounded up: what is above the maximum is not shown as equal to it.
    const std::size_t tenths = (text.size() + 99'999) / 100'000;
    const std::string after_point = tenths % 10 == 0 ? "" : "." + std::to_string(tenths % 10);
    return problemAt(
        {},
        "this file has " + std::to_string(tenths / 10) + after_point + " MB, too much for a job file (maximum 4 MB)",
        "Give the job file, not a program.");
  }
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
    return problemAt({1, 1, 3}, "this file is saved as UTF-16", "Save it as UTF-8 text.");
  }
  if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos) {
    return problemAt(placeOfByte(text, zero), "this is not a text file: it has a zero byte in it",
                     "Give the job file, TOML text.");
  }
  if (const auto bad = firstByteThatIsNotUtf8(text)) {
    return problemAt(placeOfByte(text, *bad), "this byte is not UTF-8", "Save the file as UTF-8 text.");
  }
  return std::nullopt;
}

// What the library found, in the words of this file.
struct Unreadable {
  std::string_view part, found;  // words of the library's "Error while parsing PART: FOUND"
  std::string_view message, help;
};

constexpr std::string_view layout_help =
    "A line is `key = value`, a section [name] or [[name]]. Text is in \"quotes\".";

constexpr std::array unreadable{
    Unreadable{"value", "could not determine", "this value cannot be read", "Put text in \"quotes\"."},
    Unreadable{"boolean", "expected", "this value cannot be read", "Write true or false. Put text in \"quotes\"."},
    Unreadable{"floating-point", "expected 'inf'", "this value cannot be read", "Put text in \"quotes\"."},
    Unreadable{"string", "control characters", "the text on this line has no closing quote", "Close it with a quote."},
    Unreadable{"string", "unknown escape", "text in \"quotes\" cannot have a single \\ in it",
               "Write / in place of \\, or put the text in 'single quotes'."},
    Unreadable{"integer", "expected digit", "this number cannot be read",
               "Write numbers without a unit, or with it in quotes: \"6 mm\"; sizes as [480, 130, 19.05]."},
    Unreadable{
        "key-value pair", "expected a comment", "this line goes on after its value",
        "Write numbers with a point, such as 6.35. Put text in \"quotes\", and lengths with a unit too: \"6 mm\"."},
    Unreadable{"integer", "leading zeroes", "a number cannot start with 0", "Write 5, not 05."},
    Unreadable{"floating-point", "exponent", "this number cannot be read",
               "Write numbers without a unit and with one point, such as 6.35."},
    Unreadable{"floating-point", "expected decimal digit", "a number needs a digit on both sides of its point",
               "Write 0.5, not .5, and 5 or 5.0, not 5."},
    Unreadable{"key-value pair", "expected value", "this line has no value", layout_help},
};

// The text between the first two single quotes.
std::string_view singleQuoted(std::string_view text) {
  const std::size_t begin = text.find('\'');
  const std::size_t end = begin == std::string_view::npos ? begin : text.find('\'', begin + 1);
  return end == std::string_view::npos ? std::string_view{} : text.substr(begin + 1, end - begin - 1);
}

JobFileProblem writtenTwice(Place place, std::string_view description) {
  const std::string name(singleQuoted(description));
  if (description.find("table header") == std::string_view::npos)
    return problemAt(place, "`" + name + "` is in its section twice", "Keep one.");
  const bool one_bracket = description.ends_with("as table"),
             two_brackets = description.ends_with("as array-of-tables");
  if (one_bracket || two_brackets) {
    return problemAt(place, "[" + name + "] and [[" + name + "]] are both in the file",
                     "Write all of them with the same brackets.");
  }
  return problemAt(place, "[" + name + "] is in the file twice",
                   "Merge the two; or, if there are to be several, write [[" + name + "]] for each.");
}

JobFileProblem unreadableAt(Place place, std::string_view description) {
  const std::string_view text = description.substr(0, std::min(description.find('\n'), std::size_t{200}));
  const auto has = [&](std::string_view words) { return text.find(words) != std::string_view::npos; };
  if (has("cannot redefine existing")) return writtenTwice(place, text);
  for (const Unreadable& u : unreadable) {
    if (has(u.part) && has(u.found)) return problemAt(place, std::string(u.message), std::string(u.help));
  }
  constexpr std::string_view lead = "Error while parsing ";
  const std::string rest(text.starts_with(lead) ? text.substr(lead.size()) : text);
  return problemAt(place, "not valid TOML: in " + rest, std::string(layout_help));
}

}  // namespace

const Entry* findEntry(const Node& table, std::string_view key) {
  const auto it =
      std::find_if(table.entries.begin(), table.entries.end(), [&](const Entry& e) { return e.key == key; });
  return it == table.entries.end() ? nullptr : &*it;
}

Document readDocument(std::string_view text) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (auto problem = notText(text)) return {std::nullopt, std::move(problem)};
  const std::size_t skipped = text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
  text.remove_prefix(skipped);
  const Lines lines(text, static_cast<std::uint32_t>(skipped));
  try {
    const toml::table table = toml::parse(text);
    Node root = convertTable(table, lines);
    root.place = {1, 1, 2};
    return {std::move(root), std::nullopt};
  } catch (const toml::parse_error& error) {
    return {std::nullopt, unreadableAt(lines.place(error.source()), error.description())};
  }
}

}  // namespace provecut::job_file
