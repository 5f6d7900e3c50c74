// How the values of a job file are described and read: one line per key. Knows nothing of what the keys mean.
#pragma once

#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/job/job.h"
#include "parser/job_file/job_file_document.h"

namespace provecut::job_file {

// What a number measures. `power` says how often the file's unit of length is in it: units = "in" multiplies
// by mm_per_inch once for lengths, rates, accelerations and jerks, twice for areas, never for angles, times, speeds,
// powers and shares. `min` is the smallest that counts as above zero and `max` the largest that makes
// sense, both in mm.
struct Quantity {
  std::string_view mm, in;
  int power = 0;
  double min = 0, max = 0;
};

inline constexpr Quantity lengths{"mm", "in", 1, 0.001, 1e5};
inline constexpr Quantity rates{"mm/min", "in/min", 1, 0.001, 1e6};
inline constexpr Quantity accelerations{"mm per second squared", "in per second squared", 1, 0.001, 1e6};
inline constexpr Quantity jerks{"mm per second cubed", "in per second cubed", 1, 0.001, 1e9};
inline constexpr Quantity areas{"mm²", "in²", 2, 1e-6, 1e8};
inline constexpr Quantity angles{"degrees", "degrees", 0, 0.001, 1e4};
inline constexpr Quantity rotations{"rpm", "rpm", 0, 0.001, 1e6};
inline constexpr Quantity seconds{"s", "s", 0, 0.001, 1e6};
inline constexpr Quantity minutes{"minutes", "minutes", 0, 0.001, 1e5};
inline constexpr Quantity watts{"W", "W", 0, 0.001, 1e6};
inline constexpr Quantity money{"", "", 0, 0.001, 1e9};
inline constexpr Quantity shares{"", "", 0, 1e-6, 1e3};
inline constexpr Quantity counts{"", "", 0, 1e-6, 1e8};

// A length may also be text with a unit: "6 mm", "5 1/2 in".
constexpr bool isLength(const Quantity& quantity) {
  return quantity.mm == lengths.mm && quantity.power == lengths.power;
}

// Bounds as the file writes them; where they depend on the unit of length they are 0 or infinite.
struct Range {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool above_low = false;  // low itself does not count
  bool below_high = false;
};

inline constexpr Range any{};
inline constexpr Range not_negative{0};
inline constexpr Range positive{0, std::numeric_limits<double>::infinity(), true};

enum class Form {
  text,
  word,
  whole,
  number,
  flag,
  numbers,
  points,
  texts,
  words,
  wholes,
  zero,
  offsets,
  table,
  tables
};

// What a key takes: for messages, and for holding the published schema against the reader.
struct Takes {
  Form form = Form::text;
  Quantity quantity{};
  Range range{};
  std::vector<std::string> words{};  // word, words; offsets: the keys
  std::size_t count = 0;             // numbers: how many
};

struct KnownKey {
  std::string section;  // "", "machine", "setup.program" ...
  std::string name;
  Takes takes;
  bool required = false;
  std::string example{};  // of a line, or of what the section starts with: "`version = 1`"
};

// A value with its key and the name of its section as the file writes it: "[stock]", "[[tool]]", "the job
// file".
struct Spot {
  const Node& node;
  std::string_view key;
  std::string_view section;
};

std::string nameOf(const Spot& spot);  // `diameter` of [[tool]]
std::string shown(double value);       // the fewest digits that read back as the same number
std::string shown(double value, std::string_view unit);
std::string quoted(std::string_view text);               // "text", cut when long
std::string orList(std::span<const std::string> words);  // "a", "b" or "c"
// The candidate that `written` most likely stands for: another name for the same thing, or nearestWord().
std::string meantWord(std::string_view written, std::span<const std::string> candidates);
// How to describe a bit that is called so; empty for names that are not known.
std::string howToDescribeBit(std::string_view written, bool inches);

struct Reader {
  bool inches = false;
  std::vector<KnownKey> known;  // of the whole file, to say where a misplaced key belongs
  std::vector<JobFileProblem> problems{};
  std::vector<Unconfirmed> unconfirmed{};  // in the order of the file

  void fail(Place place, std::string message, std::string help, std::vector<JobFileProblem::Other> others = {});
  double factor(const Quantity& quantity) const;  // file units → mm
  std::string_view unit(const Quantity& quantity) const { return inches ? quantity.in : quantity.mm; }
};

// Each gives nothing, and a problem, where the value is of the wrong type or out of its range. Numbers come
// in mm.
std::optional<double> readNumber(Reader& reader, const Spot& spot, const Quantity& quantity, const Range& range);
std::optional<int> readWhole(Reader& reader, const Spot& spot, const Range& range);
std::optional<bool> readFlag(Reader& reader, const Spot& spot);
std::optional<std::string> readText(Reader& reader, const Spot& spot);  // not empty, no control characters
std::optional<std::size_t> readWord(Reader& reader, const Spot& spot, std::span<const std::string> words);
std::optional<std::vector<double>> readNumbers(Reader& reader, const Spot& spot, const Quantity& quantity,
                                               const Range& range, std::size_t count);
std::optional<std::vector<Vec2>> readPoints(Reader& reader, const Spot& spot);
std::vector<std::pair<std::string, Place>> readTexts(Reader& reader, const Spot& spot);

// Says what `spot` holds, and that it should be `wanted`: "a number in mm".
void failType(Reader& reader, const Spot& spot, std::string_view wanted);

}  // namespace provecut::job_file
