#include "report/formats/shell/completion.h"

#include <ostream>
#include <string>
#include <string_view>

#include "report/rules/rule.h"

namespace provecut {

namespace {

// "text|json" → "text json"; empty where the value is not one of a few.
std::string choices(const OptionHelp& o) {
  if (o.value.find('|') == std::string::npos) return {};
  std::string words = o.value;
  for (char& c : words) c = c == '|' ? ' ' : c;
  return words;
}

std::string ruleIds() {
  std::string ids;
  for (const Rule* rule : allRules()) ids += (ids.empty() ? "" : " ") + std::string(rule->id);
  return ids;
}

// The words that may stand without a name: rule ids, shells; empty: files.
std::string positionalWords(const CommandHelp& command) {
  if (command.name == "explain") return ruleIds();
  for (const OptionHelp& o : command.options) {
    if (!o.named && !choices(o).empty()) return choices(o);
  }
  return {};
}

bool takesFiles(const CommandHelp& command) {
  for (const OptionHelp& o : command.options) {
    if (!o.named) return positionalWords(command).empty();
  }
  return false;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string text;
  for (const std::string& w : words) text += (text.empty() ? "" : std::string(between)) + w;
  return text;
}

std::string optionNames(const CommandHelp& command) {
  std::string words;
  for (const OptionHelp& o : command.options) {
    if (o.named) words += (words.empty() ? "" : " ") + joined(o.names, " ");
  }
  return words;
}

std::string commandNames(const ProgramHelp& help) {
  std::string words;
  for (const CommandHelp& c : help.commands) {
    if (!c.name.empty()) words += (words.empty() ? "" : " ") + c.name;
  }
  return words;
}

// In single quotes for a shell of the Bourne family.
std::string quoted(std::string_view text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'') {
      out += "'\\''";
    } else {
      out += c;
    }
  }
  return out + "'";
}

// In single quotes for fish, where a backslash escapes.
std::string fishQuoted(std::string_view text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

// What _arguments takes between brackets and after colons.
std::string zshText(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string zshOption(const OptionHelp& o) {
  const std::string action = o.value.empty()
                                 ? ""
                                 : ":" + zshText(o.value.find('|') == std::string::npos ? o.value : "one of") + ":" +
                                       (choices(o).empty() ? std::string("_files") : "(" + choices(o) + ")");
  const std::string text = "[" + zshText(o.text) + "]" + action;
  if (o.names.size() == 1) return quoted("*" + o.names.front() + text);
  return quoted("(" + joined(o.names, " ") + ")") + "{" + joined(o.names, ",") + "}" + quoted(text);
}

}  // namespace

void writeBashCompletion(const ProgramHelp& help, std::ostream& out) {
  out << "# bash completion for provecut, written by: provecut completions bash\n"
         "_provecut() {\n"
         "  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}\n"
         "  COMPREPLY=()\n"
         "  if ((COMP_CWORD == 1)); then\n"
         "    COMPREPLY=($(compgen -W '"
      << commandNames(help) << " " << optionNames(help.commands.front())
      << "' -- \"$word\"))\n"
         "    return\n"
         "  fi\n"
         "  case $command:$before in\n";
  for (const CommandHelp& c : help.commands) {
    for (const OptionHelp& o : c.options) {
      if (c.name.empty() || !o.named || o.value.empty()) continue;
      std::string patterns;
      for (const std::string& name : o.names) patterns += (patterns.empty() ? "" : "|") + c.name + ":" + name;
      const std::string words = choices(o);
      out << "    " << patterns << ") "
          << (words.empty() ? "COMPREPLY=($(compgen -f -- \"$word\"))"
                            : "COMPREPLY=($(compgen -W '" + words + "' -- \"$word\"))")
          << "; return ;;\n";
    }
  }
  out << "  esac\n"
         "  case $command in\n";
  for (const CommandHelp& c : help.commands) {
    if (c.name.empty()) continue;
    const std::string words = positionalWords(c);
    out << "    " << c.name << ")\n"
        << "      if [[ $word == -* ]]; then COMPREPLY=($(compgen -W '" << optionNames(c) << "' -- \"$word\"))\n";
    if (!words.empty()) out << "      else COMPREPLY=($(compgen -W '" << words << "' -- \"$word\"))\n";
    if (takesFiles(c)) out << "      else COMPREPLY=($(compgen -f -- \"$word\"))\n";
    out << "      fi ;;\n";
  }
  out << "  esac\n"
         "}\n"
         "complete -o filenames -F _provecut provecut\n";
}

void writeZshCompletion(const ProgramHelp& help, std::ostream& out) {
  out << "#compdef provecut\n"
         "# zsh completion for provecut, written by: provecut completions zsh\n"
         "_provecut() {\n"
         "  local -a commands\n"
         "  commands=(\n";
  for (const CommandHelp& c : help.commands) {
    if (!c.name.empty()) out << "    " << quoted(c.name + ":" + zshText(c.text)) << "\n";
  }
  out << "  )\n"
         "  if ((CURRENT == 2)); then\n"
         "    _describe 'command' commands\n"
         "    return\n"
         "  fi\n"
         "  local command=$words[2]\n"
         "  shift words\n"
         "  ((CURRENT--))\n"
         "  case $command in\n";
  for (const CommandHelp& c : help.commands) {
    if (c.name.empty()) continue;
    out << "    " << c.name << ") _arguments";
    for (const OptionHelp& o : c.options) {
      if (o.named) out << " \\\n      " << zshOption(o);
    }
    const std::string words = positionalWords(c);
    if (!words.empty()) out << " \\\n      " << quoted("1:one of:(" + words + ")");
    if (takesFiles(c)) out << " \\\n      " << quoted("*:file:_files");
    out << " ;;\n";
  }
  out << "  esac\n"
         "}\n"
         "_provecut \"$@\"\n";
}

void writeFishCompletion(const ProgramHelp& help, std::ostream& out) {
  out << "# fish completion for provecut, written by: provecut completions fish\n"
         "complete -c provecut -f\n";
  for (const CommandHelp& c : help.commands) {
    const std::string when = c.name.empty() ? "__fish_use_subcommand" : "__fish_seen_subcommand_from " + c.name;
    if (!c.name.empty())
      out << "complete -c provecut -n __fish_use_subcommand -a " << c.name << " -d " << fishQuoted(c.text) << "\n";
    const std::string start = "complete -c provecut -n " + fishQuoted(when);
    for (const OptionHelp& o : c.options) {
      if (!o.named) continue;
      out << start;
      for (const std::string& name : o.names)
        out << (name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1));
      if (!o.value.empty()) out << (choices(o).empty() ? std::string(" -r -F") : " -x -a " + fishQuoted(choices(o)));
      out << " -d " << fishQuoted(o.text) << "\n";
    }
    if (!positionalWords(c).empty()) out << start << " -a " << fishQuoted(positionalWords(c)) << "\n";
    if (takesFiles(c)) out << start << " -F\n";
  }
}

}  // namespace provecut
