#include "report/draft/quick_job.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "parser/base/length_text.h"
#include "parser/job_file/job_file_keys.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/wording.h"

namespace provecut::draft {

namespace {

using job_file::Entry;
using job_file::Form;
using job_file::KnownKey;
using job_file::Node;
using job_file::NodeKind;
using job_file::Reader;

// A stretch of the text that is read, without spaces around it.
struct Piece {
  std::string_view text;
  std::uint32_t column = 1;  // bytes, from 1

  Place place() const {
    return {1, column, column + std::max<std::uint32_t>(1, static_cast<std::uint32_t>(text.size()))};
  }

  Piece from(std::size_t begin, std::size_t count = std::string_view::npos) const {
    Piece piece{text.substr(begin, count), column + static_cast<std::uint32_t>(begin)};
    while (piece.text.starts_with(' ')) piece = {piece.text.substr(1), piece.column + 1};
    while (piece.text.ends_with(' ')) piece.text.remove_suffix(1);
    return piece;
  }
};

std::vector<Piece> split(const Piece& whole, std::string_view separators) {
  std::vector<Piece> pieces;
  std::size_t begin = 0;
  while (true) {
    const std::size_t end = std::min(whole.text.find_first_of(separators, begin), whole.text.size());
    pieces.push_back(whole.from(begin, end - begin));
    if (end == whole.text.size()) return pieces;
    begin = end + 1;
  }
}

std::string quotedPiece(const Piece& piece) {
  return job_file::quoted(piece.text);
}

// The value of a key as the job file's reader would have got it, lengths in mm.
std::optional<Node> readValue(Reader& reader, const KnownKey& key, Piece value) {
  Node node;
  node.place = value.place();
  const std::string whose = "`" + key.name + "`";
  if (key.takes.form == Form::flag) {
    node.kind = NodeKind::flag;
    node.flag = value.text == "true";
    if (node.flag || value.text == "false") return node;
    reader.fail(node.place, whose + " is " + quotedPiece(value),
                "write " + key.name + "=true or " + key.name + "=false");
    return std::nullopt;
  }
  if (key.takes.form == Form::word) {
    node.kind = NodeKind::text;
    node.text = value.text;
    return node;
  }
  if (key.takes.form != Form::number && key.takes.form != Form::whole) {
    reader.fail(node.place, whose + " cannot be given on the command line",
                "use a job file; provecut init writes a first one");
    return std::nullopt;
  }
  const bool is_length = key.takes.quantity.power > 0;
  const Piece written = value;
  const std::optional<double> mm = takeUnitAtEnd(value.text);
  const auto number = readNumber(value.text);
  if (!number) {
    reader.fail(node.place,
                whose + " is " + quotedPiece(written) + ", not a number" + (is_length ? " with a unit" : ""),
                is_length ? "write a number and mm or in: 6mm, 0.25in, 1/4in" : "write a number");
    return std::nullopt;
  }
  if (is_length != mm.has_value()) {
    reader.fail(node.place,
                whose + " is " + quotedPiece(written) + (is_length ? ", without a unit" : "; it takes no unit"),
                is_length ? "write " + std::string(written.text) + "mm or " + std::string(written.text) + "in"
                          : "write " + std::string(value.text));
    return std::nullopt;
  }
  node.number = *number * mm.value_or(1);
  const bool is_whole = !is_length && *number == std::floor(*number) && std::abs(*number) < 1e15;
  node.kind = is_whole ? NodeKind::whole : NodeKind::number;
  if (is_whole) node.whole = static_cast<std::int64_t>(*number);
  return node;
}

}  // namespace

StockSizeReading parseStockSize(std::string_view text) {
  Reader reader;
  Piece whole = Piece{text}.from(0);
  const std::optional<double> mm = takeUnitAtEnd(whole.text);
  if (!mm) {
    reader.fail(whole.place(), "no unit", "end it in mm or in: 420x130x19.05mm");
    return {std::nullopt, std::move(reader.problems)};
  }
  const auto pieces = split(whole, "xX");
  if (pieces.size() != 3) {
    reader.fail(whole.place(), plural(pieces.size(), "number", "numbers") + " instead of 3",
                "write X, Y and thickness: 420x130x19.05mm");
    return {std::nullopt, std::move(reader.problems)};
  }
  Node list;
  list.kind = NodeKind::list;
  list.place = whole.place();
  for (const Piece& piece : pieces) {
    const auto number = readNumber(piece.text);
    if (!number) {
      reader.fail(piece.place(), quotedPiece(piece) + " is not a number", "write X, Y and thickness: 420x130x19.05mm");
      return {std::nullopt, std::move(reader.problems)};
    }
    list.items.push_back({NodeKind::number, piece.place(), {}, *number * *mm, 0, false, {}, {}});
  }
  const auto size = job_file::readNumbers(reader, {list, "size", "--stock"}, job_file::lengths, job_file::positive, 3);
  if (!size) return {std::nullopt, std::move(reader.problems)};
  return {Vec3{(*size)[0], (*size)[1], (*size)[2]}, {}};
}

ToolReading parseTool(std::string_view text) {
  Reader reader;
  for (KnownKey& key : job_file::knownKeys()) {
    if (key.section == "tool") reader.known.push_back(std::move(key));
  }
  constexpr std::string_view like = "write NUMBER=SHAPE,DIAMETER: 1=flat,6mm";
  const Piece whole = Piece{text}.from(0);
  const std::size_t equals = whole.text.find('=');
  if (equals == std::string_view::npos || equals > whole.text.find(',')) {
    reader.fail(whole.place(), "the tool " + quotedPiece(whole) + " has no number", std::string(like));
    return {std::nullopt, std::move(reader.problems)};
  }
  Node table;
  table.place = whole.place();
  const auto add = [&](const KnownKey& key, const Piece& name, const Piece& value) {
    if (job_file::findEntry(table, key.name)) {
      reader.fail(name.place(), "`" + key.name + "` is given twice", "give it once");
    } else if (auto node = readValue(reader, key, value)) {
      table.entries.push_back({key.name, name.place(), std::move(*node)});
    }
  };
  const auto known = [&](std::string_view name) {
    return std::find_if(reader.known.begin(), reader.known.end(), [&](const KnownKey& k) { return k.name == name; });
  };
  const Piece number = whole.from(0, equals);
  add(*known("number"), number, number);
  const auto pieces = split(whole.from(equals + 1), ",");
  constexpr std::array<std::string_view, 2> without_name{"shape", "diameter"};
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& piece = pieces[i];
    const std::size_t sign = piece.text.find('=');
    if (sign != std::string_view::npos) {
      const Piece name = piece.from(0, sign);
      const auto key = known(name.text);
      if (key != reader.known.end()) {
        add(*key, name, piece.from(sign + 1));
      } else {
        job_file::failUnknownKey(reader, {std::string(name.text), name.place(), {}}, "--tool", "tool");
      }
    } else if (i < without_name.size()) {
      add(*known(without_name[i]), piece, piece);
    } else {
      reader.fail(piece.place(), quotedPiece(piece) + " has no name", "write KEY=VALUE: flutes=2, corner_radius=1mm");
    }
  }
  if (!reader.problems.empty()) return {std::nullopt, std::move(reader.problems)};
  const bool sized = job_file::findEntry(table, "diameter") || job_file::findEntry(table, "profile");
  if (!sized && pieces.size() == 1) {
    reader.fail(whole.place(), "no diameter", "write " + std::string(whole.text) + ",6mm");
    return {std::nullopt, std::move(reader.problems)};
  }
  Tool tool = job_file::readTool(reader, table, "--tool");
  if (!reader.problems.empty()) return {std::nullopt, std::move(reader.problems)};
  return {std::move(tool), {}};
}

namespace {

// "18 mm", "0.71 in": of what is assumed, no more decimals than that.
std::string roughLength(const Job& job, double mm) {
  return shortNumber(mm / lengthUnit_mm(job), 2) + " " + std::string(lengthUnit(job));
}

void noteErrors(std::vector<std::string>& errors, std::string_view option, std::string_view text,
                const std::vector<JobFileProblem>& problems) {
  for (const JobFileProblem& p : problems)
    errors.push_back(std::string(option) + " " + std::string(text) + ": " + p.message + ". " + sentence(p.help));
}

}  // namespace

QuickTools quickTools(std::span<const std::string> tools) {
  QuickTools quick;
  for (const std::string& text : tools) {
    ToolReading reading = parseTool(text);
    noteErrors(quick.errors, "--tool", text, reading.problems);
    if (!reading.tool) continue;
    const int number = reading.tool->number;
    if (std::any_of(quick.tools.begin(), quick.tools.end(), [&](const Tool& t) { return t.number == number; })) {
      quick.errors.push_back("--tool " + text + ": two tools have number " + std::to_string(number) +
                             ". Give each its own number.");
    }
    quick.tools.push_back(std::move(*reading.tool));
  }
  return quick;
}

QuickJob quickJob(std::span<const std::string> programs, std::string_view stock, std::span<const std::string> tools) {
  QuickJob quick;
  Job job;
  job.inches = stock.ends_with("in");
  if (stock.empty()) {
    quick.errors.push_back("no stock size. Add --stock, for example --stock 420x130x19.05mm");
  } else {
    const StockSizeReading size = parseStockSize(stock);
    noteErrors(quick.errors, "--stock", stock, size.problems);
    job.stock.size_mm = size.size_mm.value_or(Vec3{});
    if (size.size_mm) job.limits.min_floor_mm = usualMinFloor_mm(size.size_mm->z);
  }
  if (tools.empty()) quick.errors.push_back("no tool. Add --tool, for example --tool 1=flat,6mm");
  QuickTools read = quickTools(tools);
  quick.errors.insert(quick.errors.end(), read.errors.begin(), read.errors.end());
  job.tools = std::move(read.tools);
  if (!quick.errors.empty()) return quick;

  Setup& setup = job.setups.emplace_back();
  setup.name = "1";
  setup.zero_mm = {0, 0, job.stock.size_mm.z};
  for (const std::string& file : programs) {
    ProgramEntry& entry = setup.programs.emplace_back();
    entry.file = file;
    if (job.tools.size() == 1) entry.tool = job.tools.front().number;
  }
  quick.assumed = {"one setup, programs in the order given",
                   "work zero at the stock's top front left corner",
                   "no hold-downs: screws, clamps, pins and tape were not checked",
                   roughLength(job, job.spoilboard.thickness_mm) + " spoilboard",
                   roughLength(job, job.collet_nut.diameter_mm) + " collet nut",
                   "machine \"bench-screw\""};
  if (job.tools.size() == 1) {
    quick.assumed.push_back("tool " + std::to_string(job.tools.front().number) +
                            " in the spindle at the start of each program");
  }
  quick.job = std::move(job);
  return quick;
}

}  // namespace provecut::draft
