// The programs of a job, wherever their owners keep them.
#pragma once

#include <cstddef>
#include <vector>

#include "parser/program/motion.h"

namespace provecut {

// In the order of the job's setups and their entries. Points at the programs, which must outlive it.
class Programs {
 public:
  Programs() = default;
  Programs(const std::vector<Program>& programs) {
    for (const Program& p : programs) add(p);
  }
  void add(const Program& program) { of_.push_back(&program); }

  std::size_t size() const { return of_.size(); }
  const Program& operator[](std::size_t i) const { return *of_[i]; }
  // The first `count` of them.
  Programs first(std::size_t count) const {
    Programs some;
    for (std::size_t i = 0; i < count; ++i) some.add(*of_[i]);
    return some;
  }
  // Over pointers to them.
  auto begin() const { return of_.begin(); }
  auto end() const { return of_.end(); }

 private:
  std::vector<const Program*> of_;
};

}  // namespace provecut
