// What NISTIR 6556 refuses, read by its letter: each condition gives its finding at its line, and the rest is read.
#include "tests/parser/interpreter/reading_helper.h"

namespace provecut {
namespace {

struct Refusal {
  const char* name;     // the condition, for the test's own message
  const char* section;  // of NISTIR 6556; "from memory" where the text does not list it
  const char* line;     // the refused line, run after `before`
  const char* id;
  const char* before = "";
};

// In the order of their sections.
const Refusal refusals[] = {
    {"letter E", "3.3, E.3", "G1 X1 E2", "syntax"},
    {"letter O", "3.3, E.3", "O100", "syntax"},
    {"letter U", "3.3, E.3", "G1 X1 U2", "syntax"},
    {"letter V", "3.3, E.3", "G1 X1 V2", "syntax"},
    {"letter W", "3.3, E.3", "G1 X1 W2", "syntax"},
    {"semicolon", "3.3", "G1 X1 ; comment", "syntax"},
    {"star outside brackets", "3.3", "G1 X1 *3", "syntax"},
    {"N without a digit", "3.3.1", "N G1 X1", "line-number-refused"},
    {"N with six digits", "3.3.1", "N123456 G1 X1", "line-number-refused"},
    {"N with a sign", "3.3.1", "N-5 G1 X1", "line-number-refused"},
    {"N with a point", "3.3.1", "N10.5 G1 X1", "line-number-refused"},
    {"N not at its place", "3.3.1", "G1 N10 X1", "line-number-refused"},
    {"number without a digit", "3.3.2.1", "G1 X.", "syntax"},
    {"number with two points", "3.3.2.1", "G1 X1.2.3", "syntax"},
    {"exponent", "3.3.2.1", "G1 X1e-3", "syntax"},
    {"letter without a value", "E.2", "G1 X Y1", "syntax"},
    {"slash within the line", "E.2", "G1 X1 / Y1", "syntax"},
    {"comment never closed", "3.3.4", "G1 X1 (open", "comment-refused"},
    {"comment within a comment", "3.3.4", "G1 X1 (a (b) c)", "comment-refused"},
    {"stray closing bracket", "3.3.4", "G1 X1 )", "syntax"},
    {"unbalanced bracket", "E.2", "G1 X[1+2", "syntax"},
    {"operator missing", "E.2", "G1 X[1 #2]", "syntax"},
    {"operator doubled", "E.2", "G1 X[1 * / 2]", "syntax"},
    {"empty brackets", "E.2", "G1 X[]", "syntax"},
    {"unknown function", "E.2", "G1 X asim[0.5]", "syntax"},
    {"argument without brackets", "E.2", "G1 X sin30", "syntax"},
    {"ATAN without its second part", "E.2", "G1 X atan[1]", "syntax"},
    {"sign before a bracket", "E.2", "G1 X-[1+2]", "syntax"},
    {"sign before a parameter", "E.2", "G1 X-#1", "syntax", "#1=2"},
    {"sign before a function", "E.2", "G1 X-sin[30]", "syntax"},
    {"parameter 0", "3.3.2.2", "G1 X#0", "expression"},
    {"parameter 5400", "3.3.2.2", "G1 X#5400", "expression"},
    {"parameter 1.5", "3.3.2.2", "#1.5=3", "expression"},
    {"setting without a value", "E.2", "#1=", "syntax"},
    {"parameter that is no setting", "E.2", "#1", "syntax"},
    {"divide by zero", "from memory", "G1 X[1/0]", "expression"},
    {"root of a negative", "from memory", "G1 X sqrt[-1]", "expression"},
    {"logarithm of zero", "from memory", "G1 X ln[0]", "expression"},
    {"arc cosine beyond 1", "from memory", "G1 X acos[1.5]", "expression"},
    {"negative base, broken power", "from memory", "G1 X[[0-8]**0.5]", "expression"},
    {"two G codes of a group", "3.3.5", "G0 G1 X1", "modal-conflict"},
    {"two M codes of a group", "3.3.5", "M3 M5", "modal-conflict"},
    {"more than four M words", "3.3.5", "M0 M3 M6 M8 M48", "m-words-too-many"},
    {"a letter twice", "3.3.5", "G1 X1 X2", "word-twice"},
    {"unknown G code", "A", "G77", "unknown-code"},
    {"unknown M code", "A", "M77", "unknown-code"},
    {"M not whole", "3.3.2.1", "M3.5", "unknown-code"},
    {"ten times G not whole", "3.3.2.1", "G1.05 X1", "unknown-code"},
    {"G1 with G10", "3.4", "G1 G10 L2 P1 X1", "axis-words-claimed-twice"},
    {"G0 with G28", "3.4", "G0 G28 X1", "axis-words-claimed-twice"},
    {"G0 with G30", "3.4", "G0 G30 X1", "axis-words-claimed-twice"},
    {"G1 with G92", "3.4", "G1 G92 X1", "axis-words-claimed-twice"},
    {"G0 without an axis", "3.5.1", "G0", "axis-word-missing"},
    {"G1 without an axis", "3.5.2", "G1", "axis-word-missing"},
    {"axis words under G80", "3.5.15", "X1", "motion-mode-missing", "G80"},
    {"no end word", "3.5.3", "G2 I5", "arc-end-missing"},
    {"end word of another plane", "3.5.3", "G17 G2 Z1 I5", "arc-end-missing"},
    {"no centre word", "3.5.3.2", "G2 X5 Y5", "arc-centre-missing"},
    {"radii differ, mm", "3.5.3.2", "G2 X10.003 Y0 I5", "arc-radius"},
    {"radii differ, inch", "3.5.3.2", "G20 G2 X10.0003 Y0 I5", "arc-radius"},
    {"radius, end is start", "3.5.3.1", "G2 X0 Y0 R5", "arc-ends-at-start"},
    {"radius too small", "from memory", "G2 X20 R5", "arc-radius-too-short"},
    {"radius and centre", "from memory", "G2 X10 R5 I5", "arc-two-formats"},
    {"centre word of another plane", "from memory", "G17 G2 X10 I5 K1", "word-refused"},
    {"G4 without P", "3.5.4", "G4", "dwell-time-missing"},
    {"G4 with P below zero", "3.5.4", "G4 P-1", "word-negative"},
    {"G10 without L2", "3.5.5", "G10 P1 X1", "zero-setting-faulty"},
    {"G10 L1", "3.5.5", "G10 L1 P1 X1", "zero-setting-faulty"},
    {"G10 P0", "3.5.5", "G10 L2 P0 X1", "zero-setting-faulty"},
    {"G10 P10", "3.5.5", "G10 L2 P10 X1", "zero-setting-faulty"},
    {"G10 P not whole", "3.5.5", "G10 L2 P1.5 X1", "zero-setting-faulty"},
    {"probe too close", "3.5.9", "G38.2 X0.25", "probe-faulty"},
    {"probe under G93", "3.5.9", "G38.2 X5 F1", "probe-faulty", "G93"},
    {"probe without an axis", "3.5.9", "G38.2", "probe-faulty"},
    {"probe with a rotary axis", "3.5.9", "G38.2 X5 A5", "probe-faulty"},
    {"probe with compensation", "B.5", "G38.2 X5", "probe-faulty", "G41 D1"},
    {"D not whole", "3.5.10", "G41 D1.5", "compensation-misplaced"},
    {"D below zero", "3.5.10", "G41 D-1", "compensation-misplaced"},
    {"D beyond the table", "3.5.10", "G41 D99", "compensation-diameter-unknown"},
    {"another plane", "3.5.10", "G41 D1", "compensation-misplaced", "G18"},
    {"on already", "B.5", "G42 D1", "compensation-misplaced", "G41 D1"},
    {"D without G41", "B.5", "G1 X1 D1", "word-refused"},
    {"G18 with compensation", "B.5", "G18", "compensation-misplaced", "G41 D1"},
    {"G19 with compensation", "B.5", "G19", "compensation-misplaced", "G41 D1"},
    {"G20 with compensation", "B.5", "G20", "compensation-misplaced", "G41 D1"},
    {"G28 with compensation", "B.5", "G28", "compensation-misplaced", "G41 D1"},
    {"G30 with compensation", "B.5", "G30", "compensation-misplaced", "G41 D1"},
    {"G53 with compensation", "3.5.12", "G53 G0 X1", "compensation-misplaced", "G41 D1"},
    {"G54 with compensation", "3.5.13", "G54", "compensation-misplaced", "G41 D1"},
    {"G92 with compensation", "B.5", "G92 X1", "compensation-misplaced", "G41 D1"},
    {"G92.1 with compensation", "3.5.18", "G92.1", "compensation-misplaced", "G41 D1"},
    {"cycle with compensation", "3.5.16", "G81 X1 Y1 Z-1 R1", "compensation-misplaced", "G41 D1"},
    {"concave corner", "B.5.1", "Y1\nX9", "compensation-faulty", "G41 D1 G1 X10\nX11"},
    {"concave arc too tight", "B.5.1", "G3 X12 Y1 J1", "compensation-faulty", "G41 D1 G1 X10\nX11"},
    {"gouge on the first move", "B.5.3", "G1 X1", "compensation-faulty", "G41 D1"},
    {"auxiliary arc impossible", "B.6", "G2 X20 Y0 I10", "compensation-faulty", "G41 D1"},
    {"G43 without H", "3.5.11", "G43", "length-offset-missing"},
    {"H not whole", "3.5.11", "G43 H1.5", "length-offset-missing"},
    {"H below zero", "3.5.11", "G43 H-1", "length-offset-missing"},
    {"G53 without G0 or G1", "3.5.12", "G53 X1", "machine-move-mode", "G80"},
    {"cycle without an axis", "3.5.16", "G81 R1", "cycle-without-position"},
    {"cycle without its depth", "3.5.16", "G81 X1 R1", "cycle-without-depth"},
    {"cycle without R", "3.5.16", "G81 X1 Z-1", "cycle-without-depth"},
    {"R below the bottom", "3.5.16", "G81 X1 Z-1 R-2", "cycle-r-below-depth"},
    {"L0", "3.5.16", "G81 X1 Z-1 R1 L0", "cycle-repeats"},
    {"L not whole", "3.5.16", "G81 X1 Z-1 R1 L1.5", "cycle-repeats"},
    {"L below zero", "3.5.16", "G81 X1 Z-1 R1 L-2", "cycle-repeats"},
    {"G82 P below zero", "3.5.16.3", "G82 X1 Z-1 R1 P-1", "cycle-dwell"},
    {"G86 P below zero", "3.5.16.7", "G86 X1 Z-1 R1 P-1", "cycle-dwell", "M3 S100"},
    {"G88 P below zero", "3.5.16.9", "G88 X1 Z-1 R1 P-1", "cycle-dwell", "M3 S100"},
    {"G89 P below zero", "3.5.16.10", "G89 X1 Z-1 R1 P-1", "cycle-dwell"},
    {"G82 without P", "3.5.16.3", "G82 X1 Z-1 R1", "cycle-dwell"},
    {"G83 Q0", "3.5.16.4", "G83 X1 Z-1 R1 Q0", "cycle-peck"},
    {"G83 without Q", "3.5.16.4", "G83 X1 Z-1 R1", "cycle-peck"},
    {"cycle with a rotary axis", "3.5.16", "G81 X1 Z-1 R1 A5", "cycle-in-wrong-mode"},
    {"cycle under G93", "3.5.16", "G81 X1 Z-1 R1 F1", "cycle-in-wrong-mode", "G93"},
    {"G84 with the spindle off", "3.5.16.5", "G84 X1 Z-1 R1", "cycle-spindle"},
    {"G84 with the spindle the wrong way", "3.5.16.5", "G84 X1 Z-1 R1", "cycle-spindle", "M4 S100"},
    {"G86 with the spindle off", "3.5.16.7", "G86 X1 Z-1 R1 P1", "cycle-spindle"},
    {"G87 with the spindle off", "from memory", "G87 X1 Z-1 R1 I1 J0 K0", "cycle-spindle"},
    {"G88 with the spindle off", "from memory", "G88 X1 Z-1 R1 P1", "cycle-spindle"},
    {"G92 without an axis", "3.5.18", "G92", "zero-shift-without-axis"},
    {"G1 under G93 without F", "3.5.19", "G1 X1", "feed-missing-inverse-time", "G93 G1 X2 F1"},
    {"G2 under G93 without F", "3.5.19", "G2 X10 I5", "feed-missing-inverse-time", "G93 G1 X0 Y0 F1"},
    {"S below zero", "3.7.2", "S-1", "word-negative"},
    {"T below zero", "3.7.3", "T-1", "tool-number"},
    {"F below zero", "D.8.2", "F-1", "word-negative"},
    {"#5220 is no system", "3.2.2", "#5220=12", "system-number"},
    {"H without G43", "A", "G1 X1 H1", "word-refused"},
    {"P with no user", "A", "G1 X1 P1", "word-refused"},
    {"Q with no user", "A", "G1 X1 Q1", "word-refused"},
    {"L with no user", "A", "G1 X1 L1", "word-refused"},
    {"I with no user", "A", "G1 X1 I1", "word-refused"},
    {"R with no user", "A", "G1 X1 R1", "word-refused"},
    {"feed 0", "from memory", "G1 X1", "feed-missing", "F0"},
};

Program refuse(const Refusal& c, bool strict) {
  const std::string text =
      std::string("G21 G17 G90 G94 G40\nF100 T1 M6\nG0 X0 Y0 Z0\n") + c.before + "\n" + c.line + "\nG40 G94\nM2\n";
  return interpret(text, {.strict = strict, .tool_diameter_mm = {{1, 6}}});
}

TEST(Refusal, codes_beyond_the_standard_are_unknown_when_read_strictly_and_known_otherwise) {
  for (const char* line : {"G73 X1 Z-1 R1 Q1", "G90.1", "G91.1", "G70", "G71", "G50", "G69", "G97", "G95", "G52 X1",
                           "G74 X1 Z-1 R1", "G38.3 Z-1"}) {
    const std::string text = "G21 G17 G90 G98\nF100 T1 M6 M3 S1000\nG0 X0 Y0 Z9\n" + std::string(line) + "\nM2\n";
    EXPECT_NE(find(strictly(text), "unknown-code"), nullptr) << line;
    EXPECT_EQ(find(interpret(text, {}), "unknown-code"), nullptr) << line;
  }
}

TEST(Refusal, each_condition_of_the_standard_has_its_finding_on_its_line) {
  for (const Refusal& c : refusals) {
    const Program p = refuse(c, true);
    const auto first =
        static_cast<std::uint32_t>(5 + std::count(c.before, c.before + std::string_view(c.before).size(), '\n'));
    const auto last =
        first + static_cast<std::uint32_t>(std::count(c.line, c.line + std::string_view(c.line).size(), '\n'));
    const bool found = std::any_of(p.problems.begin(), p.problems.end(), [&](const Problem& q) {
      return q.id == c.id && q.place.line >= first && q.place.line <= last && q.place.end_column > q.place.column;
    });
    EXPECT_TRUE(found) << c.name << " (NISTIR 6556 " << c.section << "): " << c.line << "\n got "
                       << testing::PrintToString(idsOf(p));
    EXPECT_EQ(p.events.empty() ? EventKind::stop : p.events.back().kind, EventKind::end)
        << c.name << ": the rest is read";
  }
}

// Nothing is found on the lines around the refused one.
TEST(Refusal, the_frame_that_the_conditions_are_set_in_is_accepted) {
  EXPECT_TRUE(refuse({"", "", "G1 X1", "", ""}, true).problems.empty());
  EXPECT_TRUE(refuse({"", "", "G1 X10\nX20", "", "G41 D1"}, true).problems.empty());
}

TEST(Refusal, a_line_of_more_than_256_characters) {  // NISTIR 6556 3.3
  const std::string line = "G1 X1 (" + std::string(300, '-') + ")\n";
  EXPECT_NE(find(strictly("G21 G90 F1\n" + line + "M2"), "line-over-256"), nullptr);
  EXPECT_EQ(find(interpret("G21 G90 F1\n" + line + "M2"), "line-over-256"), nullptr);
  const std::string fits = "G1 X1 (" + std::string(248, '-') + ")\n";
  EXPECT_EQ(find(strictly("G21 G90 F1\n" + fits + "M2"), "line-over-256"), nullptr);
}

TEST(Refusal, percent_lines_come_in_pairs) {  // NISTIR 6556 3.1, A.1
  EXPECT_NE(find(strictly("%\nG21 G90 G0 X1\nM2\n"), "percent-refused"), nullptr);
  EXPECT_NE(find(strictly("G21 G90 G0 X1\n%\n"), "percent-refused"), nullptr);
  EXPECT_TRUE(strictly("%\nG21 G90 G0 X1\n%\n").problems.empty());
}

TEST(Refusal, a_program_needs_an_end) {  // NISTIR 6556 3.1
  EXPECT_NE(find(strictly("G21 G90 G0 X1\n"), "end-refused"), nullptr);
  EXPECT_EQ(find(strictly("G21 G90 G0 X1\nM2\n"), "end-refused"), nullptr);
  EXPECT_EQ(find(strictly("G21 G90 G0 X1\nM30\n"), "end-refused"), nullptr);
}

// Not errors by the standard: 3.5.10, 3.5.11, 3.5.15, 3.6.2, 3.6.3, 3.7.3, 3.3.5.
TEST(Refusal, what_the_standard_allows_is_not_refused) {
  for (const char* line : {"G40",
                           "G49",
                           "M5",
                           "M9",
                           "G80",
                           "G80 M5 (stop motion)",
                           "M3 S0",
                           "T1 M6",
                           "M6 T1",
                           "T1",
                           "T0",
                           "S0",
                           "G4 P0",
                           "#3=15 #3=6",
                           "/G1 X1",
                           "/",
                           "N5",
                           "/N5",
                           "N00009 G1 X1",
                           "( m S g , text) G1 X1",
                           "g0x +0. 12 34y 7",
                           "G1 X[1 --3]",
                           "G1 X[2+-0.345]",
                           "G10 L2 P1 X3.5 Y17.2",
                           "M60",
                           "M0",
                           "M1",
                           "M48",
                           "M49",
                           "M7",
                           "M8",
                           "G61",
                           "G61.1",
                           "G64",
                           "G43 H1",
                           "G43 H0",
                           "G93 G1 X1 F2",
                           "G28",
                           "G98",
                           "G99",
                           "G53 G1 X1 F10"}) {
    const Program p = strictly("G21 G17 G90 G94 G40\nF100 T1 M6\nG0 X0 Y0 Z0\n" + std::string(line) + "\nG94\nM2\n",
                               {.zero_in_machine = MachinePoint{}});
    // That a / depends on a switch is a note, no refusal.
    EXPECT_THAT(idsOf(p), testing::Each("block-delete")) << line;
  }
}

}  // namespace
}  // namespace provecut
