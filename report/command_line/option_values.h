// Options that take a value: read as they are parsed, refused with what would be right.
#pragma once

#include <CLI/App.hpp>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace provecut {

// In quotes, safe to show.
std::string inQuotes(std::string_view text);

// "a, b or c"
std::string alternatives(const std::vector<std::string>& words);

// What a command-line option means; absent where it makes no sense.
template <class Value>
using ReadValue = std::function<std::optional<Value>(std::string_view)>;

// An option whose words `read` understands. Otherwise the command line is refused: `--cell "x": give <give>`.
template <class Target, class Value>
CLI::Option* addValue(CLI::App& app, const std::string& name, Target& target, ReadValue<Value> read, std::string give,
                      const std::string& text) {
  const auto set = [&target, name, read = std::move(read), give = std::move(give)](const std::string& words) {
    std::optional<Value> value = read(words);
    if (!value) throw CLI::ValidationError(name.substr(name.find(',') + 1) + " " + inQuotes(words) + ": give " + give);
    target = std::move(*value);
  };
  return app.add_option_function<std::string>(name, set, text);
}

// An option that takes one of a few words; the help shows them as "text|json".
template <class Target, class Value>
CLI::Option* addChoice(CLI::App& app, const std::string& name, Target& target,
                       const std::vector<std::pair<std::string, Value>>& choices, const std::string& text) {
  std::vector<std::string> words;
  std::string shown;
  for (const auto& [word, value] : choices) {
    words.push_back(word);
    shown += (shown.empty() ? "" : "|") + word;
  }
  const ReadValue<Value> read = [choices](std::string_view word) {
    for (const auto& [known, value] : choices) {
      if (word == known) return std::optional<Value>(value);
    }
    return std::optional<Value>();
  };
  return addValue<Target, Value>(app, name, target, read, alternatives(words), text)->type_name(shown);
}

}  // namespace provecut
