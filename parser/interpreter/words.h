// The codes of the language and their modal groups (NISTIR 6556 Table 4), and the few that exported programs add.
#pragma once

#include <array>
#include <cstdint>
#include <utility>

namespace provecut::interpreter {

enum class GGroup : std::uint8_t {
  unknown,
  non_modal,
  motion,
  plane,
  distance,
  arc_distance,
  feed_mode,
  units,
  radius_compensation,
  length_offset,
  cycle_return,
  coordinate_system,
  path_control,
  no_effect,
};
constexpr std::size_t g_group_count = 14;

enum class MGroup : std::uint8_t { unknown, stopping, tool_change, spindle, coolant, overrides, subprogram };
constexpr std::size_t m_group_count = 7;

namespace detail {

// Index: ten times the code, so that G38.2 is 382.
constexpr std::array<GGroup, 1000> gGroupTable() {
  std::array<GGroup, 1000> table{};
  const auto set = [&](GGroup group, auto... tenths) { ((table[static_cast<std::size_t>(tenths)] = group), ...); };
  set(GGroup::motion, 0, 10, 20, 30, 382, 730, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890);
  set(GGroup::plane, 170, 180, 190);
  set(GGroup::distance, 900, 910);
  set(GGroup::arc_distance, 901, 911);     // extension
  set(GGroup::feed_mode, 930, 940, 950);   // G95, feed per revolution: extension
  set(GGroup::units, 200, 210, 700, 710);  // G70 G71: the older standards' inch and mm
  set(GGroup::radius_compensation, 400, 410, 420);
  set(GGroup::length_offset, 430, 490);
  set(GGroup::cycle_return, 980, 990);
  set(GGroup::coordinate_system, 540, 550, 560, 570, 580, 590, 591, 592, 593);
  set(GGroup::path_control, 610, 611, 640);
  set(GGroup::non_modal, 40, 100, 280, 300, 530, 920, 921, 922, 923);
  set(GGroup::no_effect, 500, 690, 970);  // extension: scaling off, rotation off, spindle in rpm: nothing to switch off
  return table;
}
inline constexpr std::array<GGroup, 1000> g_groups = gGroupTable();

}  // namespace detail

constexpr GGroup gGroup(int tenths) {
  return tenths >= 0 && tenths < 1000 ? detail::g_groups[static_cast<std::size_t>(tenths)] : GGroup::unknown;
}

// Not in the published standard, read when not strict.
constexpr bool isExtensionG(int tenths) {
  return tenths == 730 || tenths == 901 || tenths == 911 || tenths == 700 || tenths == 710 || tenths == 500 ||
         tenths == 690 || tenths == 970 || tenths == 950;
}

constexpr MGroup mGroup(int code) {
  switch (code) {
    case 0:
    case 1:
    case 2:
    case 30:
    case 60:
      return MGroup::stopping;
    case 6:
      return MGroup::tool_change;
    case 3:
    case 4:
    case 5:
      return MGroup::spindle;
    case 7:
    case 8:
    case 9:
      return MGroup::coolant;
    case 48:
    case 49:
      return MGroup::overrides;
    case 98:
    case 99:
      return MGroup::subprogram;  // extension
    default:
      return MGroup::unknown;
  }
}

constexpr bool isCycle(int tenths) {
  return (tenths >= 810 && tenths <= 890) || tenths == 730;
}

}  // namespace provecut::interpreter
