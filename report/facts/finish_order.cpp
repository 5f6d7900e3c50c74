#include "report/facts/finish_order.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <span>
#include <string>
#include <string_view>

#include "report/facts/locked.h"
#include "report/facts/measures.h"
#include "sim/path/motion_extent.h"

namespace provecut {

namespace {

namespace order {

enum class Kind { neither, rough, finish };

bool says(std::string text, std::span<const std::string_view> words) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return text.find(w) != std::string::npos; });
}

// What the program calls itself; one that says both does both.
Kind kindOf(const ProgramFacts& p) {
  static constexpr std::array<std::string_view, 2> roughing{"rough", "schrupp"};
  static constexpr std::array<std::string_view, 2> finishing{"finish", "schlicht"};
  std::string text = p.entry->file;
  for (const std::string& comment : firstComments(p)) text += "\n" + comment;
  const bool rough = says(text, roughing), finish = says(text, finishing);
  if (rough == finish) return Kind::neither;
  return rough ? Kind::rough : Kind::finish;
}

// How a program meets the stock at feed.
struct Cutting {
  WorkBox box;
  double deepest_mm = 0;               // in one pass
  double engaged_mm = 0, full_mm = 0;  // ways in the stock, and those at the cutter's full width
  std::optional<std::uint32_t> at;     // the deepest
};

Cutting cuttingOf(const Facts& facts, std::size_t program) {
  constexpr double full_share = 0.8;
  const std::vector<Motion>& motions = facts.programs[program].program.motions;
  Cutting c;
  for (std::uint32_t m = 0; m < motions.size(); ++m) {
    const MoveCut cut = cutOf(facts, program, m);
    const Tool* tool = findTool(facts.job, motions[m].tool);
    if (!tool || !cutsMaterial(cut) || !(cut.engaged_mm > 0)) continue;
    c.box.add(motionExtent(motions[m]));
    c.engaged_mm += double{cut.engaged_mm};
    if (double{cut.radial_depth_mm} >= full_share * tool->diameter_mm) c.full_mm += double{cut.engaged_mm};
    if (double{cut.axial_depth_mm} > c.deepest_mm) {
      c.deepest_mm = double{cut.axial_depth_mm};
      c.at = m;
    }
  }
  return c;
}

double area(const WorkBox& b) {
  return b.empty ? 0 : (b.high.x - b.low.x) * (b.high.y - b.low.y);
}

// Half of the smaller one lies in the other.
bool samePlace(const WorkBox& a, const WorkBox& b) {
  WorkBox both;
  both.empty = a.empty || b.empty;
  both.low = {std::max(a.low.x, b.low.x), std::max(a.low.y, b.low.y), 0};
  both.high = {std::min(a.high.x, b.high.x), std::min(a.high.y, b.high.y), 0};
  if (both.empty || both.low.x >= both.high.x || both.low.y >= both.high.y) return false;
  return area(both) >= std::min(area(a), area(b)) / 2;
}

bool meetsFullStock(const Cutting& finishing, const Cutting& roughing) {
  return finishing.full_mm > finishing.engaged_mm / 2 || finishing.deepest_mm > 1.5 * roughing.deepest_mm;
}

// The programs' own extents, for one whose cuts are all taken by another.
WorkBox planOf(const Facts& facts, std::size_t program) {
  WorkBox box;
  for (const Motion& m : facts.programs[program].program.motions) {
    if (moves(m) && m.kind != MotionKind::rapid && !(m.flags & (motion_height_unknown | motion_start_unknown)))
      box.add(motionExtent(m));
  }
  return box;
}

}  // namespace order

}  // namespace

std::optional<FinishedFirst> finishedFirst(const Facts& facts, std::size_t program) {
  const std::size_t count = std::min(facts.programs.size(), facts.run.programs.size());
  if (program >= count || order::kindOf(facts.programs[program]) != order::Kind::finish) return std::nullopt;
  const order::Cutting finishing = order::cuttingOf(facts, program);
  if (!finishing.at) return std::nullopt;
  for (std::size_t j = program + 1; j < count && facts.programs[j].setup == facts.programs[program].setup; ++j) {
    if (order::kindOf(facts.programs[j]) == order::Kind::rough &&
        order::samePlace(finishing.box, order::planOf(facts, j)) &&
        order::meetsFullStock(finishing, order::cuttingOf(facts, j)))
      return FinishedFirst{j, *finishing.at, finishing.deepest_mm};
  }
  return std::nullopt;
}

bool isRoughedTooLate(const Facts& facts, std::size_t program) {
  for (std::size_t i = 0; i < program; ++i) {
    const std::optional<FinishedFirst> first = finishedFirst(facts, i);
    if (first && first->roughing == program) return true;
  }
  return false;
}

}  // namespace provecut
