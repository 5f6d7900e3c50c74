// What is wrong with a program's text, as a value: a kind and its facts. The parser neither words it nor decides how
// bad it is; both is up to report/.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "parser/base/place.h"
#include "parser/program/problem_kind.h"

namespace provecut {

namespace fact {

struct Text {  // as the program writes it, safe to show; may be cut
  std::string text;
  friend bool operator==(const Text&, const Text&) = default;
};
struct Code {  // a code or a name that the problem is about: with another code it is another problem
  std::string text;
  friend bool operator==(const Code&, const Code&) = default;
};
struct Length {
  double mm = 0;
  friend bool operator==(const Length&, const Length&) = default;
};
struct Count {
  std::uint64_t count = 0;
  friend bool operator==(const Count&, const Count&) = default;
};
struct Axes {
  bool x = false, y = false, z = false;
  friend bool operator==(const Axes&, const Axes&) = default;
};
struct Tool {
  int number = 0;
  friend bool operator==(const Tool&, const Tool&) = default;
};
struct Parameter {
  int number = 0;
  friend bool operator==(const Parameter&, const Parameter&) = default;
};

}  // namespace fact

using Fact = std::variant<fact::Text, fact::Code, fact::Length, fact::Count, fact::Axes, fact::Tool, fact::Parameter>;

struct Problem {
  ProblemKind kind{};
  std::string_view id;  // public, one of problem_ids: "syntax", "arc-radius" …
  Place place;
  std::vector<Fact> facts;     // in the order that ProblemKind gives
  std::optional<Place> other;  // the word that this one is at odds with
};

}  // namespace provecut
