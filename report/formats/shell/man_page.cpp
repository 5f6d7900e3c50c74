#include "report/formats/shell/man_page.h"

#include <ostream>
#include <string>
#include <string_view>

#include "report/findings/verdict_words.h"
#include "report/rules/rule.h"

namespace provecut {

namespace {

// Text for roff: a backslash and a hyphen would be taken otherwise, and so would a point or quote that begins a line.
std::string roff(std::string_view text) {
  std::string out;
  bool line_begins = true;
  for (const char c : text) {
    if (line_begins && (c == '.' || c == '\'')) out += "\\&";
    switch (c) {
      case '\\':
        out += "\\e";
        break;
      case '-':
        out += "\\-";
        break;
      case '\n':
        out += '\n';
        break;
      default:
        out += c;
    }
    line_begins = c == '\n';
  }
  return out;
}

void writeOption(const OptionHelp& o, std::ostream& out) {
  out << ".TP\n";
  std::string line;
  for (const std::string& name : o.names)
    line += (line.empty() ? "" : ", ") + (o.named ? "\\fB" + roff(name) + "\\fR" : "\\fI" + roff(name) + "\\fR");
  if (o.named && !o.value.empty()) line += " \\fI" + roff(o.value) + "\\fR";
  out << line << "\n" << roff(o.text) << "\n";
}

}  // namespace

void writeManPage(const ProgramHelp& help, std::ostream& out) {
  out << ".TH PROVECUT 1 2026-11-25 \"provecut " PROVECUT_VERSION
         "\" \"User Commands\"\n"
         ".SH NAME\n"
         "provecut \\- checks router programs before anyone presses Start\n"
         ".SH SYNOPSIS\n"
         ".B provecut\n"
         ".I COMMAND\n"
         ".RI [ OPTION ...]\n"
         ".RI [ FILE ...]\n"
         ".SH DESCRIPTION\n"
      << roff(help.purpose) << "\n.SH COMMANDS\n";
  for (const CommandHelp& c : help.commands) {
    if (c.name.empty()) continue;
    out << ".SS \"provecut " << roff(c.name) << "\"\n" << roff(c.text) << ".\n";
    for (const OptionHelp& o : c.options) writeOption(o, out);
  }
  out << ".SH OPTIONS\n";
  for (const OptionHelp& o : help.commands.front().options) writeOption(o, out);
  out << ".SH RULES\n"
         "What\n.B provecut check\nlooks for.\n.B provecut explain\n.I RULE\nexplains one of them.\n";
  for (const Rule* rule : allRules()) {
    out << ".TP\n\\fB" << roff(rule->id) << "\\fR (" << roff(levelName(rule->level)) << ")\n"
        << roff(rule->summary) << "\n";
  }
  out << ".SH \"EXIT STATUS\"\n"
      << roff(help.statuses)
      << "\n.SH ENVIRONMENT\n.TP\n.B NO_COLOR\nIf set and not empty, no colour is used.\n"
         ".SH EXAMPLES\n";
  out << ".nf\n";
  for (const std::string& example : help.examples) out << roff(example) << "\n";
  out << ".fi\n";
  out << ".SH CAUTIONS\n" << roff(no_guarantee) << "\n";
  for (const std::string_view caution : cautions) out << ".PP\n" << roff(caution) << "\n";
}

}  // namespace provecut
