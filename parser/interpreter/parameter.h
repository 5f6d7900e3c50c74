// Numbered parameters #1 … #5399 (NISTIR 6556 3.2.1).
#pragma once

#include <bitset>
#include <cstddef>
#include <vector>

namespace provecut::interpreter {

constexpr int last_parameter = 5399;

// Those that are the machine's own data (NISTIR 6556 Table 2): from here on three for X, Y and Z.
constexpr int probe_parameter = 5061;
constexpr int g92_parameter = 5211;
constexpr int systems_parameter = 5201;  // 20 for each system, from 1
constexpr int system_parameter = 5220;   // the number of the system in force

// An index is from 1 to last_parameter: whoever takes one from a program checks it first.
class ParameterTable {
 public:
  // All are 0, but #5220, the work offset in force, which is 1 (NISTIR 6556 Table 2).
  ParameterTable();

  // Values are as the program writes them: lengths in the unit that was in force.
  double get(int index) const { return values_[at(index)]; }
  void set(int index, double value) { values_[at(index)] = value; }

  // Did the program itself ever set it? A machine may start with another value than 0.
  bool everSet(int index) const { return set_[at(index)]; }
  void markSet(int index) { set_[at(index)] = true; }

 private:
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }
  std::vector<double> values_;  // on the heap: 43 kB
  std::bitset<last_parameter + 1> set_;
};

}  // namespace provecut::interpreter
