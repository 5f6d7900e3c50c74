// Numbered parameters #1 … #5399 (NISTIR 6556 3.2.1) and the settings of a line, which take effect together.
#pragma once

#include <array>
#include <memory>
#include <vector>

namespace provecut::interpreter {

constexpr int last_parameter = 5399;

class ParameterTable {
 public:
  ParameterTable();
  double get(int index) const { return (*values_)[static_cast<std::size_t>(index)]; }
  void set(int index, double value) { (*values_)[static_cast<std::size_t>(index)] = value; }
  bool everSet(int index) const { return (*set_)[static_cast<std::size_t>(index)]; }
  void markSet(int index) { (*set_)[static_cast<std::size_t>(index)] = true; }

 private:
  std::unique_ptr<std::array<double, last_parameter + 1>> values_;
  std::unique_ptr<std::array<bool, last_parameter + 1>> set_;
};

}  // namespace provecut::interpreter
