// The published schema of the job file and the reader's own tables must say the same.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "parser/job_file/job_file_keys.h"
#include "tests/paths.h"

namespace provecut::job_file {
namespace {

using nlohmann::json;

json schema() {
  std::ifstream file(PROVECUT_SOURCE_DIR "/parser/schemas/job-1.schema.json");
  EXPECT_TRUE(file.good());
  return json::parse(file);
}

const json& resolved(const json& root, const json& node) {
  return node.contains("$ref") ? root.at(json::json_pointer(node["$ref"].get<std::string>().substr(1))) : node;
}

// The object that describes a section: "setup.program" → properties/setup/items/properties/program/items.
const json& sectionOf(const json& root, const std::string& path) {
  const json* at = &root;
  std::size_t start = 0;
  while (start < path.size()) {
    const std::size_t dot = std::min(path.find('.', start), path.size());
    at = &at->at("properties").at(path.substr(start, dot - start));
    if (at->contains("items")) at = &at->at("items");
    start = dot + 1;
  }
  return *at;
}

// What the schema says of bounds, as a Range.
Range rangeOf(const json& node) {
  Range range;
  if (node.contains("minimum")) range.low = node["minimum"];
  if (node.contains("exclusiveMinimum")) range.low = node["exclusiveMinimum"], range.above_low = true;
  if (node.contains("maximum")) range.high = node["maximum"];
  if (node.contains("exclusiveMaximum")) range.high = node["exclusiveMaximum"], range.below_high = true;
  return range;
}

void expectRange(const json& node, const Range& range, const std::string& what) {
  const Range said = rangeOf(node);
  EXPECT_EQ(said.low, range.low) << what;
  EXPECT_EQ(said.high, range.high) << what;
  EXPECT_EQ(said.above_low, range.above_low) << what;
  EXPECT_EQ(said.below_high, range.below_high) << what;
}

void expectList(const json& node, std::size_t count, const std::string& what) {
  EXPECT_EQ(node.value("type", ""), "array") << what;
  EXPECT_EQ(node.value("minItems", std::size_t{0}), count) << what;
  EXPECT_EQ(node.value("maxItems", std::size_t{0}), count) << what;
}

// A length may be text with a unit as well.
void expectNumber(const json& node, const Takes& takes, const std::string& what) {
  if (isLength(takes.quantity)) {
    EXPECT_EQ(node.value("$ref", ""), "#/$defs/length") << what;
  } else {
    EXPECT_EQ(node.value("type", ""), "number") << what;
  }
  expectRange(node, takes.range, what);
}

void expectSame(const json& root, const json& property, const Takes& takes, const std::string& what) {
  const json& node = resolved(root, property);
  switch (takes.form) {
    case Form::text:
      EXPECT_EQ(node, root["$defs"]["text"]) << what;
      break;
    case Form::word:
      EXPECT_EQ(node["enum"], json(takes.words)) << what;
      break;
    case Form::whole:
      if (node.contains("const")) {
        EXPECT_EQ(node["const"], takes.range.low) << what;
        EXPECT_EQ(node["const"], takes.range.high) << what;
      } else if (!takes.words.empty()) {
        std::vector<std::string> values;
        for (const json& v : node["enum"]) values.push_back(v.dump());
        EXPECT_EQ(values, takes.words) << what;
      } else {
        EXPECT_EQ(node["type"], "integer") << what;
        expectRange(node, takes.range, what);
      }
      break;
    case Form::number:
      expectNumber(property, takes, what);
      break;
    case Form::flag:
      EXPECT_EQ(node["type"], "boolean") << what;
      break;
    case Form::numbers:
      expectList(node, takes.count, what);
      expectNumber(node["items"], takes, what);
      break;
    case Form::points:
      expectList(resolved(root, node["items"]), 2, what);
      break;
    case Form::texts:
      EXPECT_EQ(resolved(root, node["items"]), root["$defs"]["text"]) << what;
      break;
    case Form::words:
      EXPECT_EQ(node["items"]["enum"], json(takes.words)) << what;
      break;
    case Form::wholes:
      EXPECT_EQ(node["items"]["type"], "integer") << what;
      expectRange(node["items"], takes.range, what);
      break;
    case Form::zero:
      expectList(node, 3, what);
      break;
    case Form::offsets: {
      std::set<std::string> keys;
      for (const auto& [key, value] : node["properties"].items()) {
        keys.insert(key);
        expectList(resolved(root, value), takes.count, what + "." + key);
      }
      EXPECT_EQ(keys, std::set<std::string>(takes.words.begin(), takes.words.end())) << what;
      EXPECT_EQ(node["additionalProperties"], false) << what;
      break;
    }
    case Form::table:
      EXPECT_EQ(node["type"], "object") << what;
      break;
    case Form::tables:
      EXPECT_EQ(node["type"], "array") << what;
      EXPECT_EQ(node["items"]["type"], "object") << what;
      break;
  }
}

TEST(JobFileSchema, describes_every_key_that_is_read_as_it_is_read) {
  const json root = schema();
  for (const KnownKey& key : knownKeys()) {
    const std::string what = key.section + "." + key.name;
    const json& section = sectionOf(root, key.section);
    ASSERT_TRUE(section["properties"].contains(key.name)) << what;
    const json& property = section["properties"][key.name];
    expectSame(root, property, key.takes, what);
    EXPECT_FALSE(property.value("description", "").empty()) << what;
    const auto required = section.value("required", std::vector<std::string>{});
    EXPECT_EQ(std::count(required.begin(), required.end(), key.name), key.required ? 1 : 0) << what;
  }
}

TEST(JobFileSchema, knows_no_key_that_is_not_read) {
  const json root = schema();
  std::set<std::string> sections, known;
  for (const KnownKey& key : knownKeys()) {
    sections.insert(key.section);
    known.insert(key.section + "/" + key.name);
  }
  for (const std::string& path : sections) {
    const json& section = sectionOf(root, path);
    EXPECT_EQ(section["additionalProperties"], false) << path;
    for (const auto& [key, value] : section["properties"].items())
      EXPECT_TRUE(known.count(path + "/" + key)) << path << "/" << key;
  }
}

TEST(JobFileSchema, has_a_section_for_every_table) {
  std::set<std::string> sections;
  for (const KnownKey& key : knownKeys()) sections.insert(key.section);
  for (const KnownKey& key : knownKeys()) {
    if (key.takes.form != Form::table && key.takes.form != Form::tables) continue;
    EXPECT_TRUE(sections.count(key.section.empty() ? key.name : key.section + "." + key.name)) << key.name;
  }
}

}  // namespace
}  // namespace provecut::job_file
