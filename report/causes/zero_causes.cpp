// The work zero touched off on another face or at another corner of the stock.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "report/base/dimension_text.h"
#include "report/causes/candidate.h"
#include "report/causes/zero.h"
#include "sim/path/setup_frame.h"

namespace provecut::causes {

namespace {

constexpr double over_mm = 0.5;    // beside the stock by less than this is no sign of anything
constexpr double face_mm = 1;      // nearer to a face than this is at it
constexpr double most_up_mm = 50;  // a touch plate or a block under the bit; our own choice, no source
constexpr std::size_t max_corners = 3;

Candidate withZero(const Suspect& suspect, int s, Zero zero, std::string kind, std::string question) {
  const Facts& facts = suspect.facts;
  Candidate c;
  c.kind = std::move(kind);
  c.question = std::move(question);
  c.setup = s;
  c.description = sameDescription(facts);
  Setup& setup = c.description.job.setups[static_cast<std::size_t>(s)];
  setZero(facts.job.stock, setup, zero);
  c.place = setup.place;
  c.change = fmt::format("In {} of the job file, write:", inSetup(facts, setup));
  c.lines = {zeroLine(c.description.job, setup, facts.job_file_in_inches)};
  return c;
}

// Somewhere below the top, and nowhere far into the spoilboard.
bool reachesStock(const Job& job, const Setup& setup, const WorkBox& cuts) {
  const double lowest_mm = workToSetup(setup, cuts.low).z;
  return lowest_mm < job.stock.size_mm.z && notTooDeep(job, setup, lowest_mm);
}

std::string cornerText(Zero zero) {
  constexpr std::array<std::string_view, 3> across{"left", "middle", "right"}, along{"front", "middle", "back"};
  if (zero.x == Side::middle && zero.y == Side::middle) return "in the middle of the stock";
  if (zero.x == Side::other || zero.y == Side::other) {
    const bool in_x = zero.y == Side::other;
    const auto& words = in_x ? across : along;
    return fmt::format("at the stock's {}", words[static_cast<std::size_t>(in_x ? zero.x : zero.y)]);
  }
  const std::string_view x = across[static_cast<std::size_t>(zero.x)], y = along[static_cast<std::size_t>(zero.y)];
  if (zero.x == Side::middle) return fmt::format("in the middle of the stock's {} edge", y);
  if (zero.y == Side::middle) return fmt::format("in the middle of the stock's {} edge", x);
  return fmt::format("at the stock's {} {} corner", y, x);
}

struct Corner {
  Zero zero;
  double beside_mm = 0;
  int axes = 0;  // along how many the zero would move
};

// The other corners, edges and the middle, those first at which the cuts lie best on the stock.
std::vector<Corner> cornersOf(const Suspect& suspect, const Setup& setup, const WorkBox& cuts) {
  std::vector<Corner> corners;
  const Zero now = zeroOf(suspect.facts.job.stock, setup);
  for (const Side x : {Side::low, Side::middle, Side::high}) {
    for (const Side y : {Side::low, Side::middle, Side::high}) {
      Setup other = setup;
      const Zero zero{x, y, now.z};
      setZero(suspect.facts.job.stock, other, zero);
      const int axes = (x != now.x) + (y != now.y);
      if (axes > 0) corners.push_back({zero, besideStock_mm(suspect.facts.job, other, cuts), axes});
    }
  }
  std::stable_sort(corners.begin(), corners.end(), [](const Corner& a, const Corner& b) {
    return std::pair(a.beside_mm, a.axes) < std::pair(b.beside_mm, b.axes);
  });
  return corners;
}

}  // namespace

void addZeroFaces(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Job& job = suspect.facts.job;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    const auto index = static_cast<std::size_t>(s);
    if (suspect.cuts[index].empty) continue;
    const Zero now = zeroOf(job.stock, job.setups[index]);
    for (const Side z : {Side::high, Side::low}) {
      if (z == now.z) continue;
      Zero zero = now;
      zero.z = z;
      Setup other = job.setups[index];
      setZero(job.stock, other, zero);
      if (!reachesStock(job, other, suspect.cuts[index])) continue;
      candidates.push_back(
          withZero(suspect, s, zero, "zero-face",
                   fmt::format("Is Z zero on {} of the stock{}?", z == Side::high ? "the top" : "the underside",
                               job.setups.size() < 2 ? "" : " in " + inSetup(suspect.facts, other))));
    }
  }
}

void addZeroHeights(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Job& job = suspect.facts.job;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    const auto index = static_cast<std::size_t>(s);
    const Setup& setup = job.setups[index];
    const Zero now = zeroOf(job.stock, setup);
    if (suspect.cuts[index].empty || now.z == Side::low || !hasFinding(suspect, s, {"bed-hit", "spoilboard-cut"}))
      continue;
    const double top_mm = job.stock.size_mm.z, lowest_mm = workToSetup(setup, suspect.cuts[index].low).z;
    const double up_mm = throughStock_mm(job, top_mm - lowest_mm) - top_mm, z_mm = setup.zero_mm.z + up_mm;
    // At a face, addZeroFaces asks.
    if (notTooDeep(job, setup, lowest_mm) || deepestAreSlips(suspect, index) || up_mm > most_up_mm ||
        std::fabs(z_mm - top_mm) < face_mm || z_mm < face_mm)
      continue;
    Zero zero = now;
    zero.z = Side::other;
    Setup other = setup;
    other.zero_mm.z = z_mm;
    Candidate c =
        withZero(suspect, s, zero, "zero-height",
                 fmt::format("Is Z zero {} {}{}?", dimensionWithUnit(job, z_mm > top_mm ? z_mm - top_mm : up_mm),
                             z_mm > top_mm ? "above the top of the stock" : "higher than the job file says",
                             job.setups.size() < 2 ? "" : " in " + inSetup(suspect.facts, other)));
    Setup& changed = c.description.job.setups[index];
    changed.zero_mm.z = z_mm;
    c.lines = {zeroLine(c.description.job, changed, suspect.facts.job_file_in_inches)};
    candidates.push_back(std::move(c));
  }
}

void addZeroCorners(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Job& job = suspect.facts.job;
  for (int s = 0; s < std::ssize(job.setups); ++s) {
    const auto index = static_cast<std::size_t>(s);
    const Setup& setup = job.setups[index];
    const WorkBox& cuts = suspect.cuts[index];
    if (cuts.empty) continue;
    const double now_mm = besideStock_mm(job, setup, cuts);
    std::size_t added = 0;
    for (const Corner& corner : cornersOf(suspect, setup, cuts)) {
      const bool better = corner.beside_mm < now_mm / 2;
      if (added == max_corners || (now_mm > over_mm ? !better : corner.beside_mm > over_mm)) break;
      const std::string where = job.setups.size() < 2 ? "" : " in " + inSetup(suspect.facts, setup);
      candidates.push_back(withZero(suspect, s, corner.zero, "zero-corner",
                                    fmt::format("Is X/Y zero {}{}?", cornerText(corner.zero), where)));
      candidates.back().unusual = (corner.zero.x == Side::middle) != (corner.zero.y == Side::middle);
      ++added;
    }
  }
}

}  // namespace provecut::causes
