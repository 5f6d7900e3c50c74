#include "report/formats/data/sarif.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <set>
#include <string>
#include <vector>

#include "report/base/digest.h"
#include "report/base/visible_text.h"
#include "report/facts/shown_names.h"
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

// A file of a report: a program by its place in the job, or the job file.
constexpr int of_job_file = -1;

struct Uris {
  std::vector<std::string> programs;
  std::string job;  // empty where there is no job file
  const std::string& of(int file) const { return file == of_job_file ? job : programs[file]; }
};

Uris urisOf(const Facts& facts) {
  Uris uris;
  const std::filesystem::path folder = std::filesystem::path(facts.job.file).parent_path();
  for (const ProgramFacts& p : facts.programs) uris.programs.push_back(uriOf(folder / p.entry->file));
  if (!facts.job.file.empty()) uris.job = uriOf(facts.job.file);
  return uris;
}

// The first file that is shown by this name.
std::optional<int> fileNamed(const Facts& facts, std::string_view shown) {
  for (int p = 0; p < std::ssize(facts.programs); ++p) {
    if (shownFile(facts, p) == shown) return p;
  }
  if (!facts.job.file.empty() && shown == visibleText(facts.job.file)) return of_job_file;
  return std::nullopt;
}

Json driver() {
  Json rules = Json::array();
  for (const Rule* rule : allRules()) {
    rules.push_back({{"id", rule->id},
                     {"shortDescription", {{"text", rule->summary}}},
                     {"help", {{"text", rule->page}, {"markdown", rule->page}}},
                     {"defaultConfiguration", {{"level", sarifLevel(rule->level)}}},
                     {"properties", {{"level", levelName(rule->level)}}}});
  }
  return {{"name", "provecut"}, {"version", PROVECUT_VERSION}, {"semanticVersion", PROVECUT_VERSION}, {"rules", rules}};
}

Json invocation(const std::vector<std::string>& not_checked) {
  Json notifications = Json::array();
  for (const std::string& what : not_checked) {
    notifications.push_back({{"level", "warning"},
                             {"message", {{"text", "not checked: " + what}}},
                             {"descriptor", {{"id", "not-checked"}}}});
  }
  return {{"executionSuccessful", true}, {"toolExecutionNotifications", notifications}};
}

Json artifact(const std::string& uri, const std::string& bytes) {
  return {{"location", {{"uri", uri}}},
          {"roles", Json::array({"analysisTarget"})},
          {"length", bytes.size()},
          {"hashes", {{"sha-256", sha256(bytes)}}}};
}

Json artifacts(const Facts& facts, const Uris& uris) {
  Json list = Json::array();
  std::set<std::string> listed;  // a program may be run more than once
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    if (listed.insert(uris.programs[i]).second) list.push_back(artifact(uris.programs[i], facts.programs[i].text));
  }
  if (!uris.job.empty() && listed.insert(uris.job).second) list.push_back(artifact(uris.job, facts.job_text));
  return list;
}

Json location(const Facts& facts, const Uris& uris, int file, const ShownPlace& place) {
  Json physical;
  physical["artifactLocation"]["uri"] = uris.of(file);
  if (place.line > 0) {
    Json& region = physical["region"];
    region["startLine"] = place.line;
    if (place.column > 0) {
      region["startColumn"] = place.column;
      region["endLine"] = place.line;
      region["endColumn"] = std::max(place.end_column, place.column + 1);
    }
    const std::string_view line =
        file == of_job_file ? lineOfText(facts.job_text, place.line) : facts.programs[file].line(place.line);
    if (!line.empty())
      physical["contextRegion"] = {{"startLine", place.line},
                                   {"snippet", {{"text", excerptOf(line, {}, max_snippet_cells).text}}}};
  }
  return {{"physicalLocation", physical}};
}

Json relatedLocations(const Facts& facts, const Uris& uris, const Finding& f) {
  Json list = Json::array();
  for (const Related& r : f.related) {
    const std::optional<int> file =
        r.file == f.program && f.program_order >= 0 ? f.program_order : fileNamed(facts, r.file);
    Json entry = file ? location(facts, uris, *file, r.place) : Json::object();
    entry["id"] = list.size() + 1;
    entry["message"]["text"] = r.message;
    list.push_back(std::move(entry));
  }
  return list;
}

std::string causeText(const LikelyCause& cause) {
  return "Likely cause: " + cause.question + " " + cause.effect;
}

// A cause belongs to the findings that are gone under it; one of several, to all of its setup.
bool belongsTo(const Report& report, const Finding& f, std::size_t cause_index) {
  const LikelyCause& cause = report.likely_causes[cause_index];
  if (!cause.tied) return f.likely_cause == cause_index;
  return !f.accepted && f.level > Level::note && (cause.setup.empty() || cause.setup == f.setup);
}

void relateLikelyCauses(const Report& report, const Uris& uris, const Finding& f, Json& result) {
  for (std::size_t i = 0; i < report.likely_causes.size(); ++i) {
    if (!belongsTo(report, f, i)) continue;
    const LikelyCause& cause = report.likely_causes[i];
    Json& related = result["relatedLocations"];
    if (related.is_null()) related = Json::array();
    const std::optional<int> file = fileNamed(*report.facts, cause.file);
    Json entry = file ? location(*report.facts, uris, *file, cause.place) : Json::object();
    entry["id"] = related.size() + 1;
    entry["message"]["text"] = causeText(cause);
    related.push_back(std::move(entry));
  }
}

Json properties(const Finding& f) {
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

std::map<std::string_view, std::size_t> ruleIndices() {
  std::map<std::string_view, std::size_t> indices;
  for (const Rule* rule : allRules()) indices.emplace(rule->id, indices.size());
  return indices;
}

Json results(const Report& report, const Uris& uris) {
  const Facts& facts = *report.facts;
  const auto rules = ruleIndices();
  BlockFingerprints fingerprints;
  Json list = Json::array();
  for (const Finding& f : report.findings) {
    Json r;
    r["ruleId"] = f.rule;
    if (const auto it = rules.find(f.rule); it != rules.end()) r["ruleIndex"] = it->second;
    r["level"] = sarifLevel(f.level);
    r["message"]["text"] = f.help.empty() ? f.message : f.message + ". " + f.help;
    if (f.program_order >= 0 || !uris.job.empty())
      r["locations"] = Json::array({location(facts, uris, f.program_order, f.place)});
    if (f.moves > 1) r["occurrenceCount"] = f.moves;
    if (!f.related.empty()) r["relatedLocations"] = relatedLocations(facts, uris, f);
    relateLikelyCauses(report, uris, f, r);
    r["partialFingerprints"]["provecut/block/v1"] = fingerprints.of(facts, f);
    if (f.accepted)
      r["suppressions"] = Json::array({{{"kind", "external"}, {"status", "accepted"}, {"justification", *f.accepted}}});
    r["properties"] = properties(f);
    list.push_back(std::move(r));
  }
  return list;
}

}  // namespace

void writeSarif(const Report& report, std::ostream& out) {
  const Facts& facts = *report.facts;
  const Uris uris = urisOf(facts);
  Json run;
  run["tool"]["driver"] = driver();
  run["invocations"] = Json::array({invocation(report.not_checked)});
  run["artifacts"] = artifacts(facts, uris);
  run["results"] = results(report, uris);
  run["columnKind"] = "unicodeCodePoints";
  run["properties"] = {
      {"verdict", verdictName(report.verdict)}, {"complete", report.complete}, {"job", visibleText(facts.job.name)}};
  for (const LikelyCause& cause : report.likely_causes) run["properties"]["likely_causes"].push_back(causeText(cause));
  Json log;
  log["$schema"] = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
  log["version"] = "2.1.0";
  log["runs"] = Json::array({run});
  out << log.dump(1, ' ', false, Json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
