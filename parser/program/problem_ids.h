// Every id that the program reader gives to a Problem, in one list: report/ makes a rule and a page of each.
#pragma once

#include <array>
#include <string_view>

namespace provecut {

struct ProblemId {
  std::string_view id;
  std::string_view summary;  // one sentence: the wrong state
  std::string_view what_to_do;
};

inline constexpr auto problem_ids = std::to_array<ProblemId>({
    // Text
    {"syntax", "Text that cannot be read as words, settings or comments.",
     "Correct the marked text, or export the program again with a post-processor that fits the machine."},
    {"unknown-code", "A G or M code that is not known here, so that what it does is not followed.",
     "Find the code in the machine's manual. If it moves the machine, nothing after it can be relied on."},
    {"not-followed", "Something the program asks for cannot be followed; the check is not complete.",
     "Export the program without it, or check what comes after it by hand."},
    {"beyond-standard", "Words that the published standard does not have.", "Make sure that the machine reads them."},
    {"comment-faulty", "A comment that is never closed, or holds another.",
     "Close each comment on its own line, without one inside another."},
    {"exponent-number", "A number written with an exponent, which many machines do not read.",
     "Export with a fixed number of decimals."},
    {"space-in-number", "Spaces stand between the digits of a number; by the standard they mean nothing.",
     "Check that one number is meant, and write it without spaces."},
    {"line-number-odd", "A line number that is too long, has a point, or does not stand first.",
     "Number the lines anew, or not at all."},
    {"checksum-wrong", "A line's checksum does not fit its text.",
     "Export the program again: it was changed or damaged."},
    {"percent-unpaired", "A % line without its partner.", "Put % on the first and on the last line, or on none."},
    {"end-missing", "The program ends without M2 or M30.", "End the program with M2 or M30."},
    {"block-delete", "Lines that begin with / are run or skipped as a switch of the machine has it.",
     "Check the program both ways, with --block-delete and without, or set the switch for certain."},
    {"text-after-end", "Lines stand after the end of the program; they are not run.",
     "Remove them, or move the end of the program."},
    {"limit-reached", "A loop, a repeat, a nesting or a line goes beyond what is followed here.",
     "Check the loop's end or the repeat count."},
    // Words
    {"word-unused", "A word that nothing on its line uses.", "Remove the word, or add the code that it belongs to."},
    {"word-twice", "The same letter stands twice on one line.", "Leave one of the two words."},
    {"word-missing", "A code stands without a word that it needs.", "Add the missing word."},
    {"word-out-of-range", "A word's value is outside what it may be.", "Correct the value."},
    {"word-negative", "A word below zero that must not be.", "Correct the value."},
    {"modal-conflict", "Two codes of one modal group stand on one line.",
     "Keep the one that is meant; machines differ in which of them they obey."},
    {"motion-mode-missing", "Axis words with no motion code in force.", "Put G0 or G1 on the line."},
    {"tool-number", "A T word whose number cannot be a tool.", "Correct the tool number."},
    {"length-offset-of-other-tool", "G43 takes the length of another tool than the one in the spindle.",
     "Make the H number that of the tool."},
    {"dwell-time-missing", "G4 without the time to wait.", "Give the seconds as P."},
    // Values
    {"expression", "A value that cannot be worked out.", "Correct the expression or the parameters that it uses."},
    {"parameter-unset", "A parameter is read that the program never set.",
     "Set it in the program, or make sure that the machine holds the right value."},
    // Moves
    {"feed-missing", "A feed move with no feed in force.", "Put an F word at or before the first feed move."},
    {"feed-missing-inverse-time", "A feed move under G93 without its own F.", "Give each feed move its F, or use G94."},
    {"feed-from-other-tool", "A tool cuts at the feed that was set for the one before it.",
     "Put an F word after the tool change."},
    {"position-unknown", "The program cuts at, or moves by increments from, a place that it did not set.",
     "Start with an absolute rapid to a known place."},
    {"repeated-point", "Feed moves that end where the tool stands already.",
     "Nothing, unless a coordinate is missing."},
    {"incremental-at-end", "The program ends with G91 in force.", "End the program with G90, or with M2 or M30."},
    {"arc-radius", "The start and the end of an arc do not lie on one circle about its centre.",
     "Check whether the program gives arc centres the way the machine reads them, and export with more decimals."},
    {"arc-radius-too-short", "An arc's radius is shorter than half the way between its ends.",
     "Correct the radius or the end."},
    {"arc-faulty", "An arc without a radius.", "Correct the arc's centre or radius."},
    {"arc-centre-missing", "An arc without centre and radius words.", "Add I, J, K or R, or set G1."},
    {"arc-ends-at-start", "An arc by radius that ends where it starts: where its centre lies is open.",
     "Give the centre by I, J or K."},
    {"arc-two-formats", "An arc with both a radius and centre words.", "Leave one of them."},
    {"arc-whole-circle-doubt", "A whole circle where the path's other arcs are tiny.",
     "Export with more decimals if a tiny arc was meant."},
    {"radius-format-doubt", "An arc by radius so near to a whole circle that rounding moves its centre.",
     "Give the arc by its centre."},
    {"probe-assumed", "A probing move; where it stops is decided at the machine.",
     "Check what follows from the probed value by hand."},
    {"probe-faulty", "A probing move where the standard forbids it.", "Correct the line or what is in force on it."},
    // Cycles
    {"cycle-without-depth", "A canned cycle without its depth or its R.",
     "Give the depth and R on the cycle's first line."},
    {"cycle-r-below-depth", "A canned cycle whose R lies below its bottom.", "Correct R or the depth; mind G91."},
    {"cycle-repeats", "A canned cycle whose L is no whole number above zero.", "Correct L."},
    {"cycle-dwell", "A canned cycle whose time to wait is missing or below zero.", "Correct P."},
    {"cycle-peck", "A pecking cycle without a depth for each peck.", "Give Q, above zero."},
    {"cycle-in-wrong-mode", "A canned cycle under G93 or with a rotary axis.", "Use G94, and X, Y and Z alone."},
    {"cycle-spindle", "A canned cycle that needs the spindle to turn otherwise.",
     "Start the spindle before the cycle, the right way round."},
    // Zeros and machine coordinates
    {"work-offset-unknown", "A work offset is used whose place relative to the job's zero is not known.",
     "Give the offset in the job file, or use one work offset for the job."},
    {"system-number", "A number that is no work offset's.", "Set #5220 to a whole number from 1 to 9."},
    {"zero-setting-faulty", "G10 without the words that say which zero it sets.",
     "Give L2 and P, a whole number from 1 to 9."},
    {"zero-shift-without-axis", "G92 without an axis word.", "Name the axes, or remove the line."},
    {"zero-set-by-program", "G92 or G10 sets the zero where the tool happens to stand.",
     "Make sure that the tool stands at the job's zero when the program starts."},
    {"machine-move", "A move in machine coordinates; where it ends is not known without zero_in_machine.",
     "Give zero_in_machine in the job file, or make sure that the way there is free."},
    {"machine-move-mode", "G53 where neither G0 nor G1 is in force.", "Put G0 or G1 on the line."},
    // Cutter radius compensation
    {"compensation-faulty", "Cutter radius compensation that cannot be carried out.",
     "Correct the path, or export with compensation done in the drawing."},
    {"compensation-misplaced", "A code that must not stand with cutter radius compensation as it is.",
     "Put G40 before it."},
    {"compensation-diameter-unknown", "Cutter radius compensation for a tool whose diameter is not known.",
     "Define the tool in the job file."},
    // Subprograms
    {"subprogram-faulty", "A subprogram or a loop that cannot be carried out as written.",
     "Correct the call or the structure."},
    {"endless-program", "M99 outside a subprogram: the program starts again without end.",
     "End it with M2 or M30 if one run is meant."},
    // Refused by the standard and taken by common practice: only when reading strictly
    {"line-over-256", "A line longer than the standard's 256 characters.", "Break the line up."},
    {"line-number-refused", "A line number that the standard refuses.", "Give one to five digits, first on the line."},
    {"comment-refused", "A comment that the standard refuses.",
     "Close each comment on its own line, without one inside another."},
    {"percent-refused", "A % line without its partner, which the standard refuses.",
     "Put % on the first and on the last line, or on none."},
    {"end-refused", "A program with neither M2 or M30 nor % lines around it, which the standard refuses.",
     "End the program with M2 or M30."},
    {"word-refused", "A word that nothing on its line uses, which the standard refuses.", "Remove the word."},
    {"m-words-too-many", "More than four M words on one line.", "Break the line up."},
    {"axis-word-missing", "A motion code without an axis word.", "Add an axis word, or remove the code."},
    {"axis-words-claimed-twice", "Two codes on one line that both use its axis words.", "Put them on two lines."},
    {"arc-end-missing", "An arc without an end word of its plane.", "Give the end, even where it is the start."},
    {"cycle-without-position", "A canned cycle without an axis word.", "Give the place of the hole."},
    {"length-offset-missing", "G43 without the number of a length offset.", "Give H."},
});

}  // namespace provecut
