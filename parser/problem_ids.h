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
    {"syntax", "Text that cannot be read as words, settings or comments.",
     "Correct the marked text, or export the program again with a post-processor that fits the machine."},
    {"unknown-code", "A G or M code that is not known here, so that what it does is not followed.",
     "Find the code in the machine's manual. If it moves the machine, nothing after it can be relied on."},
    {"not-followed", "Something the program asks for cannot be followed; the check is not complete.",
     "Export the program without it, or check what comes after it by hand."},
    {"word-unused", "A word that nothing on its line uses.", "Remove the word, or add the code that it belongs to."},
    {"word-twice", "The same letter stands twice on one line.", "Leave one of the two words."},
    {"word-missing", "A code stands without a word that it needs.", "Add the missing word."},
    {"word-out-of-range", "A word's value is outside what it may be.", "Correct the value."},
    {"modal-conflict", "Two codes of one modal group stand on one line.",
     "Keep the one that is meant; machines differ in which of them they obey."},
    {"arc-radius", "The start and the end of an arc do not lie on one circle about its centre.",
     "Check whether the program gives arc centres the way the machine reads them, and export with more decimals."},
    {"arc-faulty", "An arc that cannot be drawn as written.", "Correct the arc's end, centre or radius."},
    {"feed-missing", "A feed move with no feed in force.", "Put an F word at or before the first feed move."},
    {"cycle-faulty", "A canned cycle with words that contradict each other or are missing.", "Correct the cycle's words."},
    {"work-offset-unknown", "A work offset is used whose place relative to the job's zero is not known.",
     "Give the offset in the job file, or use one work offset for the job."},
    {"machine-move", "A move in machine coordinates; where it ends is not known without zero_in_machine.",
     "Give zero_in_machine in the job file, or make sure that the way there is free."},
    {"position-unknown", "The program moves by increments, or cuts, from a place that it did not set.",
     "Start with an absolute move to a known place."},
    {"zero-set-by-program", "G92 or G10 sets the zero where the tool happens to stand.",
     "Make sure that the tool stands at the job's zero when the program starts."},
    {"tool-number", "A T word whose number cannot be a tool.", "Correct the tool number."},
    {"expression", "A value that cannot be worked out.", "Correct the expression or the parameters that it uses."},
    {"parameter-unset", "A parameter is read that the program never set.",
     "Set it in the program, or make sure that the machine holds the right value."},
    {"comment-faulty", "A comment that is never closed, or holds another.", "Close each comment on its own line, without one inside another."},
    {"exponent-number", "A number written with an exponent, which many machines do not read.",
     "Export with a fixed number of decimals."},
    {"space-in-number", "Blanks stand between the digits of a number; by the standard they mean nothing.",
     "Check that one number is meant, and write it without blanks."},
    {"line-number-odd", "A line number that is too long, has a point, or does not stand first.", "Number the lines anew, or not at all."},
    {"checksum-wrong", "A line's checksum does not fit its text.", "Export the program again: it was changed or damaged."},
    {"line-too-long", "A line longer than machines read.", "Break the line up."},
    {"percent-unpaired", "A % line without its partner.", "Put % on the first and on the last line, or on none."},
    {"end-missing", "The program ends without M2 or M30.", "End the program with M2 or M30."},
    {"text-after-end", "Lines stand after the end of the program; they are not run.", "Remove them, or move the end of the program."},
    {"compensation-faulty", "Cutter radius compensation that cannot be carried out.",
     "Correct the path, or export with compensation done in the drawing."},
    {"length-offset-of-other-tool", "G43 takes the length of another tool than the one in the spindle.",
     "Make the H number that of the tool."},
    {"motion-mode-missing", "Axis words with no motion code in force.", "Put G0 or G1 on the line."},
    {"probe-assumed", "A probing move; where it stops is decided at the machine.", "Check what follows from the probed value by hand."},
    {"subprogram-faulty", "A subprogram or a loop that cannot be carried out as written.", "Correct the call or the structure."},
    {"limit-reached", "A loop, a repeat or a nesting goes beyond what is followed here.", "Check the loop's end or the repeat count."},
    {"beyond-standard", "Words that the published standard does not have.", "Make sure that the machine reads them."},
    {"radius-format-doubt", "An arc by radius so near to a half or a full circle that rounding moves its centre.", "Give the arc by its centre."},
});

}  // namespace provecut
