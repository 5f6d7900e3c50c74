#include "sim/numeric/min_cut.h"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/push_relabel_max_flow.hpp>
#include <boost/iterator/counting_iterator.hpp>
#include <boost/range/iterator_range.hpp>
#include <cstddef>
#include <utility>

namespace provecut {

namespace {

// Each arc knows its number in the order in which it was added.
using Network = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, std::uint32_t,
                                                   boost::no_property, std::uint32_t, std::uint32_t>;
using Arc = Network::edge_descriptor;

// Boost asks that the reverse of an arc, by which flow is taken back, has no capacity of its own. So an edge is two
// arcs, each with its reverse: were they each other's reverse, Boost could not take back what never reaches the sink,
// and what the source still reaches would be no side of a least cut.
struct Arcs {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> ends;  // each arc and then its reverse
  std::vector<std::int64_t> capacity;

  void add(std::uint32_t from, std::uint32_t to, std::int64_t most) {
    if (most == 0) return;
    ends.insert(ends.end(), {{from, to}, {to, from}});
    capacity.insert(capacity.end(), {most, 0});
  }
};

Arcs arcsOf(const FlowGraph& g, std::uint32_t source, std::uint32_t sink) {
  Arcs all;
  for (std::uint32_t n = 0; n < g.from_source.size(); ++n) {
    all.add(source, n, g.from_source[n]);
    all.add(n, sink, g.to_sink[n]);
  }
  for (const FlowEdge& e : g.edges) {
    all.add(e.a, e.b, e.capacity);
    all.add(e.b, e.a, e.capacity);
  }
  return all;
}

// Per arc: what may still flow after the most has flowed.
std::vector<std::int64_t> leftByMostFlow(const Network& net, const Arcs& arcs, std::uint32_t source,
                                         std::uint32_t sink) {
  const auto index = get(boost::edge_index, net);
  std::vector<Arc> added(arcs.ends.size()), reverse(added.size());
  for (const Arc& a : boost::make_iterator_range(edges(net))) added[net[a]] = a;
  std::vector<std::int64_t> capacity(added.size()), left(added.size());
  for (const Arc& a : boost::make_iterator_range(edges(net))) {
    capacity[get(index, a)] = arcs.capacity[net[a]];
    reverse[get(index, a)] = added[net[a] ^ 1U];
  }
  boost::push_relabel_max_flow(net, source, sink, boost::make_iterator_property_map(capacity.begin(), index),
                               boost::make_iterator_property_map(left.begin(), index),
                               boost::make_iterator_property_map(reverse.begin(), index),
                               get(boost::vertex_index, net));
  return left;
}

}  // namespace

std::vector<std::uint8_t> sourceSide(const FlowGraph& g) {
  const auto source = static_cast<std::uint32_t>(g.from_source.size()), sink = source + 1;
  const Arcs arcs = arcsOf(g, source, sink);
  const Network net(boost::edges_are_unsorted_multi_pass, arcs.ends.begin(), arcs.ends.end(),
                    boost::counting_iterator<std::uint32_t>(0), sink + 1);
  const std::vector<std::int64_t> left = leftByMostFlow(net, arcs, source, sink);
  std::vector<std::uint8_t> side(sink + 1, 0);
  std::vector<std::uint32_t> reached{source};
  side[source] = 1;
  for (std::size_t k = 0; k < reached.size(); ++k) {
    for (const Arc& a : boost::make_iterator_range(out_edges(reached[k], net))) {
      if (left[get(boost::edge_index, net, a)] == 0 || side[target(a, net)] == 1) continue;
      side[target(a, net)] = 1;
      reached.push_back(target(a, net));
    }
  }
  side.resize(source);
  return side;
}

}  // namespace provecut
