#include "parser/job_file/job_file_keys.h"

#include <cctype>

#include "parser/base/check.h"

namespace provecut::job_file {

namespace {

std::string fullName(const KnownKey& key) {
  return key.section.empty() ? key.name : key.section + "." + key.name;
}

// As the file writes it: [[tool]] where tables repeat, [stock] where there is one.
std::string header(const std::vector<KnownKey>& known, const std::string& path) {
  if (path.empty()) return "the top of the file, before any [section]";
  const std::size_t dot = path.rfind('.');
  const std::string parent = dot == std::string::npos ? "" : path.substr(0, dot);
  const std::string name = dot == std::string::npos ? path : path.substr(dot + 1);
  const bool repeats = std::any_of(known.begin(), known.end(), [&](const KnownKey& k) {
    return k.section == parent && k.name == name && k.takes.form == Form::tables;
  });
  return repeats ? "[[" + path + "]]" : "[" + path + "]";
}

// "[spoilboard] takes `thickness` and `allowed_cut`."
std::string sectionTakes(std::string_view section, std::vector<std::string> keys) {
  std::string text(section);
  std::erase(keys, "unconfirmed");  // of first job files only
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  for (std::size_t i = 0; i < keys.size(); ++i) {
    text += i == 0 ? " takes " : i + 1 == keys.size() ? " and " : ", ";
    text += "`" + keys[i] + "`";
  }
  return text + ".";
}

// A number, or several, of which more than one is right.
bool isMeasure(const Takes& takes) {
  const bool is_number = takes.form == Form::number || takes.form == Form::whole || takes.form == Form::numbers;
  return is_number && takes.range.low != takes.range.high;
}

}  // namespace

void failUnknownKey(Reader& reader, const Entry& entry, std::string_view section, std::string_view path) {
  const auto isSection = [](const KnownKey& k) { return k.takes.form == Form::table || k.takes.form == Form::tables; };
  const bool written_as_section =
      entry.value.kind == NodeKind::table || (entry.value.kind == NodeKind::list && !entry.value.items.empty() &&
                                              entry.value.items[0].kind == NodeKind::table);
  std::vector<std::string> here;
  std::string elsewhere;
  for (const KnownKey& key : reader.known) {
    if (key.section == path) {
      here.push_back(key.name);
    } else if (key.name == entry.key && isSection(key) == written_as_section && elsewhere.empty()) {
      elsewhere = isSection(key) ? "Write " + header(reader.known, fullName(key)) + "."
                                 : "`" + key.name + "` belongs to " + header(reader.known, key.section) + ".";
    }
  }
  std::string help = elsewhere;
  if (help.empty()) {
    const std::string meant = meantWord(entry.key, here);
    help = meant.empty() ? sectionTakes(section, here) : "Did you mean `" + meant + "`?";
  }
  reader.fail(entry.place, "unknown key " + quoted(entry.key) + " in " + std::string(section), help);
}

void failMissingKey(Reader& reader, const Node& table, std::string_view section, std::string_view path,
                    std::string_view key) {
  const auto known = std::find_if(reader.known.begin(), reader.known.end(),
                                  [&](const KnownKey& k) { return k.section == path && k.name == key; });
  CHECK(known != reader.known.end() && !known->example.empty());
  std::string help = "Add ";
  if (known->takes.form == Form::table) help += "a section [" + fullName(*known) + "] with ";
  if (known->takes.form == Form::tables) help += "a section [[" + fullName(*known) + "]] with ";
  // A measure must not be copied from an example.
  if (isMeasure(known->takes)) help += "`" + std::string(key) + "`, for example ";
  reader.fail(table.place, std::string(section) + " has no `" + std::string(key) + "`", help + known->example + ".");
}

void readUnconfirmed(Reader& reader, const Spot& spot, std::string_view path) {
  std::vector<std::string> here;
  for (const KnownKey& key : reader.known) {
    if (key.section == path && key.name != spot.key) here.push_back(key.name);
  }
  Unconfirmed guesses{std::string(spot.section), {}, spot.node.place};
  for (auto& [name, place] : readTexts(reader, spot)) {
    if (std::find(here.begin(), here.end(), name) == here.end()) {
      const std::string meant = meantWord(name, here);
      reader.fail(place, "`unconfirmed` names " + quoted(name) + ", no key of " + std::string(spot.section),
                  meant.empty() ? sectionTakes(spot.section, here) : "Did you mean " + quoted(meant) + "?");
    } else {
      guesses.keys.push_back(std::move(name));
    }
  }
  if (!guesses.keys.empty()) reader.unconfirmed.push_back(std::move(guesses));
}

void nameUnconfirmed(Reader& reader, std::size_t before, const std::string& whose) {
  for (std::size_t i = before; i < reader.unconfirmed.size(); ++i) reader.unconfirmed[i].whose = whose;
}

bool isTable(Reader& reader, const Node& node, std::string_view section) {
  if (node.kind == NodeKind::table) return true;
  reader.fail(node.place, std::string(section) + " is not a section",
              "Write " + std::string(section) + " on a line of its own, and its keys below it.");
  return false;
}

std::vector<const Node*> tablesOf(Reader& reader, const Spot& spot, std::string_view section) {
  std::vector<const Node*> tables;
  if (spot.node.kind != NodeKind::list) {
    reader.fail(spot.node.place, std::string(spot.key) + " is not a list of sections",
                "Write " + std::string(section) + " with two brackets, once for each.");
    return tables;
  }
  for (const Node& item : spot.node.items) {
    if (isTable(reader, item, section)) tables.push_back(&item);
  }
  return tables;
}

}  // namespace provecut::job_file
