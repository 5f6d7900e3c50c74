// Which lines a stopped program can be resumed at, and what has to be set there: what the rest of the program uses
// before it sets it itself.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <utility>
#include <vector>

#include "parser/program/motion.h"

namespace provecut::interpreter {

// Told of each use and each setting in the order of execution. What is used for the first time after some points, and
// not set since, has still the value that it had at these points.
class ResumeTracker {
 public:
  bool full() const { return points_.size() >= max_points; }
  // A line about to run; last() until the next one.
  void add(ResumePoint point);
  ResumePoint& last() { return points_.back(); }
  void drop();  // the last one was none after all

  void use(ModeSet modes) {
    if ((modes & open_) != 0) mark(modes & open_);
  }
  void set(ModeSet modes) {  // by the program's own word
    touched_ |= modes;
    lose(modes);
  }
  void lose(ModeSet modes);  // by something else, as M6 stops the spindle

  void useParameter(int number, double value);
  void setParameter(int number, bool measured = false);  // `measured`: it depends on where a probe touched
  bool anyMeasured(std::span<const int> numbers) const;
  // #1 to #`last` are those of a subprogram from here on; restoreParameters() at its end.
  using Saved = std::vector<std::pair<int, std::uint32_t>>;
  Saved saveParameters(int last) const;
  void restoreParameters(int last, const Saved& saved);

  void useSubprogram(std::uint32_t line);  // that is called; `line`: where it is written

  std::vector<ResumePoint> finish();

 private:
  static constexpr std::size_t max_points = 20'000;
  std::uint32_t count() const { return static_cast<std::uint32_t>(points_.size()); }
  void mark(ModeSet modes);

  std::vector<ResumePoint> points_;
  // Of the points before this index it is known whether they need the mode, parameter or subprogram.
  std::array<std::uint32_t, mode_count> decided_{};
  std::map<int, std::uint32_t> parameters_;  // those that the program has set
  std::map<std::uint32_t, std::uint32_t> subprograms_;
  std::set<int> measured_;
  ModeSet open_ = 0;  // some point may turn out to need them
  ModeSet touched_ = 0;
};

}  // namespace provecut::interpreter
