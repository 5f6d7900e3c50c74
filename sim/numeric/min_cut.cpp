#include "sim/numeric/min_cut.h"

#include <algorithm>
#include <cstddef>
#include <deque>

namespace provecut {

namespace {

struct Arc {
  std::uint32_t to = 0, reverse = 0;
  std::int64_t free = 0;  // what may still flow
};

// The flow runs from the sink back to the source, the same both ways: what can still reach the source in the end is its
// side of the cut.
struct BackFlow {
  std::vector<std::uint32_t> first;  // per node and one more: its arcs
  std::vector<Arc> arcs;
  std::vector<std::int64_t> excess, drain;  // per node: not passed on yet; what the source may still take
  std::vector<std::uint32_t> level;         // at least its way to the source in arcs; no less than the nodes: no way
  std::vector<std::uint32_t> at;            // per node: the arc to try next
  std::vector<std::uint32_t> on_level;      // how many nodes
  std::deque<std::uint32_t> active;         // nodes with excess
  std::size_t work = 0;                     // since levels were last found

  std::uint32_t nodes() const { return static_cast<std::uint32_t>(excess.size()); }
  std::uint32_t nowhere() const { return nodes() + 1; }
};

void addArcs(const FlowGraph& g, BackFlow& f) {
  f.first.assign(g.from_source.size() + 1, 0);
  for (const FlowEdge& e : g.edges) {
    ++f.first[e.a];
    ++f.first[e.b];
  }
  std::uint32_t end = 0;
  for (std::uint32_t& first : f.first) first = end += first;
  f.arcs.resize(end);
  for (const FlowEdge& e : g.edges) {
    const std::uint32_t there = --f.first[e.a], back = --f.first[e.b];
    f.arcs[there] = {e.b, back, e.capacity};
    f.arcs[back] = {e.a, there, e.capacity};
  }
}

// True levels, breadth first from the source.
void findLevels(BackFlow& f) {
  f.level.assign(f.nodes(), f.nowhere());
  f.on_level.assign(f.nowhere() + 1, 0);
  std::vector<std::uint32_t> reached;
  const auto reach = [&](std::uint32_t node, std::uint32_t level) {
    f.level[node] = level;
    ++f.on_level[level];
    reached.push_back(node);
  };
  for (std::uint32_t n = 0; n < f.nodes(); ++n) {
    if (f.drain[n] > 0) reach(n, 1);
  }
  for (std::size_t k = 0; k < reached.size(); ++k) {
    const std::uint32_t n = reached[k];
    for (std::uint32_t a = f.first[n]; a < f.first[n + 1]; ++a) {
      const Arc& arc = f.arcs[a];
      if (f.level[arc.to] == f.nowhere() && f.arcs[arc.reverse].free > 0) reach(arc.to, f.level[n] + 1);
    }
  }
  std::copy(f.first.begin(), f.first.end() - 1, f.at.begin());
  f.work = 0;
}

// Lifts a node that can pass nothing on above the lowest one that it could pass to.
void lift(BackFlow& f, std::uint32_t n) {
  const std::uint32_t was = f.level[n];
  std::uint32_t level = f.nowhere();
  for (std::uint32_t a = f.first[n]; a < f.first[n + 1]; ++a) {
    if (f.arcs[a].free > 0) level = std::min(level, f.level[f.arcs[a].to] + 1);
  }
  f.work += f.first[n + 1] - f.first[n] + 12;
  f.level[n] = level;
  f.at[n] = f.first[n];
  ++f.on_level[level];
  if (--f.on_level[was] > 0) return;
  // No way leads down across an empty level.
  for (std::uint32_t& l : f.level) {
    if (l <= was || l >= f.nowhere()) continue;
    --f.on_level[l];
    l = f.nowhere();
  }
}

void drainInto(std::int64_t& excess, std::int64_t& drain) {
  const std::int64_t flow = std::min(excess, drain);
  excess -= flow;
  drain -= flow;
}

// Passes on what it can.
void discharge(BackFlow& f, std::uint32_t n) {
  drainInto(f.excess[n], f.drain[n]);
  while (f.excess[n] > 0 && f.level[n] < f.nowhere()) {
    if (f.at[n] == f.first[n + 1]) {
      lift(f, n);
      continue;
    }
    Arc& arc = f.arcs[f.at[n]];
    if (arc.free == 0 || f.level[n] != f.level[arc.to] + 1) {
      ++f.at[n];
      continue;
    }
    const std::int64_t flow = std::min(f.excess[n], arc.free);
    if (f.excess[arc.to] == 0) f.active.push_back(arc.to);
    arc.free -= flow;
    f.arcs[arc.reverse].free += flow;
    f.excess[n] -= flow;
    f.excess[arc.to] += flow;
  }
}

}  // namespace

std::vector<std::uint8_t> sourceSide(const FlowGraph& g) {
  BackFlow f;
  addArcs(g, f);
  f.excess = g.to_sink;
  f.drain = g.from_source;
  f.at.resize(f.nodes());
  for (std::uint32_t n = 0; n < f.nodes(); ++n) {
    drainInto(f.excess[n], f.drain[n]);
    if (f.excess[n] > 0) f.active.push_back(n);
  }
  findLevels(f);
  while (!f.active.empty()) {
    const std::uint32_t n = f.active.front();
    f.active.pop_front();
    discharge(f, n);
    if (f.work > 4 * f.excess.size() + f.arcs.size()) findLevels(f);
  }
  findLevels(f);
  std::vector<std::uint8_t> side(f.nodes(), 0);
  std::transform(f.level.begin(), f.level.end(), side.begin(),
                 [&](std::uint32_t level) { return static_cast<std::uint8_t>(level < f.nowhere()); });
  return side;
}

}  // namespace provecut
