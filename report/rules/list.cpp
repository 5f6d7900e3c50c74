#include "report/rules/list.h"

#include <algorithm>
#include <array>
#include <vector>

#include "report/rules/problem_rules.h"

namespace provecut {

namespace {

// In the order in which `explain` shows them. One line per rule.
constexpr std::array rules{
    &hold_down_hit_rule,
    &bed_hit_rule,
    &rapid_in_stock_rule,
    &nut_hit_rule,
    &unwanted_through_rule,
    &flute_too_short_rule,
    &undercut_lift_rule,
    &part_free_rule,
    &spindle_off_rule,
    &spindle_sync_rule,
    &feed_missing_rule,
    &tool_unknown_rule,
    &pin_blocked_rule,
    &pins_shifted_rule,
    &syntax_rule,
    &travel_exceeded_rule,
    &plunge_not_center_rule,
    &tool_overspeed_rule,
    &shank_grip_rule,
    &hold_down_close_rule,
    &spoilboard_cut_rule,
    &low_rapid_rule,
    &rapid_to_surface_rule,
    &pass_too_deep_rule,
    &offcut_free_rule,
    &tabs_weak_rule,
    &floor_thin_rule,
    &pin_loose_rule,
    &screw_in_pocket_rule,
    &screw_too_long_rule,
    &screw_too_short_rule,
    &holes_miss_rule,
    &sides_apart_rule,
    &sides_break_through_rule,
    &held_by_one_rule,
    &not_through_rule,
    &through_cut_short_rule,
    &sliver_standing_rule,
    &tabs_overloaded_rule,
    &stock_unheld_rule,
    &tape_edge_cut_rule,
    &hold_down_unlisted_rule,
    &finish_first_rule,
    &drill_sideways_rule,
    &cuts_nothing_rule,
    &cut_outside_stock_rule,
    &units_doubt_rule,
    &start_state_rule,
    &plunge_fast_rule,
    &spindle_range_rule,
    &feed_over_rule,
    &feed_slip_rule,
    &chip_load_rule,
    &power_rule,
    &cutter_deflection_rule,
    &tool_change_low_rule,
    &tool_change_unstopped_rule,
    &tool_differs_rule,
    &tool_not_called_rule,
    &bit_sizes_rule,
    &setup_change_rule,
    &not_accepted_rule,
    &program_changed_rule,
    &first_move_rule,
    &feed_before_unit_rule,
    &rapid_grazes_rule,
    &air_cut_rule,
    &chip_thin_rule,
    &cut_at_plunge_feed_rule,
    &deep_hole_rule,
    &shank_brushes_rule,
    &dwell_in_cut_rule,
    &pins_either_way_rule,
    &screw_near_edge_rule,
    &hole_in_path_rule,
    &end_state_rule,
    &tab_margin_low_rule,
    &part_attached_rule,
    &cut_in_tabbed_part_rule,
    &rapid_dogleg_rule,
    &first_pass_shallow_rule,
    &thin_stock_lift_rule,
    &thickness_as_sold_rule,
    &may_bow_rule,
    &program_saved_again_rule,
    &accept_unused_rule,
    &assumed_rule,
};

// Ids that once were; they go on working in `explain` and in [[accept]].
struct Renamed {
  std::string_view before, now;
};
constexpr std::array<Renamed, 0> renamed{};

// Ids that find nothing any more; `explain` says why, and an [[accept]] of one is told to go.
constexpr std::array retired{
    Rule{"repeated-point", Level::note, "Retired: cutting moves that go nowhere are no longer told.",
         R"(## What it finds

Nothing any more. It named cutting moves that end where they start.

## What to do

Delete it from the job file.

## What `amount` is

There is none.
)",
         nullptr},
};

}  // namespace

std::span<const Rule* const> allRules() {
  // The rules above, then those that the program reader's ids make; a rule with a file of its own comes first.
  static const std::vector<const Rule*> all = [] {
    std::vector<const Rule*> out(rules.begin(), rules.end());
    for (const Rule& rule : problemRules()) {
      const bool own = std::any_of(rules.begin(), rules.end(), [&](const Rule* r) { return r->id == rule.id; });
      if (!own) out.push_back(&rule);
    }
    return out;
  }();
  return all;
}

const Rule* findRule(std::string_view id) {
  for (const Renamed& r : renamed) {
    if (r.before == id) id = r.now;
  }
  const auto all = allRules();
  const auto it = std::find_if(all.begin(), all.end(), [&](const Rule* r) { return r->id == id; });
  if (it != all.end()) return *it;
  const auto gone = std::find_if(retired.begin(), retired.end(), [&](const Rule& r) { return r.id == id; });
  return gone == retired.end() ? nullptr : &*gone;
}

}  // namespace provecut
