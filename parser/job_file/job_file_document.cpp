#include "parser/job_file/job_file_document.h"

#include <toml++/toml.h>

#include <algorithm>
#include <utility>

#include "parser/base/utf8.h"

namespace provecut::job_file {

namespace {

constexpr std::size_t max_bytes = 4 << 20;

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
    return problemAt({},
                     "the job file has " + std::to_string(text.size()) + " bytes; at most " +
                         std::to_string(max_bytes) + " are read",
                     "give the job file, not a program: a job file is a page of text");
  }
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
    return problemAt({1, 1, 3}, "the job file is saved as UTF-16", "save it as UTF-8");
  }
  if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos) {
    return problemAt(placeOfByte(text, zero), "the job file holds a zero byte: it is not a text file",
                     "give the job file (TOML text, saved as UTF-8)");
  }
  if (const auto bad = firstByteThatIsNotUtf8(text)) {
    return problemAt(placeOfByte(text, *bad), "this byte is not UTF-8", "save the job file as UTF-8");
  }
  return std::nullopt;
}

// The library's words end in file positions of its own at times; keep the first line and none of its
// capitals.
std::string shortDescription(std::string_view description) {
  std::string text(description.substr(0, std::min(description.find('\n'), std::size_t{200})));
  if (const std::string_view lead = "Error while parsing "; text.starts_with(lead))
    text = "in " + text.substr(lead.size());
  while (!text.empty() && (text.back() == '.' || text.back() == ' ')) text.pop_back();
  return text;
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
    return {std::nullopt,
            problemAt(lines.place(error.source()), "not valid TOML: " + shortDescription(error.description()),
                      "a line reads `key = value`, a section [name] or [[name]], text in \"quotes\"")};
  }
}

}  // namespace provecut::job_file
