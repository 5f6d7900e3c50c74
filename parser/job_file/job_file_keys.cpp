#include "parser/job_file/job_file_keys.h"

#include "parser/base/nearest_word.h"

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

// "`thickness` and `allowed_cut`"
std::string namesOf(const std::vector<std::string>& keys) {
  std::string text;
  for (std::size_t i = 0; i < keys.size(); ++i)
    text += (i == 0 ? "`" : i + 1 == keys.size() ? " and `" : ", `") + keys[i] + "`";
  return text;
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
      elsewhere = isSection(key) ? "write " + header(reader.known, fullName(key))
                                 : "`" + key.name + "` belongs to " + header(reader.known, key.section);
    }
  }
  std::string help = elsewhere;
  if (help.empty()) {
    const std::string nearest = nearestWord(entry.key, here);
    help = nearest.empty() ? std::string(section) + " takes " + namesOf(here) : "did you mean `" + nearest + "`?";
  }
  reader.fail(entry.place, "unknown key " + quoted(entry.key) + " in " + std::string(section), help);
}

void failMissingKey(Reader& reader, const Node& table, std::string_view section, std::string_view key) {
  std::string help = "add `" + std::string(key) + " = ...`";
  for (const KnownKey& k : reader.known) {
    if (k.name != key) continue;
    if (k.takes.form == Form::table) help = "add a section [" + k.name + "]";
    if (k.takes.form == Form::tables) help = "add a section [[" + fullName(k) + "]]";
  }
  reader.fail(table.place, std::string(section) + " has no `" + std::string(key) + "`", help);
}

bool isTable(Reader& reader, const Node& node, std::string_view section) {
  if (node.kind == NodeKind::table) return true;
  reader.fail(node.place, std::string(section) + " is not a section",
              "write " + std::string(section) + " on a line of its own and the keys below it");
  return false;
}

std::vector<const Node*> tablesOf(Reader& reader, const Spot& spot, std::string_view section) {
  std::vector<const Node*> tables;
  if (spot.node.kind != NodeKind::list) {
    reader.fail(spot.node.place, std::string(spot.key) + " is not a list of sections",
                "write " + std::string(section) + " with two brackets, once for each");
    return tables;
  }
  for (const Node& item : spot.node.items) {
    if (isTable(reader, item, section)) tables.push_back(&item);
  }
  return tables;
}

}  // namespace provecut::job_file
