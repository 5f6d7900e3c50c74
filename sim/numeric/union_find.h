// Disjoint sets of small integers.
#pragma once

#include <cstddef>
#include <cstdint>
#include <numeric>
#include <utility>
#include <vector>

namespace provecut {

// Sets of the numbers 0 … size() - 1, each named by its smallest member, its root.
class UnionFind {
 public:
  // `n` sets of one number each.
  explicit UnionFind(std::size_t n = 0) : parent_(n) { std::iota(parent_.begin(), parent_.end(), std::uint32_t{0}); }
  // One more set of one number, which is given back.
  std::uint32_t add() {
    parent_.push_back(static_cast<std::uint32_t>(parent_.size()));
    return parent_.back();
  }
  // The root of a's set.
  std::uint32_t find(std::uint32_t a) {
    while (parent_[a] != a) a = parent_[a] = parent_[parent_[a]];
    return a;
  }
  // Makes one set of the two and gives its root: the smaller one, so that results do not depend on the order of the
  // calls.
  std::uint32_t join(std::uint32_t a, std::uint32_t b) {
    a = find(a);
    b = find(b);
    if (b < a) std::swap(a, b);
    return parent_[b] = a;
  }
  std::size_t size() const { return parent_.size(); }

 private:
  std::vector<std::uint32_t> parent_;
};

}  // namespace provecut
