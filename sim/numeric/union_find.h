// Disjoint sets of small integers.
#pragma once

#include <cstdint>
#include <numeric>
#include <vector>

namespace provecut {

class UnionFind {
 public:
  explicit UnionFind(std::size_t n = 0) : parent_(n) { std::iota(parent_.begin(), parent_.end(), std::uint32_t{0}); }
  std::uint32_t add() {
    parent_.push_back(static_cast<std::uint32_t>(parent_.size()));
    return parent_.back();
  }
  std::uint32_t find(std::uint32_t a) {
    while (parent_[a] != a) a = parent_[a] = parent_[parent_[a]];
    return a;
  }
  // The smaller root wins, so that results do not depend on the order of the calls.
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
