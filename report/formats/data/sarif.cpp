#include "report/formats/data/sarif.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <vector>

#include "report/base/visible_text.h"
#include "report/formats/base/digest.h"
#include "report/formats/data/block_fingerprint.h"
#include "report/rules/rule.h"

namespace provecut {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t max_snippet_cells = 400;

std::string_view sarifLevel(Level level) {
  switch (level) {
    case Level::stop:
      return "error";
    case Level::look:
      return "warning";
    case Level::note:
      return "note";
  }
  return "none";
}

// A file's name as a URI reference (RFC 3986): relative as it was given, or file:// and the whole path.
std::string uriOf(const std::filesystem::path& path) {
  const std::string name = path.lexically_normal().generic_string();
  std::string uri = path.is_absolute() ? "file://" : "";
  for (const char c : name) {
    const bool letter = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (letter || std::string_view("-._~/").find(c) != std::string_view::npos) {
      uri += c;
    } else {
      const auto byte = static_cast<unsigned char>(c);
      uri += '%';
      uri += "0123456789ABCDEF"[byte >> 4];
      uri += "0123456789ABCDEF"[byte & 0xF];
    }
  }
  return uri;
}

class Writer {
 public:
  explicit Writer(const Report& report) : report_(report), facts_(*report.facts) {
    const std::filesystem::path folder = std::filesystem::path(facts_.job.file).parent_path();
    for (const ProgramFacts& p : facts_.programs) {
      program_of_.try_emplace(visibleText(p.entry->file), program_uris_.size());
      program_uris_.push_back(uriOf(folder / p.entry->file));
    }
    if (!facts_.job.file.empty()) job_uri_ = uriOf(facts_.job.file);
    std::size_t index = 0;
    for (const Rule* rule : allRules()) rule_index_[std::string(rule->id)] = index++;
  }

  Json log() {
    Json run;
    run["tool"]["driver"] = driver();
    run["invocations"] = Json::array({invocation()});
    run["artifacts"] = artifacts();
    run["results"] = Json::array();
    for (const Finding& f : report_.findings) run["results"].push_back(result(f));
    run["columnKind"] = "unicodeCodePoints";
    run["properties"] = {{"verdict", verdictName(report_.verdict)},
                         {"complete", report_.complete},
                         {"job", visibleText(facts_.job.name)}};
    Json log;
    log["$schema"] = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
    log["version"] = "2.1.0";
    log["runs"] = Json::array({run});
    return log;
  }

 private:
  Json driver() const {
    Json rules = Json::array();
    for (const Rule* rule : allRules()) {
      rules.push_back({{"id", rule->id},
                       {"shortDescription", {{"text", rule->summary}}},
                       {"help", {{"text", rule->page}, {"markdown", rule->page}}},
                       {"defaultConfiguration", {{"level", sarifLevel(rule->level)}}},
                       {"properties", {{"level", levelName(rule->level)}}}});
    }
    return {
        {"name", "provecut"}, {"version", PROVECUT_VERSION}, {"semanticVersion", PROVECUT_VERSION}, {"rules", rules}};
  }

  Json invocation() const {
    Json notifications = Json::array();
    for (const std::string& what : report_.not_checked) {
      notifications.push_back({{"level", "warning"},
                               {"message", {{"text", "not checked: " + what}}},
                               {"descriptor", {{"id", "not-checked"}}}});
    }
    return {{"executionSuccessful", true}, {"toolExecutionNotifications", notifications}};
  }

  static Json artifact(const std::string& uri, const std::string& bytes) {
    return {{"location", {{"uri", uri}}},
            {"roles", Json::array({"analysisTarget"})},
            {"length", bytes.size()},
            {"hashes", {{"sha-256", sha256(bytes)}}}};
  }

  Json artifacts() const {
    Json list = Json::array();
    std::map<std::string, bool> listed;  // a program may be run more than once
    for (std::size_t i = 0; i < facts_.programs.size(); ++i) {
      if (listed.try_emplace(program_uris_[i], true).second)
        list.push_back(artifact(program_uris_[i], facts_.programs[i].text));
    }
    if (!job_uri_.empty() && listed.try_emplace(job_uri_, true).second)
      list.push_back(artifact(job_uri_, facts_.job_text));
    return list;
  }

  std::string_view lineAt(int program, std::uint32_t line) const {
    if (program < 0) return lineOfText(facts_.job_text, line);
    return facts_.programs[static_cast<std::size_t>(program)].line(line);
  }

  // `program`: -1 for the job file.
  Json location(int program, const ShownPlace& place) const {
    const std::string& uri = program < 0 ? job_uri_ : program_uris_[static_cast<std::size_t>(program)];
    Json physical;
    physical["artifactLocation"]["uri"] = uri;
    if (place.line > 0) {
      Json& region = physical["region"];
      region["startLine"] = place.line;
      if (place.column > 0) {
        region["startColumn"] = place.column;
        region["endLine"] = place.line;
        region["endColumn"] = std::max(place.end_column, place.column + 1);
      }
      const std::string_view line = lineAt(program, place.line);
      if (!line.empty())
        physical["contextRegion"] = {{"startLine", place.line},
                                     {"snippet", {{"text", excerptOf(line, {}, max_snippet_cells).text}}}};
    }
    return {{"physicalLocation", physical}};
  }

  // Which file a related place names: a program's index, -1 for the job file, nothing when it is neither.
  std::optional<int> fileOf(const Related& r) const {
    if (const auto it = program_of_.find(r.file); it != program_of_.end()) return static_cast<int>(it->second);
    if (!job_uri_.empty() && r.file == visibleText(facts_.job.file)) return -1;
    return std::nullopt;
  }

  Json relatedLocations(const Finding& f) const {
    Json list = Json::array();
    for (const Related& r : f.related) {
      const std::optional<int> file = r.file == f.program && f.program_order >= 0 ? f.program_order : fileOf(r);
      Json entry = file ? location(*file, r.place) : Json::object();
      entry["id"] = list.size() + 1;
      entry["message"]["text"] = r.message;
      list.push_back(std::move(entry));
    }
    return list;
  }

  static Json properties(const Finding& f) {
    Json p;
    p["level"] = levelName(f.level);
    if (!f.setup.empty()) p["setup"] = f.setup;
    if (!f.subject.empty()) p["subject"] = f.subject;
    if (f.last_line > f.place.line) p["last_line"] = f.last_line;
    if (f.at) p["at_mm"] = Json::array({f.at->x, f.at->y, f.at->z});
    if (f.amount && std::isfinite(*f.amount)) p["amount"] = *f.amount;
    if (!f.unit.empty()) p["unit"] = f.unit;
    return p;
  }

  Json result(const Finding& f) {
    Json r;
    r["ruleId"] = f.rule;
    if (const auto it = rule_index_.find(f.rule); it != rule_index_.end()) r["ruleIndex"] = it->second;
    r["level"] = sarifLevel(f.level);
    r["message"]["text"] = f.help.empty() ? f.message : f.message + ". " + f.help;
    if (f.program_order >= 0 || !job_uri_.empty()) r["locations"] = Json::array({location(f.program_order, f.place)});
    if (f.moves > 1) r["occurrenceCount"] = f.moves;
    if (!f.related.empty()) r["relatedLocations"] = relatedLocations(f);
    r["partialFingerprints"]["provecut/block/v1"] = fingerprints_.of(facts_, f);
    if (f.accepted)
      r["suppressions"] = Json::array({{{"kind", "external"}, {"status", "accepted"}, {"justification", *f.accepted}}});
    r["properties"] = properties(f);
    return r;
  }

  const Report& report_;
  const Facts& facts_;
  std::vector<std::string> program_uris_;
  std::string job_uri_;
  std::map<std::string, std::size_t> program_of_;  // visible name, to the first program of that name
  std::map<std::string, std::size_t> rule_index_;
  BlockFingerprints fingerprints_;
};

}  // namespace

void writeSarif(const Report& report, std::ostream& out) {
  out << Writer(report).log().dump(1, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
