// The least cut between a source and a sink.
#pragma once

#include <cstdint>
#include <vector>

namespace provecut {

// Between two nodes, both ways.
struct FlowEdge {
  std::uint32_t a = 0, b = 0;
  std::int64_t capacity = 0;
};

struct FlowGraph {
  std::vector<std::int64_t> from_source, to_sink;  // per node, capacities
  std::vector<FlowEdge> edges;
};

// Per node: 1 on the source's side of a minimum cut; of several such cuts the one nearest to the source.
std::vector<std::uint8_t> sourceSide(const FlowGraph& graph);

}  // namespace provecut
