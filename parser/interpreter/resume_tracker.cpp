#include "parser/interpreter/resume_tracker.h"

#include <algorithm>

#include "parser/interpreter/parameter.h"

namespace provecut::interpreter {

namespace {

bool isProbed(int number) {
  return number >= probe_parameter && number < probe_parameter + 6;
}

constexpr ModeSet cycle_words =
    modeSet(Mode::cycle_r, Mode::cycle_depth, Mode::cycle_p, Mode::cycle_q, Mode::cycle_insert);
// No value is known before the program sets them.
constexpr ModeSet without_default =
    modeSet(Mode::feed, Mode::speed, Mode::path_control, Mode::overrides, Mode::tool, Mode::selected_tool);

bool contains(ModeSet modes, Mode mode) {
  return (modes & modeSet(mode)) != 0;
}

ResumeBar barOf(const ResumePoint& p) {
  if (p.bar != ResumeBar::none) return p.bar;
  if (contains(p.needs, Mode::compensation) && p.compensation_on) return ResumeBar::compensation_on;
  const bool cycle = p.motion > 800 || p.motion == 730;
  if ((p.needs & cycle_words) != 0 || (contains(p.needs, Mode::motion) && cycle)) return ResumeBar::in_cycle;
  return contains(p.needs, Mode::motion) && p.motion == 800 ? ResumeBar::motion_unset : ResumeBar::none;
}

// F and the tolerance mean nothing without their unit, nor F without its mode.
ModeSet withUnits(const ResumePoint& p) {
  ModeSet needs = p.needs;
  if (contains(needs, Mode::feed) && p.feed >= 0) needs |= modeSet(Mode::units, Mode::feed_mode);
  if (contains(needs, Mode::path_control) && p.path_control == PathControl::tolerance) needs |= modeSet(Mode::units);
  return needs;
}

}  // namespace

void ResumeTracker::add(ResumePoint point) {
  point.set_before = touched_;
  points_.push_back(std::move(point));
  open_ = ~ModeSet{0};
}

void ResumeTracker::drop() {
  points_.pop_back();
  const auto clamp = [&](std::uint32_t& decided) { decided = std::min(decided, count()); };
  for (std::uint32_t& d : decided_) clamp(d);
  for (auto& [number, d] : parameters_) clamp(d);
  for (auto& [line, d] : subprograms_) clamp(d);
}

void ResumeTracker::mark(ModeSet modes) {
  for (std::size_t m = 0; m < mode_count; ++m) {
    const ModeSet mode = ModeSet{1} << m;
    if ((modes & mode) == 0) continue;
    for (std::size_t i = decided_[m]; i < points_.size(); ++i) points_[i].needs |= mode;
  }
  lose(modes);
}

void ResumeTracker::lose(ModeSet modes) {
  modes &= open_;
  open_ &= ~modes;
  for (std::size_t m = 0; modes != 0; ++m, modes >>= 1) {
    if ((modes & 1) != 0) decided_[m] = count();
  }
}

void ResumeTracker::useParameter(int number, double value) {
  const auto known = parameters_.find(number);
  if (known == parameters_.end()) return;
  const ResumeBar bar = isProbed(number) || measured_.contains(number) ? ResumeBar::measured
                        : number > first_machine_parameter             ? ResumeBar::zero_moved
                                                                       : ResumeBar::none;
  for (std::uint32_t& i = known->second; i < count(); ++i) {
    ResumePoint& p = points_[i];
    if (bar == ResumeBar::none) {
      p.parameters.push_back({number, value});
    } else if (p.bar == ResumeBar::none) {
      p.bar = bar;
    }
  }
}

void ResumeTracker::setParameter(int number, bool measured) {
  parameters_[number] = count();
  if (measured) {
    measured_.insert(number);
  } else {
    measured_.erase(number);
  }
}

bool ResumeTracker::anyMeasured(std::span<const int> numbers) const {
  return std::any_of(numbers.begin(), numbers.end(),
                     [&](int n) { return measured_.contains(n) || (isProbed(n) && parameters_.contains(n)); });
}

ResumeTracker::Saved ResumeTracker::saveParameters(int last) const {
  return {parameters_.begin(), parameters_.upper_bound(last)};
}

void ResumeTracker::restoreParameters(int last, const Saved& saved) {
  parameters_.erase(parameters_.begin(), parameters_.upper_bound(last));
  for (const auto& [number, decided] : saved) parameters_[number] = decided;
}

void ResumeTracker::useSubprogram(std::uint32_t line) {
  for (std::uint32_t& i = subprograms_[line]; i < count(); ++i) {
    if (points_[i].line > line && points_[i].bar == ResumeBar::none) points_[i].bar = ResumeBar::subprogram_behind;
  }
}

std::vector<ResumePoint> ResumeTracker::finish() {
  for (ResumePoint& p : points_) {
    p.bar = barOf(p);
    p.needs = withUnits(p) & touched_ & ~(without_default & ~p.set_before);
  }
  return std::move(points_);
}

}  // namespace provecut::interpreter
