// The codes of the language and their modal groups (NISTIR 6556 Table 4), and the few that exported programs add.
#pragma once

#include <algorithm>
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
  set(GGroup::motion, 0, 10, 20, 30, 382, 383, 384, 385, 730, 740, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890);
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
  set(GGroup::non_modal, 40, 100, 280, 300, 520, 530, 920, 921, 922, 923);  // G52: extension
  // Extension: polar coordinates, scaling, mirror and rotation off, spindle in rpm, one exact stop: nothing to switch
  // off, or no other path.
  set(GGroup::no_effect, 90, 150, 500, 501, 690, 970);
  return table;
}
inline constexpr std::array<GGroup, 1000> g_groups = gGroupTable();

}  // namespace detail

constexpr GGroup gGroup(int tenths) {
  return tenths >= 0 && tenths < 1000 ? detail::g_groups[static_cast<std::size_t>(tenths)] : GGroup::unknown;
}

// Not in the published standard, read when not strict.
constexpr bool isExtensionG(int tenths) {
  constexpr std::array extensions{90, 150, 383, 384, 385, 500, 501, 520, 690, 700, 710, 730, 740, 901, 911, 950, 970};
  return std::find(extensions.begin(), extensions.end(), tenths) != extensions.end();
}

// Codes that controllers have and that are not followed here: pocket cycles, splines, polar coordinates, threads,
// scaling, rotation, further offsets, calls of macros.
constexpr bool isKnownElsewhereG(int tenths) {
  constexpr std::array known{50,  51,  52,  53,  60,  70,  80,  120, 130, 160, 220, 230, 270, 290, 310, 320, 330,
                             331, 340, 350, 360, 370, 411, 421, 431, 432, 434, 435, 510, 511, 541, 542, 600, 620,
                             630, 650, 660, 661, 670, 680, 682, 683, 720, 750, 760, 770, 780, 790, 960};
  return std::find(known.begin(), known.end(), tenths) != known.end() || (tenths >= 1000 && tenths < 2000);
}

// What a G code that is not followed does with the axis words beside it.
enum class AxisUse : std::uint8_t {
  none,       // it has none of its own: they belong to the motion code in force
  path,       // they end its own path, cut at the feed: splines, threads, circular pockets, moves until a touch
  frame,      // they change where places are: polar places, scaling, mirroring, rotation, tilted planes, zones, lengths
  somewhere,  // a cycle or a macro of its own: where it leaves the tool is not known
};

constexpr AxisUse axisUse(int tenths) {
  const auto is = [&](auto... codes) { return ((tenths == codes) || ...); };
  if (is(50, 51, 52, 120, 130, 310, 320, 330, 340)) return AxisUse::path;
  if (is(160, 220, 431, 432, 510, 511, 680, 682, 683, 1010, 1070)) return AxisUse::frame;
  if (is(270, 290, 331, 350, 360, 370, 650, 660, 661, 720, 750, 760, 770, 780, 790, 1360, 1500, 1740, 1840, 1860))
    return AxisUse::somewhere;
  return AxisUse::none;
}

// Is it in force until another motion code comes?
constexpr bool isModalPath(int tenths) {
  return axisUse(tenths) == AxisUse::path && tenths != 120 && tenths != 130 && tenths != 310;
}

// M codes that commonly switch something and move no axis: clamps, motors, orienting, rigid tapping, chip conveyors,
// gears, overrides, inputs and outputs, air and coolant through the spindle, doors, the state of a print.
constexpr bool isMachineFunctionM(int code) {
  constexpr std::array known{10, 11, 17, 18, 19, 29, 31, 33, 34, 35, 40, 41, 42, 43, 44, 50, 51,  52,  53,
                             62, 63, 64, 65, 66, 67, 68, 80, 81, 82, 83, 84, 85, 86, 88, 89, 105, 114, 115};
  return std::find(known.begin(), known.end(), code) != known.end();
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
    case 13:  // extension: M3 and M4 with coolant
    case 14:
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

// G38.2, and by extension the ones that go on without a touch, or move off.
constexpr bool isProbe(int tenths) {
  return tenths >= 382 && tenths <= 385;
}

constexpr bool isCycle(int tenths) {
  return (tenths >= 810 && tenths <= 890) || tenths == 730 || tenths == 740;
}

}  // namespace provecut::interpreter
