// A section of the job file as a table of keys: a new key is one line in its section's table.
#pragma once

#include <algorithm>

#include "parser/job/job.h"
#include "parser/job_file/job_file_value.h"

namespace provecut::job_file {

template <class T>
struct Key {
  std::string_view name;
  Takes takes;
  std::function<void(Reader&, const Spot&, T&)> read;
  bool is_required = false;
  std::string_view example{};
};

// `example`: as in KnownKey.
template <class T>
Key<T> required(Key<T> key, std::string_view example) {
  key.is_required = true;
  key.example = example;
  return key;
}

// `Member` is double or std::optional<double>.
template <class T, class Member>
Key<T> number(std::string_view name, Member T::*member, Quantity quantity, Range range) {
  return {name, {Form::number, quantity, range}, [=](Reader& reader, const Spot& spot, T& target) {
            if (const auto v = readNumber(reader, spot, quantity, range)) target.*member = *v;
          }};
}

template <class T>
Key<T> whole(std::string_view name, int T::*member, Range range) {
  return {name, {Form::whole, counts, range}, [=](Reader& reader, const Spot& spot, T& target) {
            if (const auto v = readWhole(reader, spot, range)) target.*member = *v;
          }};
}

template <class T>
Key<T> flag(std::string_view name, bool T::*member) {
  return {name, {Form::flag}, [=](Reader& reader, const Spot& spot, T& target) {
            if (const auto v = readFlag(reader, spot)) target.*member = *v;
          }};
}

template <class T>
Key<T> text(std::string_view name, std::string T::*member) {
  return {name, {Form::text}, [=](Reader& reader, const Spot& spot, T& target) {
            if (auto v = readText(reader, spot)) target.*member = std::move(*v);
          }};
}

// A word for each value of an enumeration.
template <class T, class Value>
Key<T> word(std::string_view name, Value T::*member, const std::vector<std::pair<std::string, Value>>& meanings) {
  std::vector<std::string> words;
  for (const auto& meaning : meanings) words.push_back(meaning.first);
  return {name, {Form::word, {}, {}, words}, [=](Reader& reader, const Spot& spot, T& target) {
            if (const auto i = readWord(reader, spot, words)) target.*member = meanings[*i].second;
          }};
}

// Three or two lengths: sizes, or a place.
template <class T, class Three>
Key<T> triple(std::string_view name, Three T::*member, Quantity quantity, Range range) {
  return {name, {Form::numbers, quantity, range, {}, 3}, [=](Reader& reader, const Spot& spot, T& target) {
            if (const auto v = readNumbers(reader, spot, quantity, range, 3))
              target.*member = {(*v)[0], (*v)[1], (*v)[2]};
          }};
}

template <class T, class Two>
Key<T> pair(std::string_view name, Two T::*member, Quantity quantity, Range range) {
  return {name, {Form::numbers, quantity, range, {}, 2}, [=](Reader& reader, const Spot& spot, T& target) {
            if (const auto v = readNumbers(reader, spot, quantity, range, 2)) target.*member = {(*v)[0], (*v)[1]};
          }};
}

// Minimum and maximum, in this order.
template <class T, class Set>
Key<T> span(std::string_view name, Quantity quantity, Range range, Set set) {
  return {name, {Form::numbers, quantity, range, {}, 2}, [=](Reader& reader, const Spot& spot, T& target) {
            const auto v = readNumbers(reader, spot, quantity, range, 2);
            if (!v) return;
            if ((*v)[0] > (*v)[1]) {
              reader.fail(spot.node.place, nameOf(spot) + " has the higher number first", "Write [minimum, maximum].");
              return;
            }
            set(target, (*v)[0], (*v)[1]);
          }};
}

template <class T, class Two>
Key<T> points(std::string_view name, std::vector<Two> T::*member) {
  return {name, {Form::points, lengths}, [=](Reader& reader, const Spot& spot, T& target) {
            const auto read = readPoints(reader, spot);
            if (!read) return;
            (target.*member).clear();
            for (const Vec2 p : *read) (target.*member).push_back({p.x, p.y});
          }};
}

// Anything that the helpers above do not cover.
template <class T, class Function>
Key<T> special(std::string_view name, Takes takes, Function read) {
  return {name, std::move(takes), read};
}

// `unconfirmed` of the section with this path: names of its keys whose values were guessed.
void readUnconfirmed(Reader& reader, const Spot& spot, std::string_view path);
// What the guesses of a section that repeats belong to: those behind the first `before`.
void nameUnconfirmed(Reader& reader, std::size_t before, const std::string& whose);

template <class T>
Key<T> unconfirmedKey(std::string_view path) {
  return {
      "unconfirmed", {Form::texts}, [=](Reader& reader, const Spot& spot, T&) { readUnconfirmed(reader, spot, path); }};
}

// --- reading a table by its keys: `section` as the file writes it, `path` as in KnownKey

void failUnknownKey(Reader& reader, const Entry& entry, std::string_view section, std::string_view path);
void failMissingKey(Reader& reader, const Node& table, std::string_view section, std::string_view path,
                    std::string_view key);
// false, and a problem, when `node` is not a table
bool isTable(Reader& reader, const Node& node, std::string_view section);
// The tables of [[section]]; a problem where it is written otherwise.
std::vector<const Node*> tablesOf(Reader& reader, const Spot& spot, std::string_view section);

// Reads what is there into `target`. True when nothing was wrong, so that checks across keys make sense.
template <class T>
bool readTable(Reader& reader, const Node& node, std::string_view section, std::string_view path,
               const std::vector<Key<T>>& keys, T& target) {
  if (!isTable(reader, node, section)) return false;
  const std::size_t problems_before = reader.problems.size();
  for (const Entry& entry : node.entries) {
    const auto it = std::find_if(keys.begin(), keys.end(), [&](const Key<T>& k) { return k.name == entry.key; });
    if (it == keys.end()) {
      failUnknownKey(reader, entry, section, path);
    } else {
      it->read(reader, {entry.value, entry.key, section}, target);
    }
  }
  for (const Key<T>& key : keys) {
    if (key.is_required && !findEntry(node, key.name)) failMissingKey(reader, node, section, path, key.name);
  }
  return reader.problems.size() == problems_before;
}

template <class T>
void list(std::vector<KnownKey>& known, std::string_view path, const std::vector<Key<T>>& keys) {
  for (const Key<T>& key : keys)
    known.push_back({std::string(path), std::string(key.name), key.takes, key.is_required, std::string(key.example)});
}

// --- the sections

void readMachine(Reader& reader, const Spot& spot, Job& job);
void readTools(Reader& reader, const Spot& spot, Job& job);
// One tool, with its defaults when nothing is wrong. `written_as` names the table in messages: "[[tool]]".
Tool readTool(Reader& reader, const Node& table, std::string_view written_as);
void readColletNut(Reader& reader, const Spot& spot, Job& job);
void readAttachments(Reader& reader, const Spot& spot, Job& job);
void readHoldDowns(Reader& reader, const Spot& spot, Job& job);
void readQuote(Reader& reader, const Spot& spot, Job& job);
// After the stock and the hold-downs: zero words need the stock's size, lists need the names.
void readSetups(Reader& reader, const Spot& spot, Job& job);
// Checks of hold-downs that need the stock and the setups.
void checkHoldDowns(Reader& reader, Job& job);

void listMachineKeys(std::vector<KnownKey>& known);
void listToolKeys(std::vector<KnownKey>& known);  // with collet_nut and spindle_attachment
void listHoldDownKeys(std::vector<KnownKey>& known);
void listQuoteKeys(std::vector<KnownKey>& known);
void listSetupKeys(std::vector<KnownKey>& known);

// Every key that the reader knows, section by section.
std::vector<KnownKey> knownKeys();

}  // namespace provecut::job_file
