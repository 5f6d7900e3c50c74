#include "report/rules/shared/weak_tabs.h"

#include <algorithm>

#include "report/rules/shared/tab_margin.h"
#include "sim/clearance/tolerance.h"

namespace provecut {

namespace {

bool cutFromTop(const Job& job) {
  return job.setups.size() == 1 && job.setups.front().zero_z_on_top;
}

double worstArea_mm2(const Job& job, const Tab& tab) {
  return tab.thickness_mm > 0 ? tab.area_mm2 * worstTabThickness_mm(job, tab) / tab.thickness_mm : tab.area_mm2;
}

// In the thinnest stock a tab holds less by as much as it is thinner.
bool holdsByForce(const Facts& facts, const Piece& piece) {
  const auto margin = tabMargin(facts, piece);
  if (!margin) return false;
  double share = 1;
  for (const Tab& t : piece.tabs) {
    if (t.thickness_mm > 0) share = std::min(share, worstTabThickness_mm(facts.job, t) / t.thickness_mm);
  }
  return margin->weakest() * share >= min_tab_margin;
}

}  // namespace

const Tab& smallestTab(const Piece& piece) {
  return *std::min_element(piece.tabs.begin(), piece.tabs.end(),
                           [](const Tab& a, const Tab& b) { return a.area_mm2 < b.area_mm2; });
}

double worstTabThickness_mm(const Job& job, const Tab& tab) {
  return cutFromTop(job) ? std::max(0.0, tab.thickness_mm - job.stock.thickness_tolerance_mm) : tab.thickness_mm;
}

bool isThinTab(const Job& job, const Tab& tab) {
  const double limit = job.limits.min_tab_area_mm2;
  return tab.area_mm2 < limit - clearance::contact_tolerance_mm || worstArea_mm2(job, tab) < limit / 2;
}

bool hasThinTab(const Facts& facts, const Piece& piece) {
  const Job& job = facts.job;
  if (std::none_of(piece.tabs.begin(), piece.tabs.end(), [&](const Tab& t) { return isThinTab(job, t); })) return false;
  // The default limit is a figure for wood of a strength that nobody said.
  return job.limits.min_tab_area_given || !holdsByForce(facts, piece);
}

}  // namespace provecut
