#pragma once

#include <array>
#include <optional>
#include <random>
#include <string_view>
#include <vector>

#include "tests/reference/parting/paths.h"
#include "tests/reference/parting/sheet.h"
#include "tests/reference/tabs/least_cut.h"
#include "tests/reference/tabs/part_outline.h"

namespace provecut::reference {

enum class TabbedKind {
  lifted,
  ramped,
  triangular,
  gaps,          // the kerf is left out over the whole height
  narrow_kerfs,  // a cutter of 1 to 2 mm
  small_parts,   // of 4 mm² and more
  round_parts,
  at_corners,  // tabs that run round a corner
  nested,      // an inner part hangs on an outer one, that one on the frame
  from_the_back,
  both_faces_tabs_in_one,
  both_faces_tabs_in_both,  // shifted along the kerf
  both_faces_aside,         // the second kerf lies beside the first
  skins,
  attached,   // too much is left for tabs
  cut_later,  // a second program cuts the tabs of the first part
  mixed,      // parts on tabs, on skins, loose and attached in one sheet
};

struct NamedTabbedKind {
  TabbedKind kind;
  std::string_view name;
};

constexpr std::array<NamedTabbedKind, 17> tabbed_kinds{{
    {TabbedKind::lifted, "lifted"},
    {TabbedKind::ramped, "ramped"},
    {TabbedKind::triangular, "triangular"},
    {TabbedKind::gaps, "gaps"},
    {TabbedKind::narrow_kerfs, "narrow_kerfs"},
    {TabbedKind::small_parts, "small_parts"},
    {TabbedKind::round_parts, "round_parts"},
    {TabbedKind::at_corners, "at_corners"},
    {TabbedKind::nested, "nested"},
    {TabbedKind::from_the_back, "from_the_back"},
    {TabbedKind::both_faces_tabs_in_one, "both_faces_tabs_in_one"},
    {TabbedKind::both_faces_tabs_in_both, "both_faces_tabs_in_both"},
    {TabbedKind::both_faces_aside, "both_faces_aside"},
    {TabbedKind::skins, "skins"},
    {TabbedKind::attached, "attached"},
    {TabbedKind::cut_later, "cut_later"},
    {TabbedKind::mixed, "mixed"},
}};

// What holds a tab's part there: the least upright wall that parts the two sides of the kerf.
struct TrueTab {
  PlanPoint at;          // its middle, stock frame
  double length_mm = 0;  // of its foot along the kerf
  double height_mm = 0;  // at its thickest
  double kerf_mm = 0;    // across the kerf at that height
  double area_mm2 = 0;
  bool closed_form = false;  // else by leastCut()
  KerfStretch stretch;       // that it stands in
};

enum class Hanging {
  on_tabs,   // less than 0.22 of the area of the whole outline is left
  on_skin,   // an even web of 0.1 to 0.95 mm all round
  attached,  // more than 0.4 of it: the part does not hang
  loose,
};

struct TruePart {
  Hanging hanging = Hanging::on_tabs;
  Path path;            // of the tool's axis about it
  PlanBox least, most;  // about its narrowest outline, and about all of the kerf; stock frame
  std::vector<TrueTab> tabs;
  double skin_mm = 0, skin_area_mm2 = 0;
  int left_by = 0;                // the program that leaves it so
  std::optional<int> cut_off_by;  // the program that cuts its tabs
};

struct TabbedSheet {
  Sheet sheet;
  std::vector<TruePart> parts;
};

// One to three parts cut out of a frame that screws hold. The same generator state gives the same sheet everywhere.
TabbedSheet randomTabbedSheet(std::mt19937& generator, TabbedKind kind);

// A tab's area by leastCut(), whether or not it has a closed form.
double leastCutAt(const Sheet& sheet, const TruePart& part, const TrueTab& tab);

}  // namespace provecut::reference
