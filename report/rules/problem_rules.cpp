#include "report/rules/problem_rules.h"

#include <fmt/format.h>

#include <array>
#include <deque>
#include <string>
#include <vector>

namespace provecut {

namespace {

struct ProblemRule {
  std::string_view id;
  Level level;
  std::string_view summary;  // the wrong state
  std::string_view what_to_do;
};

// stop: a machine refuses it, or may do something else than was checked. look: machines differ, or the program leans on
// what it did not set. note: it is read alike everywhere, or says what the check took for granted.
constexpr auto problem_rules = std::to_array<ProblemRule>({
    {"syntax", Level::stop, "Text that is not G-code.",
     "Correct the marked text, or export the program again for your machine."},
    {"unknown-code", Level::stop, "A G code that provecut does not know; what it does was not checked.",
     "Look it up in the machine's manual. If it moves the machine, nothing after it can be relied on."},
    {"not-followed", Level::look,
     "The program uses something that provecut does not follow, so the check is not complete. The program may be "
     "right.",
     "Export the program without it, or check by hand what comes after it."},
    {"controller-statement", Level::note,
     "A line for the controller: a message, a log, a setting ($ …) or homing ($H). It cuts nothing.",
     "Delete it if your controller stops there."},
    {"machine-function", Level::note, "An M code that switches something on the machine and moves no axis.",
     "Delete it if your machine does not have it."},
    {"machine-function-unknown", Level::look,
     "An M code that only some machines have. provecut does not know what it does.",
     "Look it up in the machine's manual. Delete it if your machine does not have it."},
    {"beyond-standard", Level::note, "Words that the published standard does not have.",
     "Check that your machine reads them."},
    {"comment-faulty", Level::look, "A comment that is never closed, or has another ( inside.",
     "Close each comment on its own line, without another ( inside."},
    {"exponent-number", Level::look, "A number with an exponent. Many machines do not read these.",
     "Export with fixed decimals."},
    {"space-in-number", Level::look, "Spaces inside a number. By the standard they mean nothing.",
     "Check that it is one number, and write it without spaces."},
    {"line-number-odd", Level::note, "A line number above 9,999,999, with a point, or not first on its line.",
     "Renumber the lines, or leave the numbers out."},
    {"checksum-wrong", Level::look, "A line's checksum does not match its text.",
     "Export the program again: it was changed or damaged."},
    {"percent-unpaired", Level::note, "A % line without its partner.",
     "Put % on the first and on the last line, or on neither."},
    {"end-missing", Level::note, "The program has no M2 or M30.", "End the program with M2 or M30."},
    {"block-delete", Level::note, "A switch on the machine decides if lines with / are run.",
     "Check the program with --block-delete and without."},
    {"text-after-end", Level::look, "Lines after the end of the program. They are not run.",
     "Delete them, or move the end of the program."},
    {"limit-reached", Level::stop, "A loop, a repeat, a nesting or a line is too long to check.",
     "Check what ends the loop, or the number of repeats."},
    {"word-unused", Level::look, "A word that nothing on its line uses.",
     "Delete the word, or add the code that it belongs to."},
    {"word-twice", Level::stop, "The same letter twice on one line.", "Delete one of the two words."},
    {"word-missing", Level::stop, "A code without a word that it needs.", "Add the missing word."},
    {"word-out-of-range", Level::stop, "A number beyond what it may be.", "Correct the number."},
    {"word-negative", Level::stop, "A number below zero where none is allowed.", "Correct the number."},
    {"modal-conflict", Level::stop, "Two codes on one line, and only one can be in force.",
     "Keep the one you mean. Machines differ here."},
    {"motion-mode-missing", Level::stop, "Axis words, but no motion code is on.", "Add G0 or G1 to the line."},
    {"motion-mode-after-cycle", Level::look, "Axis words after G80, with no motion code since. Controllers differ.",
     "Add G0 or G1 to the line. Some controllers go on with the G0 or G1 from before the cycle, others stop here."},
    {"tool-number", Level::stop, "A T word with no valid tool number.", "Correct the tool number."},
    {"tool-with-offset", Level::note,
     "A tool word of four digits. Some machines read two numbers in it, the tool's and its offset's.",
     "Check which tool your machine takes for it."},
    {"length-offset-of-other-tool", Level::look, "G43 takes another tool's length than the one in the spindle.",
     "Make the H number match the tool."},
    {"dwell-time-missing", Level::stop, "G4 without a time.", "Add P with the seconds to wait."},
    {"expression", Level::stop, "An expression that cannot be calculated.",
     "Correct the expression, or the parameters in it."},
    {"parameter-unset", Level::look, "The program uses a parameter that it never set.",
     "Set it in the program, or check its value on the machine."},
    {"feed-missing", Level::stop, "A cutting move with no feed rate set.",
     "Set F at or before the first cutting move."},
    {"feed-missing-inverse-time", Level::stop, "A cutting move without its own F under G93 (inverse time).",
     "Give every cutting move its F, or use G94."},
    {"feed-from-other-tool", Level::look, "A tool cuts at the feed set for the tool before it.",
     "Set F after the tool change."},
    {"position-unknown", Level::look, "The program cuts, or moves by increments (G91), from a position it never set.",
     "Start with G90 and a rapid (G0) to a known Z, then to a known X and Y."},
    {"incremental-at-end", Level::look, "The program ends with G91 (incremental) still on.",
     "End the program with G90, or with M2 or M30."},
    {"arc-radius", Level::stop, "An arc's start and end are not equally far from its centre.",
     "Check if the machine reads arc centres as the program gives them, and export with more decimals."},
    {"arc-radius-too-short", Level::stop, "An arc's radius is too short to reach its end.",
     "Correct R or the end point."},
    {"arc-faulty", Level::stop, "An arc whose radius is zero.", "Correct the arc's centre or radius."},
    {"arc-centre-missing", Level::stop, "An arc with neither a centre (I, J, K) nor a radius (R).",
     "Add I, J, K or R, or use G1."},
    {"arc-ends-at-start", Level::stop, "An arc with R that ends where it starts: its centre could be anywhere.",
     "Give the centre with I, J or K."},
    {"arc-two-formats", Level::stop, "An arc with both R and a centre.", "Keep one of them."},
    {"arc-whole-circle-doubt", Level::look, "A whole circle where the path's other arcs are tiny.",
     "If a tiny arc was meant, export with more decimals."},
    {"radius-format-doubt", Level::look, "Nearly a whole circle by R: rounding moves its centre.",
     "Give the centre with I, J or K."},
    {"probe-assumed", Level::note, "A probing move. Only the machine knows where it stops.",
     "Check by hand what the program does with the probed value."},
    {"probe-faulty", Level::stop, "A probing move where the standard does not allow one.",
     "Correct the line, or what is on before it."},
    {"cycle-without-depth", Level::stop, "A canned cycle without its depth or R.",
     "Give the depth and R on the cycle's first line."},
    {"cycle-r-below-depth", Level::stop, "A canned cycle with R below its bottom.",
     "Correct R or the depth. Under G91 both are increments."},
    {"cycle-kept-increments", Level::look,
     "G91 within a canned cycle that keeps R or the depth from a line under G90. Controllers differ.",
     "Put R and the depth on the line with G91 again, as increments, or give every hole its place under G90. The "
     "standard takes kept words as numbers, so that they become increments (NISTIR 6556 3.5.16); many controllers keep "
     "the places (common practice, no source)."},
    {"cycle-repeats", Level::stop, "A canned cycle whose L is not a whole number above zero.", "Correct L."},
    {"cycle-dwell", Level::stop, "A canned cycle whose dwell time is missing or below zero.", "Correct P."},
    {"cycle-peck", Level::stop, "A pecking cycle without the depth of one peck.", "Give Q, above zero."},
    {"cycle-in-wrong-mode", Level::stop, "A canned cycle under G93 or with a rotary axis.",
     "Use G94, and X, Y and Z alone."},
    {"cycle-spindle", Level::stop, "A canned cycle with the spindle off, or turning the wrong way.",
     "Start the spindle before the cycle, the right way round."},
    {"work-offset-unknown", Level::look, "The program uses a work offset whose place is unknown.",
     "Give the offset under [setup.offsets] in the job file, or use one work offset for the job."},
    {"system-number", Level::stop, "The program sets #5220 to a number that is not a work offset.",
     "Set #5220 to a whole number from 1 to 9."},
    {"zero-setting-faulty", Level::stop, "G10 does not say what zero it sets.", "Give L2, and P from 1 to 9."},
    {"zero-shift-without-axis", Level::stop, "G92 or G52 without an axis word.", "Name the axes, or delete the line."},
    {"zero-set-by-program", Level::look, "The program sets its zero wherever the tool happens to be.",
     "Make sure the tool is at the job's zero before Start."},
    {"machine-move", Level::note,
     "A move in machine coordinates that is not a plain retract. Without zero_in_machine its end is unknown.",
     "Raise Z alone first, on its own line. Or give zero_in_machine for the setup in the job file."},
    {"code-for-axis", Level::look, "A G code with decimals where an axis is missing, perhaps by a slip of one letter.",
     "Write the axis (Z0.0 for G0.0), or name the axes that are to go home."},
    {"machine-move-mode", Level::stop, "G53 while neither G0 nor G1 is on.", "Add G0 or G1 to the line."},
    {"compensation-faulty", Level::stop, "Cutter radius compensation that cannot be followed.",
     "Correct the path, or compensate in CAM."},
    {"compensation-misplaced", Level::stop,
     "Cutter radius compensation does not allow this code, plane or tool number.", "Put G40 before it."},
    {"compensation-offset", Level::look,
     "Cutter radius compensation with an offset number that is no tool. Only the machine knows its value.",
     "Make sure that this offset holds the cutter's radius, or its diameter, as your machine wants it."},
    {"compensation-diameter-unknown", Level::stop, "Cutter radius compensation for a tool whose diameter is unknown.",
     "Define the tool in the job file."},
    {"subprogram-faulty", Level::stop, "A subprogram or a loop that cannot be run as written.",
     "Correct the call or the loop."},
    {"endless-program", Level::stop, "M99 outside a subprogram: the program starts again, forever.",
     "End with M2 or M30 if one run is meant."},
    {"line-over-256", Level::stop, "A line longer than the standard's 256 characters.", "Break the line up."},
    {"line-number-refused", Level::stop, "A line number that the standard does not allow.",
     "Use one to five digits, first on the line."},
    {"comment-refused", Level::stop, "A comment that the standard does not allow.",
     "Close each comment on its own line, without another ( inside."},
    {"percent-refused", Level::stop, "A % line without its partner. The standard does not allow it.",
     "Put % on the first and on the last line, or on neither."},
    {"end-refused", Level::stop,
     "A program with neither M2 or M30 nor % lines around it. The standard does not allow it.",
     "End the program with M2 or M30."},
    {"word-refused", Level::stop, "A word that nothing on its line uses. The standard does not allow it.",
     "Delete the word."},
    {"m-words-too-many", Level::stop, "More than four M codes on one line.", "Break the line up."},
    {"axis-word-missing", Level::stop, "A motion code without an axis word.", "Add an axis word, or delete the code."},
    {"axis-words-claimed-twice", Level::stop, "Two codes on one line that both use its axis words.",
     "Put them on two lines."},
    {"arc-end-missing", Level::stop, "An arc without an end point in its plane.",
     "Give the end point, even where it is the start."},
    {"cycle-without-position", Level::stop, "A canned cycle without an axis word.", "Give the hole's position."},
    {"length-offset-missing", Level::stop, "G43 without the number of a length offset.",
     "Add H with the tool's number."},
});

constexpr std::string_view page = R"(## What it finds

{}

## What to do

{}

## What `amount` is

There is none. `moves` is how many times the program has it.

## Source

The RS274/NGC language, NISTIR 6556, and what exported programs commonly add to it.
)";

struct Made {
  std::deque<std::string> pages;  // a deque, so that the views into it stay
  std::vector<Rule> rules;
};

Made make() {
  Made made;
  for (const ProblemRule& p : problem_rules) {
    made.pages.push_back(fmt::format(page, p.summary, p.what_to_do));
    made.rules.push_back({p.id, p.level, p.summary, made.pages.back(), nullptr});
  }
  return made;
}

}  // namespace

std::span<const Rule> problemRules() {
  static const Made made = make();
  return made.rules;
}

}  // namespace provecut
