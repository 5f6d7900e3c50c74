#include "report/formats/text/rule_page.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <string_view>

#include "report/formats/base/terminal.h"

namespace provecut {

namespace {

constexpr std::size_t page_margin = 2;

void writeIndented(std::string_view text, std::size_t first_margin, std::size_t next_margin, std::ostream& out) {
  const auto lines = wrapped(text, terminal_columns - next_margin, terminal_columns - next_margin);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    out << std::string(i == 0 ? first_margin : next_margin, ' ') << lines[i] << '\n';
  }
}

// Lines that stand as they are: code, tables.
bool isVerbatim(std::string_view line) {
  return line.starts_with("    ") || line.starts_with("|");
}

}  // namespace

void writeRuleList(std::ostream& out, bool colour) {
  std::size_t widest = 0;
  for (const Rule* rule : allRules()) widest = std::max(widest, rule->id.size());
  for (const Level level : {Level::stop, Level::look, Level::note}) {
    for (const Rule* rule : allRules()) {
      if (rule->level != level) continue;
      const std::size_t indent = widest + 2 + 6;
      const auto lines = wrapped(rule->summary, terminal_columns - indent, terminal_columns - indent);
      out << padRight(std::string(rule->id), widest + 2) << painted(levelName(level), inkOf(level), colour) << "  "
          << lines.front() << '\n';
      for (std::size_t i = 1; i < lines.size(); ++i) out << std::string(indent, ' ') << lines[i] << '\n';
    }
  }
}

void writeRulePage(const Rule& rule, bool colour, std::ostream& out) {
  out << painted(rule.id, Ink::strong, colour) << "  (" << painted(levelName(rule.level), inkOf(rule.level), colour)
      << ")\n";
  writeIndented(rule.summary, 0, 0, out);
  std::string_view rest = rule.page;
  std::string paragraph;
  const auto flush = [&] {
    if (paragraph.empty()) return;
    const bool item = paragraph.starts_with("- ");
    writeIndented(paragraph, page_margin, page_margin + (item ? 2 : 0), out);
    paragraph.clear();
  };
  bool verbatim = false, fenced = false, stock = false;
  while (!rest.empty()) {
    const std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(line.size() + 1, rest.size()));
    if (line.starts_with("```")) {
      flush();
      fenced = !fenced;
      verbatim = false;
      continue;
    }
    if (line.empty()) {
      flush();
      stock = true;
      continue;
    }
    const bool as_is = fenced || isVerbatim(line);
    if (line.starts_with("#") && !fenced) {
      flush();
      out << '\n' << painted(line.substr(line.find_first_not_of("# ")), Ink::strong, colour) << '\n';
      verbatim = false;
    } else {
      if (as_is || line.starts_with("- ")) flush();
      if (stock && paragraph.empty() && !verbatim && as_is) out << '\n';
      if (as_is) {
        out << std::string(fenced ? page_margin + 4 : page_margin, ' ') << line << '\n';
      } else {
        if (verbatim && paragraph.empty() && stock) out << '\n';
        const std::size_t text = line.find_first_not_of(' ');
        if (!paragraph.empty()) paragraph += ' ';
        paragraph += line.substr(text);
      }
      verbatim = as_is;
    }
    stock = false;
  }
  flush();
}

}  // namespace provecut
