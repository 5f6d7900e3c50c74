#include "report/findings/problem_sentences.h"

#include <fmt/args.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <type_traits>
#include <vector>

#include "parser/base/units.h"
#include "report/base/dimension_text.h"
#include "report/base/number_text.h"
#include "report/base/wording.h"

namespace provecut {

namespace {

// {0}, {1} … are the problem's facts.
struct Sentence {
  ProblemKind kind;
  std::string_view message, assumed, help;
};

constexpr std::string_view skipped_word = "skipped, the rest of the line was read";
constexpr std::string_view usual_reading = "read as most machines do";
constexpr std::string_view no_line_numbers = "line numbers do nothing here";
constexpr std::string_view time_unknown = "the path was checked, its time is unknown";
constexpr std::string_view last_place = "taken to be the last known one (at the start X0 Y0 with Z fully up)";
constexpr std::string_view start_known = "Start with G90 and a rapid (G0) to a known Z, then to a known X and Y.";
constexpr std::string_view give_zero =
    "Give zero_in_machine for this setup in the job file, or check by hand that the way is clear.";
constexpr std::string_view raise_first =
    "Raise Z alone first, on its own line (G91 G28 Z0, then G90). Or give zero_in_machine in the job file.";
constexpr std::string_view correct_expression = "Correct the expression, or the parameters in it.";
constexpr std::string_view after_cycle =
    "Add G0 or G1 to the line. Some controllers go on with the G0 or G1 from before the cycle, others stop here.";
constexpr std::string_view not_followed_here = "Export the program without it, or check by hand what comes after it.";
constexpr std::string_view arc_as_written = "followed around its centre to the end point as written";
constexpr std::string_view radii_differ = "the arc's radius is {0} at its start but {1} at its end";

// One row for each kind, in their order.
constexpr std::array<Sentence, problem_kind_count> sentences{{
    {ProblemKind::unknown_letter, "{0} is not G-code: no word starts with this letter", skipped_word,
     "Delete it, or correct the letter."},
    {ProblemKind::letter_without_value, "{0} is a letter without a number", skipped_word,
     "Add the number, or delete the letter."},
    {ProblemKind::not_a_number, "{0} is not a number", skipped_word, "Correct the number."},
    {ProblemKind::comma_in_number, "{0} is not a number (comma for a point?)", skipped_word,
     "Write decimals with a point. If the export uses commas, change that setting and export again."},
    {ProblemKind::expression_unreadable, "{0} is not a complete expression", skipped_word,
     "Check its brackets and operators."},
    {ProblemKind::unknown_function, "{0} calls a function that does not exist", skipped_word,
     "Correct the function's name."},
    {ProblemKind::half_arc_tangent, "{0} is only half an arc tangent", skipped_word,
     "ATAN takes two parts: ATAN[a]/[b]."},
    {ProblemKind::stray_character, "{0} is not G-code (no word, setting or comment)", skipped_word,
     "Delete it, or put it in a comment."},
    {ProblemKind::stray_bracket, "{0} is a bracket without its partner", skipped_word,
     "Add the missing bracket, or delete this one."},
    {ProblemKind::stray_slash, "{0} is out of place: a slash goes first on a line, or divides inside brackets",
     skipped_word, "Delete it, or put the division in brackets."},
    {ProblemKind::setting_unreadable, "{0} is not a complete parameter setting", skipped_word,
     "A setting reads #101=5."},
    {ProblemKind::line_number_without_digits, "{0} is not a line number: N takes one to five digits", skipped_word,
     "Correct the number, or delete it."},
    {ProblemKind::control_character, "{0} is a control character", skipped_word,
     "Export the program again, or save it as plain text."},
    {ProblemKind::text_after_percent, "{0} follows a % on the same line", "skipped", "Leave % alone on its line."},
    {ProblemKind::not_standard, "{0} is not in the published standard", usual_reading,
     "Rewrite it, or check without --strict."},
    {ProblemKind::comment_not_standard, "the standard does not allow the comment {0}", usual_reading,
     "Close each comment on its own line, without another ( inside."},
    {ProblemKind::line_number_not_standard, "the standard does not allow the line number {0}", "skipped",
     "Use one to five digits, first on the line."},
    {ProblemKind::comment_unclosed, "the comment {0} is never closed", "it ends with its line here",
     "Close it. Some machines treat everything after it as a comment."},
    {ProblemKind::comment_nested, "the comment {0} has another ( inside", "all of it was read as a comment",
     "Remove the inner brackets. Some machines end the comment at the first )."},
    {ProblemKind::exponent, "{0} has an exponent", "read as that number",
     "Export with fixed decimals. Many machines stop here, or read another number."},
    {ProblemKind::space_in_number, "{0} has spaces inside the number", "ignored, as the standard says",
     "Check that it is one number, and write it without spaces."},
    {ProblemKind::sign_before_value, "a sign before a parameter or an expression is not in the standard",
     "read as written", "Check that your machine reads it."},
    {ProblemKind::colon_first, "a colon at the start of a line is not in the standard", "skipped",
     "Check that your machine reads it."},
    {ProblemKind::end_of_file_mark, "the file ends with Ctrl-Z or NUL characters", "skipped",
     "Nothing, unless your machine complains."},
    {ProblemKind::inch_by_older_code, "{0} is an older code for inches", "read as G20",
     "Use G20. Some machines read {0} as a cycle."},
    {ProblemKind::mm_by_older_code, "{0} is an older code for millimetres", "read as G21",
     "Use G21. Some machines read {0} as a cycle."},
    {ProblemKind::line_number_long, "the line number {0} has a point, or more digits than some machines read",
     no_line_numbers, "Renumber the lines, or leave the numbers out."},
    {ProblemKind::line_number_not_first, "the line number {0} is not first on its line", no_line_numbers,
     "Put it first, or leave it out."},
    {ProblemKind::checksum_wrong, "the checksum {0} does not match the line", "the line was read anyway",
     "Export again: the program was changed or damaged."},
    {ProblemKind::percent_only_closes, "a % line ends the program, but none starts it", "the program ends here",
     "Put % on the first line too, or remove this one."},
    {ProblemKind::percent_ends_program, "the program has no M2 or M30, and a % line that none starts ends it",
     "the program ends here", "Put M2 or M30 before this line, and % on the first line too."},
    {ProblemKind::percent_only_opens, "this % has no second one at the end of the program", "it ends with the file",
     "Put % on the last line too, or remove this one."},
    {ProblemKind::end_missing, "the program has no M2 or M30", "it ends with the file",
     "End the program with M2 or M30."},
    {ProblemKind::line_over_256, "the line has {0} characters; the standard allows 256", "read in full",
     "Break the line up."},
    {ProblemKind::block_delete_run, "the machine's block-delete switch decides if lines with / are run",
     "they were run", "Check the program with --block-delete too."},
    {ProblemKind::block_delete_skipped, "the machine's block-delete switch decides if lines with / are run",
     "they were skipped", "Check the program without --block-delete too."},
    {ProblemKind::words_after_end, "there are lines after the end of the program", "not run",
     "Delete them, or move the M2 or M30 down."},
    {ProblemKind::incremental_at_end,
     "the program ends with G91 (incremental) still on",
     {},
     "End with G90. The next program may otherwise read its coordinates as increments."},
    {ProblemKind::rotary_axis, "the program turns a rotary axis (A, B or C)", "only X, Y and Z were followed",
     "Check the rotary moves by hand."},
    {ProblemKind::statement_skipped, "{0} is for the controller: a message, a log or a setting",
     "skipped; it moves nothing", "Delete it if your controller stops there."},
    {ProblemKind::statement_not_followed, "provecut does not follow {0}", "skipped; the check is not complete",
     not_followed_here},
    {ProblemKind::homing, "{0} sends the machine home", "provecut does not know where that is in X and Y",
     "Delete it if your controller stops there, and home by hand."},
    {ProblemKind::code_not_followed, "provecut does not follow {0}", "skipped; the check is not complete",
     not_followed_here},
    {ProblemKind::path_not_followed,
     "provecut does not follow {0}: its path between its start and its end was not checked",
     "taken as a straight feed to the place on its line", not_followed_here},
    {ProblemKind::cycle_not_followed,
     "provecut does not follow {0}: what it cuts was not checked, and where it leaves the tool is not known",
     "the tool was left where it was", not_followed_here},
    {ProblemKind::frame_not_followed, "provecut does not follow {0}: it changes what the coordinates after it mean",
     "they were read as before it; the check is not complete", not_followed_here},
    {ProblemKind::named_parameter, "{0}: provecut does not follow named parameters",
     "skipped; the check is not complete", not_followed_here},
    {ProblemKind::parameter_beyond_limit, "{0}: provecut does not follow parameters above #5428",
     "skipped; the check is not complete", not_followed_here},
    {ProblemKind::machine_function, "{0} switches something on the machine and moves no axis", "skipped",
     "Delete it if your machine does not have it."},
    {ProblemKind::machine_function_unknown,
     "{0} is a code that only some machines have; provecut does not know what it does",
     "skipped, as M codes seldom move an axis",
     "Look it up in the machine's manual. Delete it if your machine does not have it."},
    {ProblemKind::line_too_long, "the line has {0} characters, too many to read", "skipped",
     "Check that this is a G-code file."},
    {ProblemKind::too_many_moves, "the program makes more than {0} moves", "the rest was not checked",
     "Check its loops and repeats, or split it."},
    {ProblemKind::too_many_lines_repeated, "loops and calls repeat more than {0} lines; they may never end",
     "the rest was not checked", "Check the condition that ends the loop."},
    {ProblemKind::nested_too_deep, "calls and loops go more than {0} levels deep", "the call was skipped",
     "Check for a subprogram that calls itself."},
    {ProblemKind::too_many_repeats, "{0} repeats too often", "the first {1} were checked",
     "Correct the number of repeats."},
    {ProblemKind::too_many_pecks, "this Q needs more than {0} pecks", "the hole was drilled in one go",
     "Use a larger Q."},
    {ProblemKind::unknown_code, "{0} is not a known code", "skipped; what it does was not checked",
     "Look it up in the machine's manual. If it moves the machine, nothing after it can be relied on."},
    {ProblemKind::line_number_as_m, "{0} is not a known code (the line has no number: {1} meant?)",
     "skipped; what it does was not checked", "If so, write {1}. Otherwise look {0} up in the machine's manual."},
    {ProblemKind::word_unused, "nothing on this line uses {1}", "skipped",
     "Delete it, or add the code that it belongs to."},
    {ProblemKind::word_twice, "{0} is on this line twice: {1} and {2}", "the last one counts", "Delete one of them."},
    {ProblemKind::value_beyond_machine, "{0} is far beyond any machine", "skipped", "Correct the number."},
    {ProblemKind::turns_faulty, "{0} is not a number of turns", "one turn was taken", "Use a whole number from 1 up."},
    {ProblemKind::feed_negative, "{0} is a feed rate below zero", "the feed before it stays", "Correct the feed."},
    {ProblemKind::speed_negative, "{0} is a spindle speed below zero", "the speed before it stays",
     "Correct the speed. M4 turns the spindle the other way."},
    {ProblemKind::dwell_negative, "{0} is a dwell time below zero", "no dwell was taken", "Correct the time."},
    {ProblemKind::tolerance_negative, "{0} is a path tolerance below zero", "skipped", "Correct the tolerance."},
    {ProblemKind::codes_exclude_each_other, "{0} and {1} are on one line, and only one can be in force",
     "the last one counts", "Keep the one you mean. Machines differ here."},
    {ProblemKind::too_many_m_words, "more than four M codes on one line", "all of them were run", "Break the line up."},
    {ProblemKind::tool_number_faulty, "{0} is not a tool number", "skipped", "Use a whole number."},
    {ProblemKind::tool_with_offset, "{0} may be tool {1} with offset {2}",
     "read so, as there is a tool {1} here and no tool {3}; some machines read tool {3}",
     "Check which tool your machine takes for {0}."},
    {ProblemKind::tool_or_offset, "{0} may be tool {1} with offset {2}", "read as tool {3}; machines differ",
     "Check which tool your machine takes for {0}. If it is tool {1}, give that tool the number {1} here."},
    {ProblemKind::length_of_other_tool, "{0} calls another tool's length, but {1} is in the spindle",
     "the length of the tool in the spindle was used",
     "Make the H number match the tool. Otherwise the tip is off by the difference in length."},
    {ProblemKind::length_of_no_tool, "{0} does not match {1} in the spindle; before, H and T were the same",
     "the length of the tool in the spindle was used",
     "Make the H number match the tool, or check this offset at the machine."},
    {ProblemKind::length_offset_unnamed, "G43 without H", "the tool's own length was used",
     "Add H with the tool's number."},
    {ProblemKind::length_offset_faulty, "{0} is not the number of a length offset", "the tool's own length was used",
     "Use the tool's number."},
    {ProblemKind::dwell_time_missing, "G4 without P", "no dwell was taken", "Add P with the seconds to wait."},
    {ProblemKind::motion_without_axis, "{0} without an axis word", "nothing moves; the code stays on",
     "Add X, Y or Z, or delete the code."},
    {ProblemKind::probe_without_axis, "{0} without an axis word", "nothing moves; the code stays on", "Add X, Y or Z."},
    {ProblemKind::cycle_without_axis, "{0} without an axis word", "no hole was drilled; the code stays on",
     "Add the hole's position."},
    {ProblemKind::arc_without_axis, "{0} without an end point", "nothing moves; the code stays on",
     "Add the end point, even where it is the start."},
    {ProblemKind::machine_move_without_axis, "G53 without an axis word", "nothing moves",
     "Add X, Y or Z, or delete G53."},
    {ProblemKind::axis_words_claimed_twice, "{0} and {1} both use the axis words on this line", "{1} takes them",
     "Put the two codes on two lines."},
    {ProblemKind::motion_mode_missing, "axis words, but no motion code is on", "skipped", "Add G0 or G1 to the line."},
    {ProblemKind::motion_mode_rapid_assumed, "axis words after G80, with no motion code since",
     "read as a rapid (G0), the motion before the cycle", after_cycle},
    {ProblemKind::motion_mode_feed_assumed, "axis words after G80, with no motion code since",
     "read as a feed (G1), the motion before the cycle", after_cycle},
    {ProblemKind::motion_mode_none_before, "axis words after G80, before any motion code",
     "read as a rapid (G0), as most controllers do", "Put G0 on the line. Some controllers stop here with an error."},
    {ProblemKind::parameter_number_faulty, "{0} needs a parameter number from 1 to 5399", "skipped",
     "Correct the number."},
    {ProblemKind::division_by_zero, "{0} divides by zero", "skipped", correct_expression},
    {ProblemKind::root_of_negative, "{0} takes the square root of a number below zero", "skipped", correct_expression},
    {ProblemKind::logarithm_of_not_positive, "{0} takes the logarithm of a number that is not above zero", "skipped",
     correct_expression},
    {ProblemKind::arc_function_beyond_one, "{0} takes ACOS or ASIN of a number beyond 1", "skipped",
     correct_expression},
    {ProblemKind::power_of_negative, "{0} raises a number below zero to a fraction", "skipped", correct_expression},
    {ProblemKind::result_too_large, "{0} gives too large a number", "skipped", correct_expression},
    {ProblemKind::parameter_unset, "parameter {0} is used but never set",
     "0 was taken; the machine may hold another value", "Set it in the program, or check its value on the machine."},
    {ProblemKind::feed_zero, "cutting move at feed rate 0 (F0)", time_unknown, "Set an F above 0 on this line."},
    {ProblemKind::feed_unset, "cutting move with no feed rate set", time_unknown, "Set F on this line or before it."},
    {ProblemKind::feed_per_turn_without_speed, "cutting move in feed per revolution (G95) with no spindle speed set",
     time_unknown, "Set S on this line or before it."},
    {ProblemKind::feed_missing_inverse_time, "cutting move without its own F under G93 (inverse time)",
     "the last F was taken", "Give every cutting move its F, or use G94."},
    {ProblemKind::feed_from_other_tool, "{0} cuts at the feed set for the tool before it", "that feed was taken",
     "Set F after the tool change."},
    {ProblemKind::cut_at_unknown_place, "cutting move from an unknown position in {0}", last_place, start_known},
    {ProblemKind::increment_from_unknown_place, "incremental move (G91) from an unknown position in {0}", last_place,
     start_known},
    {ProblemKind::arc_radii_differ, radii_differ, arc_as_written, "Check I, J and K, or export with more decimals."},
    {ProblemKind::arc_radii_differ_unless_incremental, radii_differ, arc_as_written,
     "With centres from the start (G91.1) the radii agree: is G91.1 missing?"},
    {ProblemKind::arc_radii_differ_unless_absolute, radii_differ, arc_as_written,
     "With absolute centres (G90.1) the radii agree: is G90.1 missing?"},
    {ProblemKind::arc_radius_too_short, "the arc's radius {0} is too short to reach its end: at least {1}",
     "a half circle was taken", "Make R {1} or more, or correct the end point."},
    {ProblemKind::arc_radius_zero, "the arc's radius is 0", "a straight move was taken", "Correct R."},
    {ProblemKind::arc_centre_at_start, "the arc's centre is its start, so it has no radius",
     "a straight move was taken", "Correct I, J and K."},
    {ProblemKind::arc_without_centre, "an arc without a centre or a radius", "a straight move was taken",
     "Add I, J, K or R, or use G1."},
    {ProblemKind::arc_by_radius_ends_at_start, "an arc with R that ends where it starts: its centre could be anywhere",
     "only its Z move was taken", "Give the centre with I, J or K."},
    {ProblemKind::arc_with_radius_and_centre, "the arc has both R and a centre", "R was used", "Keep one of them."},
    {ProblemKind::arc_by_radius_nearly_full, "nearly a whole circle by R: the last decimals decide where its centre is",
     "followed as written", "Give the centre with I, J or K."},
    {ProblemKind::arc_without_end, "an arc without an end point in its plane", "a whole circle was taken",
     "Give the end point, even where it is the start."},
    {ProblemKind::tiny_arc_ends_at_start, "this arc is a whole circle; the arc before it is short",
     "the whole circle was followed", "If a tiny arc was meant, export with more decimals."},
    {ProblemKind::tiny_arc_ends_behind_start,
     "this arc ends {0} past its start, so it is a whole circle; the arc before it is short",
     "the whole circle was followed", "If a tiny arc was meant, export with more decimals."},
    {ProblemKind::probe_touches_at, "a probing move stops where the probe touches", "taken to touch at Z {0}",
     "Check by hand what the program does with the probed height."},
    {ProblemKind::probe_reaches_end, "a probing move stops where the probe touches", "taken to its end",
     "Check by hand what the program does with the probed point."},
    {ProblemKind::probe_under_compensation, "probing with cutter radius compensation on", "followed to its end",
     "Put G40 before it."},
    {ProblemKind::probe_under_inverse_time, "probing under G93 (inverse time)", "followed to its end",
     "Put G94 before it."},
    {ProblemKind::probe_turns_axis, "probing with a rotary axis", "followed to its end",
     "Probe with X, Y and Z alone."},
    {ProblemKind::probe_too_short, "the probing move is shorter than 0.254 mm (0.01 in)", "followed to its end",
     "Start farther away."},
    {ProblemKind::cycle_without_depth, "a canned cycle without its depth ({0})", "skipped",
     "Give the depth on the cycle's first line."},
    {ProblemKind::cycle_without_r, "a canned cycle without R", "the present height was taken",
     "Give R on the cycle's first line."},
    {ProblemKind::cycle_r_below_bottom, "the cycle's R ({0}) is below its bottom ({1})", "followed as written",
     "Correct R or the depth. Under G91 both are increments."},
    {ProblemKind::cycle_kept_as_increments,
     "G91 within a cycle: R and depth of the lines before count from the tool's height here, so the holes end at "
     "height {0}; other controllers keep the old places and drill to height {1}",
     "followed as increments, as the standard says",
     "Put R and the depth on this line again, or give every hole its X and Y under G90."},
    {ProblemKind::cycle_repeats_zero, "{0} is not a number of holes", "no hole was drilled",
     "Use a whole number from 1 up."},
    {ProblemKind::cycle_repeats_faulty, "{0} is not a number of holes", "one hole was drilled",
     "Use a whole number from 1 up."},
    {ProblemKind::cycle_dwell_negative, "the cycle's dwell time P is below zero", "no dwell was taken", "Correct P."},
    {ProblemKind::cycle_dwell_missing, "a cycle with a dwell, but no P", "no dwell was taken",
     "Add P with the seconds to wait."},
    {ProblemKind::cycle_without_peck, "a pecking cycle without Q", "the hole was drilled in one go",
     "Give Q, the depth of one peck."},
    {ProblemKind::cycle_under_inverse_time, "a canned cycle under G93 (inverse time)", time_unknown,
     "Put G94 before it."},
    {ProblemKind::cycle_turns_axis, "a canned cycle with a rotary axis", "only X, Y and Z were followed",
     "Use X, Y and Z alone."},
    {ProblemKind::tapping_spindle_not_clockwise, "tapping (G84) starts with the spindle not turning clockwise",
     "the moves were followed", "Put M3 before it."},
    {ProblemKind::cycle_spindle_off, "the cycle starts with the spindle off", "the moves were followed",
     "Put M3 before it."},
    {ProblemKind::cycle_under_compensation, "a canned cycle with cutter radius compensation on",
     "compensation ends before it", "Put G40 before it."},
    {ProblemKind::work_offset_unknown, "the place of {0} is unknown", "checked as if {0} were the work zero",
     "Give {0} under [setup.offsets] in the job file."},
    {ProblemKind::system_number_faulty, "#5220 must be 1 to 9", "the work offset stays",
     "Use a whole number from 1 to 9."},
    {ProblemKind::zero_setting_of_no_kind, "G10 without L", "skipped", "Set zeros with L2 or L20, or in the job file."},
    {ProblemKind::zero_setting_of_other_kind, "provecut does not follow {0}, only G10 L2 and G10 L20",
     "skipped; the check is not complete", "Set zeros with L2 or L20, or in the job file."},
    {ProblemKind::zero_setting_of_no_system, "G10 without P from 1 to 9", "skipped",
     "Name the work offset with P, from 1 to 9."},
    {ProblemKind::zero_shift_without_axis, "G92 without an axis word", "nothing was set",
     "Add X, Y or Z, or delete the line."},
    {ProblemKind::local_offset_without_axis, "G52 without an axis word", "nothing was set; the local zero stays",
     "Add X, Y or Z, or delete the line. G52 X0 Y0 Z0 ends a local zero."},
    {ProblemKind::zero_set_where_tool_stands, "the program sets its zero wherever the tool happens to be",
     "the job's work zero was taken", "Make sure the tool is at the job's zero before Start."},
    {ProblemKind::machine_move_in_z, "a move to Z {0} in machine coordinates, well below the machine's own zero",
     "taken to rise to the top of the travel", give_zero},
    {ProblemKind::machine_move_in_xy,
     "a move sideways in machine coordinates (G53, G28, G30), at the height of the last move",
     "where it ends in {0} is not known and was not checked", raise_first},
    {ProblemKind::machine_move_in_all, "a move in Z and sideways at once, in machine coordinates (G53, G28, G30)",
     "taken to rise to the top of the travel; where it ends in {0} is not known and was not checked", raise_first},
    {ProblemKind::axis_typed_as_code, "{0} is read as a code, and {1} has no axis (Z0.0 meant?)", "all axes go home",
     "If so, write Z0.0. Otherwise name the axes that are to go home."},
    {ProblemKind::machine_move_without_straight, "G53 works with G0 and G1 only", "a rapid was taken",
     "Add G0 or G1 to the line."},
    {ProblemKind::compensated_inside_corner,
     "the standard does not allow an inside corner with cutter radius compensation on",
     "the corner is cut where both paths cross", "Round the corner, or compensate in CAM."},
    {ProblemKind::compensated_corner_too_tight,
     "the inside corner at X {0} Y {1} is too tight for a cutter of radius {2}",
     "the tool goes straight across and cuts into the corner",
     "Give the corner a radius of {2} or more, or use a smaller cutter."},
    {ProblemKind::compensation_entry_too_short,
     "the first compensated move is {0}, shorter than the cutter's radius of {1}", "followed without compensation",
     "Start at least {1} from the part."},
    {ProblemKind::compensated_arc_at_its_centre, "a compensated arc starts or ends at its own centre",
     "the tool goes straight to its end", "Correct I, J and K."},
    {ProblemKind::compensated_arc_too_small,
     "the arc's radius of {0} is too small for a cutter of radius {1} on its inside",
     "the tool goes straight to the arc's centre",
     "Use a cutter of radius {0} or less, or an arc of radius {1} or more."},
    {ProblemKind::compensation_entry_off_arc, "compensation cannot start on this arc: the cutter does not touch it",
     "the tool goes straight to the arc's end", "Start compensation on a straight line."},
    {ProblemKind::compensation_off_xy_plane, "cutter radius compensation works in the XY plane only", "it stays off",
     "Put G17 before it."},
    {ProblemKind::compensation_tool_faulty, "{0} is not a tool number", "the tool in the spindle was taken",
     "Use a whole number."},
    {ProblemKind::compensation_switched_while_on, "cutter radius compensation is already on",
     "it was switched; the next move brings the tool to the path again", "Put G40 before it."},
    {ProblemKind::compensation_on_already, "cutter radius compensation is already on", "it stays on",
     "Delete this code, or put G40 before it."},
    {ProblemKind::code_under_compensation, "{0} with cutter radius compensation on", "compensation ends before it",
     "Put G40 and a move away from the part before this line."},
    {ProblemKind::compensation_diameter_unknown, "cutter radius compensation, but the diameter of {0} is unknown",
     "the tool follows the path as written", "Define the tool in the job file."},
    {ProblemKind::compensation_by_offset, "{0} is an offset at the machine, not a tool of this job",
     "the diameter of {1} was taken",
     "Make sure that this offset holds the cutter's radius, or its diameter, as your machine wants it."},
    {ProblemKind::end_within_subprogram, "the program ends inside a subprogram or loop", "it ends here",
     "Add the missing end."},
    {ProblemKind::call_without_number, "M98 without P", "the call was skipped", "Add P with the subprogram's number."},
    {ProblemKind::call_repeats_faulty, "{0} is not a number of calls", "one call", "Use a whole number."},
    {ProblemKind::subprogram_missing, "subprogram {0} is not in this file", "the call was skipped",
     "Put the subprogram in this file."},
    {ProblemKind::o_word_without_value, "this O word needs a value in brackets", "0 was taken",
     "Add the value: O1 if [#1 GT 0]."},
    {ProblemKind::o_word_without_end, "this O word has no end in this file", "the lines after it were run",
     "Add its end: endsub, endif, endwhile or endrepeat."},
    {ProblemKind::return_outside_subprogram, "a return outside a subprogram", "skipped", "Delete it."},
    {ProblemKind::loop_end_alone, "the end of a loop that never began", "skipped",
     "Delete it, or add the loop's first line."},
    {ProblemKind::loop_left_from_outside, "break or continue outside its loop", "skipped", "Delete it."},
    {ProblemKind::program_endless, "M99 outside a subprogram starts the program again, forever", "followed once",
     "End with M2 or M30 if one run is meant."},
    {ProblemKind::more_of_the_same, "{0} more like this from here on", {}, {}},
}};

constexpr bool everyKindHasItsRow() {
  for (std::size_t i = 0; i < sentences.size(); ++i) {
    if (static_cast<std::size_t>(sentences[i].kind) != i) return false;
  }
  return true;
}
static_assert(everyKindHasItsRow());

std::string axesText(const fact::Axes& axes) {
  std::vector<std::string> letters;
  if (axes.x) letters.emplace_back("X");
  if (axes.y) letters.emplace_back("Y");
  if (axes.z) letters.emplace_back("Z");
  return listText(letters);
}

std::string textOf(const Fact& fact, const Job& job) {
  return std::visit(
      [&](const auto& f) -> std::string {
        using Kind = std::decay_t<decltype(f)>;
        if constexpr (std::is_same_v<Kind, fact::Text>) return fmt::format("\"{}\"", f.text);
        if constexpr (std::is_same_v<Kind, fact::Code>) return f.text;
        if constexpr (std::is_same_v<Kind, fact::Length>) {
          // As finely as a position: an arc's radii differ by little.
          return fmt::format("{} {}", positionText(job, f.mm), lengthUnit(job));
        }
        if constexpr (std::is_same_v<Kind, fact::Count>) return withThousands(std::to_string(f.count));
        if constexpr (std::is_same_v<Kind, fact::Axes>) return axesText(f);
        if constexpr (std::is_same_v<Kind, fact::Tool>) return toolText(job, f.number);
        if constexpr (std::is_same_v<Kind, fact::Parameter>) return fmt::format("#{}", f.number);
      },
      fact);
}

std::string_view messageOf(const Problem& problem) {
  const Fact* first = problem.facts.empty() ? nullptr : &problem.facts.front();
  const auto* text = first ? std::get_if<fact::Text>(first) : nullptr;
  if (problem.kind == ProblemKind::unknown_letter && text &&
      (text->text.starts_with('O') || text->text.starts_with('o')))
    return "{0} is out of place (letter O for a zero?)";
  return sentences[static_cast<std::size_t>(problem.kind)].message;
}

// What to do where programs come without a job file, as far as it is something else.
struct HelpWithoutJobFile {
  ProblemKind kind;
  std::string_view help;
};
constexpr std::string_view clear_by_hand =
    "Check by hand that the way is clear. Or write a job file with zero_in_machine.";
constexpr std::string_view raise_first_by_hand = "Raise Z alone first, on its own line (G91 G28 Z0, then G90).";
constexpr auto helps_without_job_file = std::to_array<HelpWithoutJobFile>({
    {ProblemKind::machine_move_in_z, clear_by_hand},
    {ProblemKind::machine_move_in_xy, raise_first_by_hand},
    {ProblemKind::machine_move_in_all, raise_first_by_hand},
    {ProblemKind::work_offset_unknown, "Use one work offset. Or write a job file with {0} under [setup.offsets]."},
    {ProblemKind::compensation_diameter_unknown, "Give the tool with --tool."},
});

std::string_view helpOf(ProblemKind kind, bool with_job_file) {
  const auto other = std::find_if(helps_without_job_file.begin(), helps_without_job_file.end(),
                                  [&](const HelpWithoutJobFile& h) { return h.kind == kind; });
  if (!with_job_file && other != helps_without_job_file.end()) return other->help;
  return sentences[static_cast<std::size_t>(kind)].help;
}

}  // namespace

ProblemSentence sentenceOf(const Problem& problem, const Job& job) {
  fmt::dynamic_format_arg_store<fmt::format_context> facts;
  for (const Fact& fact : problem.facts) facts.push_back(textOf(fact, job));
  const Sentence& s = sentences[static_cast<std::size_t>(problem.kind)];
  const auto filled = [&](std::string_view text) { return fmt::vformat(text, facts); };
  return {filled(messageOf(problem)), filled(s.assumed), filled(helpOf(problem.kind, !job.file.empty()))};
}

std::string problemText(const Problem& problem, const Job& job) {
  const ProblemSentence s = sentenceOf(problem, job);
  return s.assumed.empty() ? s.message : fmt::format("{}; {}", s.message, s.assumed);
}

std::string_view otherWordText(ProblemKind kind) {
  return kind == ProblemKind::word_twice ? "the first one" : "the other code";
}

}  // namespace provecut
