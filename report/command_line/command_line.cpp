#include "report/command_line/command_line.h"

#include <CLI/App.hpp>
#include <algorithm>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "parser/base/nearest_word.h"
#include "report/base/visible_text.h"
#include "report/command_line/option_values.h"
#include "report/command_line/syntax.h"

namespace provecut {

namespace {

// The command line cannot be used; what() says why.
struct Unusable : std::runtime_error {
  using std::runtime_error::runtime_error;
};

// The word that was not expected, and what it may have meant.
std::string describeExtra(const CLI::App& app, std::string_view word) {
  std::vector<std::string> known;
  const CLI::App* command = app.get_subcommands().empty() ? &app : app.get_subcommands().front();
  if (word.starts_with("-")) {
    for (const CLI::Option* option : command->get_options()) {
      for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
    }
    word = word.substr(0, word.find('='));
    const std::string nearest = nearestWord(word, known);
    return "no option " + inQuotes(word) + (nearest.empty() ? "" : "; did you mean " + nearest + "?");
  }
  if (command == &app) {
    for (const CLI::App* c : app.get_subcommands([](const CLI::App*) { return true; })) known.push_back(c->get_name());
    const std::string nearest = nearestWord(word, known);
    if (!nearest.empty()) return "no command " + inQuotes(word) + "; did you mean " + nearest + "?";
    return "no command " + inQuotes(word) + "; to check it: provecut check " + visibleText(word);
  }
  return "unexpected argument " + inQuotes(word);
}

CommandLine unusable(const CLI::App& app, const std::string& why) {
  const auto chosen = app.get_subcommands();
  const std::string help = chosen.empty() ? "provecut --help" : "provecut " + chosen.front()->get_name() + " --help";
  return {std::nullopt, exit_unusable, "provecut: " + why + "\nSee " + help + ".\n"};
}

std::string_view switchOf(Export what) {
  switch (what) {
    case Export::by_ending:
      break;
    case Export::moves:
      return "--moves";
    case Export::engagement:
      return "--engagement";
    case Export::hits:
      return "--hits";
    case Export::parts:
      return "--parts";
    case Export::pictures:
      return "--pictures";
    case Export::stl:
      return "--stl";
    case Export::ply:
      return "--ply";
    case Export::vdb:
      return "--vdb";
  }
  return {};
}

// What to export: said by a switch, or by the ending of the output's name.
Export exportOf(const Options& o, std::vector<Export> asked) {
  if (!o.moves_of.empty()) asked.push_back(Export::moves);
  if (!o.engagement_of.empty()) asked.push_back(Export::engagement);
  if (asked.size() > 1)
    throw Unusable("export writes one thing at a time: choose " + std::string(switchOf(asked[0])) + " or " +
                   std::string(switchOf(asked[1])));
  if (!asked.empty()) return asked.front();
  const std::string_view name = o.output;
  for (const auto& [ending, what] :
       {std::pair{".stl", Export::stl}, std::pair{".ply", Export::ply}, std::pair{".vdb", Export::vdb},
        std::pair{".csv", Export::hits}, std::pair{".json", Export::parts}}) {
    if (name.ends_with(ending)) return what;
  }
  throw Unusable(
      "say what to export: --stl, --ply, --vdb, --hits, --parts, --pictures, --moves PROGRAM, --engagement JOB, or an "
      "--output that ends in .stl, .ply, .vdb, .csv or .json");
}

void requireExportInput(const Options& o) {
  if (o.what == Export::moves || o.what == Export::engagement) {
    if (!o.files.empty())
      throw Unusable("--moves and --engagement take their own file: leave out " + visibleText(o.files.front()));
    return;
  }
  if (o.files.size() != 1) throw Unusable("export needs one job file");
  if (o.what == Export::pictures && o.output.empty()) throw Unusable("--pictures needs a folder: --output FOLDER");
  if (o.what == Export::parts && !o.output.empty() && !o.output.ends_with(".json"))
    throw Unusable("--parts writes FILE.json and FILE.svg: end --output in .json");
  if (o.what == Export::vdb && o.output.empty()) throw Unusable("--vdb needs a file: --output FILE");
}

void requireInput(const Options& o) {
  const bool none = o.files.empty(), one = o.files.size() == 1;
  switch (o.command) {
    case Command::check:
      if (none) throw Unusable("check needs a job file, or programs with --stock and --tool");
      break;
    case Command::init:
      if (none) throw Unusable("init needs the programs of the job");
      break;
    case Command::time:
      if (none) throw Unusable("time needs a job file, or programs");
      break;
    case Command::quote:
      if (none) throw Unusable("quote needs a job file");
      break;
    case Command::resume:
      if (!one) throw Unusable("resume needs one job file");
      break;
    case Command::sheet:
      if (!one) throw Unusable("sheet needs one job file");
      break;
    case Command::lock:
      if (!one) throw Unusable("lock needs one job file");
      break;
    case Command::place:
      if (!one) throw Unusable("place needs one job file");
      break;
    case Command::export_:
      requireExportInput(o);
      break;
    case Command::completions:
      if (!o.shell) throw Unusable("completions needs a shell: bash, zsh or fish");
      break;
    case Command::explain:
    case Command::manual:
      break;
  }
  for (const std::string& file : o.files) {
    if (file.empty()) throw Unusable("a file name is empty");
  }
}

// What stands before and after a word of the parser's, safe to show.
std::pair<std::string, std::string> around(std::string_view text, std::string_view word) {
  const std::size_t at = std::min(text.find(word), text.size());
  return {visibleText(text.substr(0, at)), visibleText(text.substr(std::min(at + word.size(), text.size())))};
}

OptionHelp describe(const CLI::Option& option) {
  OptionHelp help;
  help.named = option.nonpositional();
  if (help.named) {
    for (const std::string& name : option.get_snames()) help.names.push_back("-" + name);
    for (const std::string& name : option.get_lnames()) help.names.push_back("--" + name);
  } else {
    help.names.push_back(option.get_name(true));
  }
  if (option.get_items_expected_max() > 0) help.value = option.get_type_name();
  help.text = option.get_description();
  return help;
}

CommandHelp describe(const CLI::App& app, std::string name) {
  CommandHelp help{std::move(name), app.get_description(), {}};
  for (const CLI::Option* option : app.get_options()) help.options.push_back(describe(*option));
  return help;
}

}  // namespace

CommandLine readCommandLine(int argc, const char* const* argv) {
  Syntax syntax;
  CLI::App& app = syntax.app;
  Options& options = syntax.options;
  try {
    app.parse(argc, argv);
    if (app.get_subcommands().empty()) return {std::nullopt, exit_unusable, app.help()};
    for (const auto& [command, id] : syntax.commands) {
      if (command->parsed()) options.command = id;
    }
    if (options.command == Command::export_) options.what = exportOf(options, syntax.exports);
    requireInput(options);
    return {options, exit_done, {}};
  } catch (const CLI::CallForHelp&) {
    const auto chosen = app.get_subcommands();
    return {std::nullopt, exit_done, chosen.empty() ? app.help() : chosen.front()->help(app.get_name())};
  } catch (const CLI::CallForAllHelp&) {
    return {std::nullopt, exit_done, app.help("", CLI::AppFormatMode::All)};
  } catch (const CLI::CallForVersion& version) {
    return {std::nullopt, exit_done, std::string(version.what()) + "\n"};
  } catch (const CLI::ExtrasError&) {
    const auto words = app.remaining(true);
    return unusable(app, describeExtra(app, words.empty() ? std::string() : words.front()));
  } catch (const CLI::ExcludesError& error) {
    const auto [one, other] = around(error.what(), " excludes ");
    return unusable(app, "give " + one + " or " + other + ", not both");
  } catch (const CLI::RequiresError& error) {
    const auto [one, other] = around(error.what(), " requires ");
    return unusable(app, one + " needs " + other);
  } catch (const CLI::ArgumentMismatch& error) {
    return unusable(app, around(error.what(), ":").first + " needs a value");
  } catch (const CLI::ParseError& error) {
    return unusable(app, visibleText(error.what()));
  } catch (const Unusable& error) {
    return unusable(app, error.what());
  }
}

ProgramHelp describeCommandLine() {
  const Syntax syntax;
  ProgramHelp help{std::string(purpose), std::string(statuses), exampleLines(), {}};
  help.commands.push_back(describe(syntax.app, {}));
  for (const auto& [command, id] : syntax.commands) help.commands.push_back(describe(*command, command->get_name()));
  return help;
}

}  // namespace provecut
