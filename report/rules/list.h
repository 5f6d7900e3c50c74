// The visible list of rules. A new rule is its own file here, its name below, and one line in list.cpp.
#pragma once

#include "report/rules/rule.h"

namespace provecut {

extern const Rule hold_down_hit_rule;
extern const Rule bed_hit_rule;
extern const Rule rapid_in_stock_rule;
extern const Rule rapid_grazes_rule;
extern const Rule feed_slip_rule;
extern const Rule nut_hit_rule;
extern const Rule unwanted_through_rule;
extern const Rule flute_too_short_rule;
extern const Rule undercut_lift_rule;
extern const Rule part_free_rule;
extern const Rule spindle_off_rule;
extern const Rule spindle_sync_rule;
extern const Rule feed_missing_rule;
extern const Rule tool_unknown_rule;
extern const Rule shank_grip_rule;
extern const Rule pin_blocked_rule;
extern const Rule pins_shifted_rule;
extern const Rule syntax_rule;
extern const Rule hold_down_close_rule;
extern const Rule spoilboard_cut_rule;
extern const Rule low_rapid_rule;
extern const Rule pass_too_deep_rule;
extern const Rule offcut_free_rule;
extern const Rule tabs_weak_rule;
extern const Rule floor_thin_rule;
extern const Rule pin_loose_rule;
extern const Rule screw_in_pocket_rule;
extern const Rule screw_too_long_rule;
extern const Rule screw_too_short_rule;
extern const Rule holes_miss_rule;
extern const Rule not_through_rule;
extern const Rule sliver_standing_rule;
extern const Rule tabs_overloaded_rule;
extern const Rule stock_unheld_rule;
extern const Rule hold_down_unlisted_rule;
extern const Rule drill_sideways_rule;
extern const Rule cuts_nothing_rule;
extern const Rule cut_outside_stock_rule;
extern const Rule units_doubt_rule;
extern const Rule start_state_rule;
extern const Rule travel_exceeded_rule;
extern const Rule plunge_not_center_rule;
extern const Rule tool_overspeed_rule;
extern const Rule plunge_fast_rule;
extern const Rule spindle_range_rule;
extern const Rule feed_over_rule;
extern const Rule tool_change_low_rule;
extern const Rule tool_change_unstopped_rule;
extern const Rule tool_differs_rule;
extern const Rule not_accepted_rule;
extern const Rule program_changed_rule;
extern const Rule program_saved_again_rule;
extern const Rule first_move_rule;
extern const Rule feed_before_unit_rule;
extern const Rule air_cut_rule;
extern const Rule chip_load_rule;
extern const Rule power_rule;
extern const Rule cutter_deflection_rule;
extern const Rule chip_thin_rule;
extern const Rule cut_at_plunge_feed_rule;
extern const Rule dwell_in_cut_rule;
extern const Rule pins_either_way_rule;
extern const Rule screw_near_edge_rule;
extern const Rule hole_in_path_rule;
extern const Rule end_state_rule;
extern const Rule tab_margin_low_rule;
extern const Rule part_attached_rule;
extern const Rule cut_in_tabbed_part_rule;
extern const Rule rapid_dogleg_rule;
extern const Rule first_pass_shallow_rule;
extern const Rule thin_stock_lift_rule;
extern const Rule thickness_as_sold_rule;
extern const Rule may_bow_rule;
extern const Rule accept_unused_rule;
extern const Rule assumed_rule;

}  // namespace provecut
