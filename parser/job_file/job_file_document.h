// The text of a job file as a tree of values, each with its place. Knows TOML and nothing of jobs.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/place.h"
#include "parser/job_file/job_file_problem.h"

namespace provecut::job_file {

enum class NodeKind { text, whole, number, flag, list, table, date };

struct Entry;

struct Node {
  NodeKind kind = NodeKind::table;
  Place place;                 // columns in bytes; a [table]: its header
  std::string text;            // text
  double number = 0;           // whole and number
  std::int64_t whole = 0;      // whole
  bool flag = false;           // flag
  std::vector<Node> items;     // list
  std::vector<Entry> entries;  // table, in the order of the file
};

struct Entry {
  std::string key;
  Place place;
  Node value;
};

const Entry* findEntry(const Node& table, std::string_view key);

struct Document {
  std::optional<Node> root;
  std::optional<JobFileProblem> problem;  // why there is no root: not text, too large, not TOML
};

// Never throws on bad input.
Document readDocument(std::string_view text);

}  // namespace provecut::job_file
