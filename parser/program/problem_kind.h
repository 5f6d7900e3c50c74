// Every kind of trouble that the program reader knows, with the facts that come with it, in their order. One kind is
// one sentence in report/findings/problem_sentences.cpp.
#pragma once

#include <cstddef>
#include <cstdint>

namespace provecut {

enum class ProblemKind : std::uint8_t {
  // Text
  unknown_letter,              // Text
  letter_without_value,        // Text
  not_a_number,                // Text
  comma_in_number,             // Text
  expression_unreadable,       // Text
  unknown_function,            // Text
  half_arc_tangent,            // Text
  stray_character,             // Text
  stray_bracket,               // Text
  stray_slash,                 // Text
  setting_unreadable,          // Text
  line_number_without_digits,  // Text
  control_character,           // Text
  text_after_percent,          // Text
  not_standard,                // Text
  comment_not_standard,        // Text
  line_number_not_standard,    // Text
  comment_unclosed,            // Text
  comment_nested,              // Text
  exponent,                    // Text
  space_in_number,             // Text
  sign_before_value,
  colon_first,
  end_of_file_mark,
  inch_by_older_code,     // Code
  mm_by_older_code,       // Code
  line_number_long,       // Text
  line_number_not_first,  // Text
  checksum_wrong,         // Text
  percent_only_closes,
  percent_ends_program,  // without M2, M30, and without a first %
  percent_only_opens,
  end_missing,
  line_over_256,  // Count: characters
  block_delete_run,
  block_delete_skipped,
  words_after_end,
  incremental_at_end,
  rotary_axis,
  // Read by its shape, or not followed here
  statement_skipped,         // Text
  statement_not_followed,    // Text
  homing,                    // Text
  code_not_followed,         // Code
  path_not_followed,         // Code
  cycle_not_followed,        // Code
  frame_not_followed,        // Code
  named_parameter,           // Text
  parameter_beyond_limit,    // Text
  machine_function,          // Code
  machine_function_unknown,  // Code
  // Limits of what is followed
  line_too_long,            // Count: characters
  too_many_moves,           // Count: the limit
  too_many_lines_repeated,  // Count: the limit
  nested_too_deep,          // Count: the limit
  too_many_repeats,         // Text, Count: the limit
  too_many_pecks,           // Count: the limit
  // Words
  unknown_code,              // Code
  line_number_as_m,          // Code, Code: with N
  word_unused,               // Code: its letter, Text
  word_twice,                // Code: its letter, Text: the first, Text: the last
  value_beyond_machine,      // Text
  turns_faulty,              // Text
  feed_negative,             // Text
  speed_negative,            // Text
  dwell_negative,            // Text
  tolerance_negative,        // Text
  codes_exclude_each_other,  // Code, Code
  too_many_m_words,
  tool_number_faulty,    // Text
  tool_with_offset,      // Text, Code: tool, Code: offset, Code: both as one number
  tool_or_offset,        // the same
  length_of_other_tool,  // Text, Tool: in the spindle
  length_of_no_tool,     // Text, Tool: in the spindle
  length_offset_unnamed,
  length_offset_faulty,  // Text
  dwell_time_missing,
  motion_without_axis,  // Code
  probe_without_axis,   // Code
  cycle_without_axis,   // Code
  arc_without_axis,     // Code
  machine_move_without_axis,
  axis_words_claimed_twice,  // Code, Code: takes them
  motion_mode_missing,
  motion_mode_rapid_assumed,
  motion_mode_feed_assumed,
  motion_mode_none_before,  // G80 at the start
  // Values
  parameter_number_faulty,    // Text
  division_by_zero,           // Text
  root_of_negative,           // Text
  logarithm_of_not_positive,  // Text
  arc_function_beyond_one,    // Text
  power_of_negative,          // Text
  result_too_large,           // Text
  parameter_unset,            // Parameter
  // Moves
  feed_zero,
  feed_unset,
  feed_per_turn_without_speed,
  feed_missing_inverse_time,
  feed_from_other_tool,                 // Tool
  cut_at_unknown_place,                 // Axes
  increment_from_unknown_place,         // Axes
  arc_radii_differ,                     // Length: at the start, Length: at the end
  arc_radii_differ_unless_incremental,  // Length, Length
  arc_radii_differ_unless_absolute,     // Length, Length
  arc_radius_too_short,                 // Length: the radius, Length: half the chord
  arc_radius_zero,
  arc_centre_at_start,
  arc_without_centre,
  arc_by_radius_ends_at_start,
  arc_with_radius_and_centre,
  arc_by_radius_nearly_full,
  arc_without_end,
  tiny_arc_ends_at_start,
  tiny_arc_ends_behind_start,  // Length: how far
  probe_touches_at,            // Length: Z of the work zero's frame
  probe_reaches_end,
  probe_under_compensation,
  probe_under_inverse_time,
  probe_turns_axis,
  probe_too_short,
  // Cycles
  cycle_without_depth,  // Axes
  cycle_without_r,
  cycle_r_below_bottom,      // Length: R, Length: the bottom
  cycle_kept_as_increments,  // Length: bottom here, Length: bottom where the kept words stay places
  cycle_repeats_zero,        // Text
  cycle_repeats_faulty,      // Text
  cycle_dwell_negative,
  cycle_dwell_missing,
  cycle_without_peck,
  cycle_under_inverse_time,
  cycle_turns_axis,
  tapping_spindle_not_clockwise,
  cycle_spindle_off,
  cycle_under_compensation,
  // Zeros and machine coordinates
  work_offset_unknown,  // Code: G54 …
  system_number_faulty,
  zero_setting_of_no_kind,
  zero_setting_of_other_kind,  // Code
  zero_setting_of_no_system,
  zero_shift_without_axis,
  local_offset_without_axis,
  zero_set_where_tool_stands,
  machine_move_in_z,    // Length: Z in machine coordinates
  machine_move_in_xy,   // Axes
  machine_move_in_all,  // Axes
  axis_typed_as_code,   // Code: "G0.0", Code: G28
  machine_move_without_straight,
  // Cutter radius compensation
  compensated_inside_corner,
  compensated_corner_too_tight,  // Length: X, Length: Y, Length: the tool's radius
  compensation_entry_too_short,  // Length: the move, Length: the tool's radius
  compensated_arc_at_its_centre,
  compensated_arc_too_small,  // Length: the arc's radius, Length: the tool's
  compensation_entry_off_arc,
  compensation_off_xy_plane,
  compensation_tool_faulty,  // Text
  compensation_switched_while_on,
  compensation_on_already,
  code_under_compensation,        // Code
  compensation_diameter_unknown,  // Tool
  compensation_by_offset,         // Code, Tool: in the spindle
  // Subprograms
  end_within_subprogram,
  call_without_number,
  call_repeats_faulty,  // Text
  subprogram_missing,   // Code
  o_word_without_value,
  o_word_without_end,
  return_outside_subprogram,
  loop_end_alone,
  loop_left_from_outside,
  program_endless,
  // Any of these
  more_of_the_same,  // Count
};

inline constexpr std::size_t problem_kind_count = static_cast<std::size_t>(ProblemKind::more_of_the_same) + 1;

}  // namespace provecut
