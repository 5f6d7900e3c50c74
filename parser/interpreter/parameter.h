// Numbered parameters #1 … #5399 (NISTIR 6556 3.2.1), and those up to #5428 that controllers add for reading: the tool
// and where it stands.
#pragma once

#include <bitset>
#include <cstddef>
#include <vector>

namespace provecut::interpreter {

constexpr int last_parameter = 5399;
constexpr int first_machine_parameter = 5000;
constexpr int last_read_parameter = 5428;
constexpr int local_parameter = 5431;          // no program reads it: stands for what G52 sets
constexpr int tool_parameter = 5400;           // number of the tool in the spindle
constexpr int tool_diameter_parameter = 5410;  // in the unit in force
constexpr int position_parameter = 5420;       // three for X, Y and Z, as the program would write them

// Those that are the machine's own data (NISTIR 6556 Table 2): from here on three for X, Y and Z.
constexpr int probe_parameter = 5061;
constexpr int g92_parameter = 5211;
constexpr int systems_parameter = 5201;  // 20 for each system, from 1
constexpr int system_parameter = 5220;   // the number of the system in force

// An index is from 1 to last_read_parameter: whoever takes one from a program checks it first.
class ParameterTable {
 public:
  // All are 0, but #5220, the work offset in force, which is 1 (NISTIR 6556 Table 2).
  ParameterTable();

  // The last that a program may read.
  int lastRead() const { return last_read_; }
  void readNoneBeyond(int last) { last_read_ = last; }

  // Values are as the program writes them: lengths in the unit that was in force.
  double get(int index) const { return values_[at(index)]; }
  void set(int index, double value) { values_[at(index)] = value; }

  // Did the program itself ever set it? A machine may start with another value than 0.
  bool everSet(int index) const { return set_[at(index)]; }
  void markSet(int index, bool known = true) { set_[at(index)] = known; }

 private:
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }
  int last_read_ = last_read_parameter;
  std::vector<double> values_;  // on the heap: 43 kB
  std::bitset<last_read_parameter + 1> set_;
};

}  // namespace provecut::interpreter
