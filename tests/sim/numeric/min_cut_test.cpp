#include "sim/numeric/min_cut.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace {

using namespace provecut;

// What flows out of some of the nodes, by their bits, and the source.
std::int64_t cutAround(const FlowGraph& g, std::uint32_t nodes) {
  std::int64_t cut = 0;
  for (std::uint32_t n = 0; n < g.to_sink.size(); ++n) cut += (nodes >> n & 1) ? g.to_sink[n] : g.from_source[n];
  for (const FlowEdge& e : g.edges) cut += (nodes >> e.a & 1) != (nodes >> e.b & 1) ? e.capacity : 0;
  return cut;
}

// Of all sets of nodes: those that are in every least cut.
std::uint32_t inEveryLeastCut(const FlowGraph& g) {
  const std::uint32_t sets = 1U << g.to_sink.size();
  std::int64_t least = cutAround(g, 0);
  std::uint32_t in_all = 0;
  for (std::uint32_t nodes = 1; nodes < sets; ++nodes) {
    const std::int64_t cut = cutAround(g, nodes);
    if (cut <= least) in_all = cut < least ? nodes : in_all & nodes;
    least = std::min(least, cut);
  }
  return in_all;
}

std::uint32_t bits(const std::vector<std::uint8_t>& side) {
  std::uint32_t nodes = 0;
  for (std::size_t n = 0; n < side.size(); ++n) nodes |= std::uint32_t{side[n]} << n;
  return nodes;
}

// Small capacities, so that many cuts are equal.
FlowGraph randomGraph(std::mt19937& dice) {
  const auto roll = [&](int most) { return std::uniform_int_distribution<int>(0, most)(dice); };
  const int nodes = 1 + roll(9), most = 1 + roll(4);
  FlowGraph g;
  for (int n = 0; n < nodes; ++n) {
    g.from_source.push_back(roll(3) == 0 ? roll(3 * most) : 0);
    g.to_sink.push_back(roll(3) == 0 ? roll(3 * most) : 0);
    for (int other = 0; other < n; ++other) {
      if (roll(2) == 0)
        g.edges.push_back({static_cast<std::uint32_t>(other), static_cast<std::uint32_t>(n), 1 + roll(most)});
    }
  }
  return g;
}

TEST(MinCut, of_all_least_cuts_the_one_nearest_to_the_source_is_found) {
  std::mt19937 dice(1);
  for (int k = 0; k < 2000; ++k) {
    const FlowGraph g = randomGraph(dice);
    ASSERT_EQ(bits(sourceSide(g)), inEveryLeastCut(g)) << "graph " << k;
  }
}

TEST(MinCut, a_long_strip_is_cut_at_its_waist) {
  constexpr std::uint32_t length = 400, width = 30, waist = 250;
  FlowGraph g;
  g.from_source.assign(std::size_t{length} * width, 0);
  g.to_sink = g.from_source;
  for (std::uint32_t x = 0; x < length; ++x) {
    for (std::uint32_t y = 0; y < width; ++y) {
      const std::uint32_t n = x * width + y;
      if (x == 0) g.from_source[n] = 1000;
      if (x + 1 == length) g.to_sink[n] = 1000;
      if (x + 1 < length) g.edges.push_back({n, n + width, x == waist ? 99 : 100});
      if (y + 1 < width) g.edges.push_back({n, n + 1, 100});
    }
  }
  const std::vector<std::uint8_t> side = sourceSide(g);
  for (std::uint32_t n = 0; n < length * width; ++n) ASSERT_EQ(side[n], n / width <= waist ? 1 : 0) << "node " << n;
}

TEST(MinCut, what_nothing_joins_to_the_source_is_not_on_its_side) {
  EXPECT_TRUE(sourceSide({}).empty());
  EXPECT_EQ(sourceSide({{0, 5}, {0, 0}, {}}), (std::vector<std::uint8_t>{0, 1}));
}

}  // namespace
