#pragma once

#include <array>
#include <random>
#include <string_view>

#include "tests/reference/parting/sheet.h"

namespace provecut::reference {

enum class SheetKind {
  nested_inside_out,
  nested_outside_in,
  islands,
  stars,
  slots,
  level_passes,
  ramped_passes,
  helical_passes,
  lead_ins,
  lifted_tabs,
  ramped_tabs,
  triangular_tabs,
  onion_skin,
  depth_short,   // some outlines stay 0.02 to 0.5 mm above the spoilboard
  depth_beyond,  // 0.02 to 0.5 mm into it
  tabs_cut_later,
  rough_then_finish,
  two_faces,
  two_faces_tabs,
  screws,
  screws_milled_out,
  hold_downs_leave,
  tape,
  tape_milled_away,
  loose_block_milled,
  tool_forms,
};

struct NamedKind {
  SheetKind kind;
  std::string_view name;
};

constexpr std::array<NamedKind, 26> sheet_kinds{{
    {SheetKind::nested_inside_out, "nested_inside_out"},
    {SheetKind::nested_outside_in, "nested_outside_in"},
    {SheetKind::islands, "islands"},
    {SheetKind::stars, "stars"},
    {SheetKind::slots, "slots"},
    {SheetKind::level_passes, "level_passes"},
    {SheetKind::ramped_passes, "ramped_passes"},
    {SheetKind::helical_passes, "helical_passes"},
    {SheetKind::lead_ins, "lead_ins"},
    {SheetKind::lifted_tabs, "lifted_tabs"},
    {SheetKind::ramped_tabs, "ramped_tabs"},
    {SheetKind::triangular_tabs, "triangular_tabs"},
    {SheetKind::onion_skin, "onion_skin"},
    {SheetKind::depth_short, "depth_short"},
    {SheetKind::depth_beyond, "depth_beyond"},
    {SheetKind::tabs_cut_later, "tabs_cut_later"},
    {SheetKind::rough_then_finish, "rough_then_finish"},
    {SheetKind::two_faces, "two_faces"},
    {SheetKind::two_faces_tabs, "two_faces_tabs"},
    {SheetKind::screws, "screws"},
    {SheetKind::screws_milled_out, "screws_milled_out"},
    {SheetKind::hold_downs_leave, "hold_downs_leave"},
    {SheetKind::tape, "tape"},
    {SheetKind::tape_milled_away, "tape_milled_away"},
    {SheetKind::loose_block_milled, "loose_block_milled"},
    {SheetKind::tool_forms, "tool_forms"},
}};

// A sheet of 40 to 90 mm a side and 3 to 40 mm thick, of at most about 150 moves, with coordinates of three decimals on
// no raster. The same generator state gives the same sheet everywhere.
Sheet randomSheet(std::mt19937& generator, SheetKind kind);

}  // namespace provecut::reference
