// Comments as exported programs carry them.
#include "report/base/tool_comment.h"

#include <gtest/gtest.h>

#include <initializer_list>
#include <optional>
#include <string_view>
#include <utility>

namespace provecut {
namespace {

TEST(ToolComment, with_named_numbers) {
  const ToolComment flat = readToolComment("T4 D=10. CR=0. - ZMIN=-22.99 - FLAT END MILL", false);
  EXPECT_EQ(flat.number, 4);
  EXPECT_EQ(flat.diameter_mm, 10);
  EXPECT_EQ(flat.shape, ToolShape::flat);
  const ToolComment ball = readToolComment("T5  D=19.05 CR=9.525 - ZMIN=-106. - BALL END MILL", false);
  EXPECT_EQ(ball.shape, ToolShape::ball);
  EXPECT_EQ(ball.corner_radius_mm, 9.525);
  const ToolComment bull = readToolComment("T3 D=0.5 CR=0.0625 - flat end mill", true);
  EXPECT_EQ(bull.shape, ToolShape::bull);
  EXPECT_DOUBLE_EQ(*bull.diameter_mm, 12.7);
  const ToolComment drill = readToolComment("T11 D=8. CR=0. TAPER=118DEG - ZMIN=-21. - DRILL", false);
  EXPECT_EQ(drill.shape, ToolShape::drill);
  EXPECT_EQ(drill.angle_deg, 118);
  EXPECT_EQ(readToolComment("T1 D=100. CR=0. - ZMIN=-0.5 - FACE MILL", false).shape, ToolShape::surfacing);
}

TEST(ToolComment, with_a_unit_of_its_own) {
  EXPECT_EQ(readToolComment("T1: 6mm end mill", true).diameter_mm, 6);
  const ToolComment drill = readToolComment("T07 = 5/16\" DRILL      03-0356, 135 Point Angle", false);
  EXPECT_EQ(drill.number, 7);
  EXPECT_DOUBLE_EQ(*drill.diameter_mm, 7.9375);
  EXPECT_EQ(drill.angle_deg, 135);
  EXPECT_DOUBLE_EQ(*readToolComment("T06 = .257\" F DRILL    03-0263", false).diameter_mm, 6.5278);
  EXPECT_EQ(readToolComment("MSG, CHANGE TOOL BIT: to drill size 2.49900 mm", true).diameter_mm, 2.499);
}

TEST(ToolComment, in_words) {
  EXPECT_EQ(readToolComment(" Tool diameter = 3.175 ", false).diameter_mm, 3.175);
  EXPECT_EQ(readToolComment("Compensated Tool Path. Diameter: 3.18", false).diameter_mm, 3.18);
  EXPECT_EQ(readToolComment("MSG, Change to tool dia=0.8000", false).diameter_mm, 0.8);
}

TEST(ToolComment, that_speaks_of_other_things_too) {
  const ToolComment flat = readToolComment("dowel holes 8.1 mm for turning over, flat 6 mm, tool 1", false);
  EXPECT_EQ(flat.number, 1);
  EXPECT_EQ(flat.diameter_mm, 6);
  const ToolComment vee = readToolComment("vee 60 degrees, tool 3", false);
  EXPECT_EQ(vee.number, 3);
  EXPECT_EQ(vee.shape, ToolShape::vee);
  EXPECT_EQ(vee.angle_deg, 60);
  EXPECT_FALSE(vee.diameter_mm);
  EXPECT_FALSE(readToolComment("T11 D=25 CR=0 TAPER=45deg - chamfer mill", false).angle_deg);
  EXPECT_FALSE(readToolComment("tool change at 0.0000  0.0000  1.5000", false).number);
}

TEST(ToolComment, with_an_angle_beside_its_number) {
  const ToolComment vee = readToolComment("T3 60 deg vee - name", false);
  EXPECT_EQ(vee.number, 3);
  EXPECT_EQ(vee.angle_deg, 60);
  EXPECT_FALSE(vee.diameter_mm);
  EXPECT_EQ(readToolComment("Tool = V-carve 45\u00b0 x 3.175mm", false).angle_deg, 45);
  EXPECT_EQ(readToolComment("Tool = V-carve 45\u00b0 x 3.175mm", false).diameter_mm, 3.175);
  const ToolComment unnumbered = readToolComment("Tool: 90 degree V-carve bit", false);
  EXPECT_EQ(unnumbered.angle_deg, 90);
  EXPECT_FALSE(unnumbered.number);
  EXPECT_FALSE(readToolComment("Flat 6mm, 45 degree helix", false).angle_deg);
}

TEST(ToolComment, with_a_decimal_comma) {
  EXPECT_EQ(readToolComment("T2 D=3,175 end mill", false).diameter_mm, 3.175);
  EXPECT_EQ(readToolComment("Fr\u00e4ser 6,35 mm", true).diameter_mm, 6.35);
  EXPECT_EQ(readToolComment("TOOL/MILL,3.1750,0,1.0000,0.0", false).diameter_mm, 3.175);
  EXPECT_EQ(readToolComment("TOOL/MILL,3,0,1,0", false).diameter_mm, 3);
}

TEST(ToolComment, with_fractions_of_an_inch) {
  EXPECT_DOUBLE_EQ(*readToolComment("1/2 HSS ENDMILL 4FLUTES VC=100 SFM .002 CPT", false).diameter_mm, 12.7);
  EXPECT_DOUBLE_EQ(*readToolComment("T03 3/8 2 FLUTE END MILL HSS", true).diameter_mm, 9.525);
  EXPECT_DOUBLE_EQ(*readToolComment("1 1/2\" FACE MILL", false).diameter_mm, 38.1);
  EXPECT_DOUBLE_EQ(*readToolComment("3/4 carbide endmill 3\" flute length", true).diameter_mm, 19.05);
  EXPECT_DOUBLE_EQ(*readToolComment("3/4 carbide endmill 3\" flute length", true).flute_length_mm, 76.2);
  EXPECT_FALSE(readToolComment("Mill infeed pass 1/1", false).diameter_mm);
}

TEST(ToolComment, in_other_languages) {
  for (const char* text : {"Schaftfraeser 6mm", "Schaftfr\u00e4ser 6 mm", "VHM-Schaftfr\u00e4ser \u00d86mm",
                           "fresa recta 6mm", "fraise droite 6mm"}) {
    EXPECT_EQ(readToolComment(text, false).diameter_mm, 6) << text;
    EXPECT_EQ(readToolComment(text, false).shape, ToolShape::flat) << text;
  }
  EXPECT_EQ(readToolComment("Kugelfr\u00e4ser 3mm", false).shape, ToolShape::ball);
  EXPECT_EQ(readToolComment("Spiralbohrer 4,2mm", false).shape, ToolShape::drill);
  EXPECT_EQ(readToolComment("broca 5mm", false).diameter_mm, 5);
}

TEST(ToolComment, in_the_shorthand_of_a_box_label) {
  const ToolComment bit = readToolComment("3MM CRB 2FL 12 LOC", false);
  EXPECT_EQ(bit.diameter_mm, 3);
  EXPECT_EQ(bit.flutes, 2);
  EXPECT_EQ(bit.flute_length_mm, 12);
  EXPECT_EQ(readToolComment("6mm 2F end mill", false).flutes, 2);
  EXPECT_FALSE(readToolComment("end mill at Z3 F800", false).flutes);
  const ToolComment label = readToolComment("D6 3 flute end mill, 22mm LOC, 50mm OAL, 6mm shank", false);
  EXPECT_EQ(label.diameter_mm, 6);
  EXPECT_EQ(label.flutes, 3);
  EXPECT_EQ(label.flute_length_mm, 22);
  EXPECT_EQ(label.overall_length_mm, 50);
  EXPECT_EQ(label.shank_diameter_mm, 6);
}

TEST(ToolComment, by_its_radius) {
  EXPECT_EQ(readToolComment("tool_radius = 1.5", false).diameter_mm, 3);
  EXPECT_EQ(readToolComment("Tool radius: 3mm, flat", false).diameter_mm, 6);
  EXPECT_EQ(readToolComment("R3 ball nose", false).diameter_mm, 6);
}

TEST(ToolComment, in_a_row_of_a_table) {
  EXPECT_EQ(readToolComment(" T1 : 1.5 ", false).diameter_mm, 1.5);
  EXPECT_EQ(readToolComment(" T10 : 1.5 ", false).number, 10);
  EXPECT_EQ(readToolComment(" T02 | 1.200mm 0.0472in | 0.0000in | 0.0000in |       0 ", true).diameter_mm, 1.2);
  EXPECT_EQ(readToolComment("1/2\" ENDMILL W/3 FLUTES; T01", true).number, 1);
  EXPECT_EQ(readToolComment("1/2\" ENDMILL W/3 FLUTES; T01", true).flutes, 3);
}

// What exporters call the diameter of a tapered bit is that of its tip.
TEST(ToolComment, of_a_tapered_bit_gives_its_tip) {
  const ToolComment ball = readToolComment("T4 D=1. CR=0.5 TAPER=5deg - tapered mill", false);
  EXPECT_EQ(ball.shape, ToolShape::taper_ball);
  EXPECT_EQ(ball.tip_diameter_mm, 1);
  EXPECT_EQ(ball.taper_deg, 5);
  EXPECT_FALSE(ball.diameter_mm);
  EXPECT_EQ(readToolComment("T4 D=0.2 TAPER=15deg - tapered mill", false).shape, ToolShape::vee);
}

TEST(ToolComment, of_a_tap_gives_its_thread) {
  EXPECT_EQ(readToolComment("T6 M6x1 tap", false).diameter_mm, 6);
  EXPECT_DOUBLE_EQ(*readToolComment("T6 1/4-20 TAP", true).diameter_mm, 6.35);
}

TEST(ToolComment, that_speaks_of_lengths_of_other_things_gives_none) {
  for (const char* text :
       {"T4 D4 H4", "Activate tool offset T10", "drill 12mm deep", "end mill, stepdown 2mm", "Z=0.75 end mill",
        "tool change at 30mm", "cutter clearance 5mm", "endmill to 4 in corner", "This file uses 3 drill bit sizes.",
        "retract 5mm, then drill", "( 18 Flat-45 degree helix)", "T1 retract 5mm"}) {
    EXPECT_FALSE(readToolComment(text, false).diameter_mm) << text << ": " << *readToolComment(text, false).diameter_mm;
  }
}

TEST(ToolComment, that_says_nothing_of_size_gives_none) {
  for (const char* text : {"Attach the probe tool", "DRILL HOLES", "HOLD 'C' and HOLD 'D'. CIRCULAR POCKET MILLING",
                           "T", "T1.5", "", "D=", "dia=x", "1/0\"", "5/"}) {
    EXPECT_FALSE(readToolComment(text, false).diameter_mm) << text;
    EXPECT_FALSE(readToolComment(text, false).number) << text;
  }
}

TEST(ToolComment, a_mill_that_drills_is_no_drill) {
  EXPECT_EQ(readToolComment("This file uses a mill head of 0.8 to drill the 2 bit sizes", false).shape,
            ToolShape::flat);
}

struct Said {
  std::string_view text;
  double diameter_mm;  // 0: none is said
  std::optional<ToolShape> shape = std::nullopt;
  double angle_deg = 0;
  int flutes = 0;
};

// As people write beside a tool change.
TEST(ToolComment, in_the_words_of_the_shop) {
  constexpr ToolShape flat = ToolShape::flat, ball = ToolShape::ball, vee = ToolShape::vee, drill = ToolShape::drill;
  for (const Said& said : {
           Said{"10MM FLAT", 10, flat},
           Said{"5MM BRAD POINT", 5, drill},
           Said{"3/8 COMPRESSION", 9.525, flat},
           Said{"1/2 UPCUT 2 FL", 12.7, flat, 0, 2},
           Said{"12 mm BALL", 12, ball},
           Said{"3D FINISH 3MM BALL R1.5", 3, ball},
           Said{"90 DEG VEE 20MM", 20, vee, 90},
           Said{"90 VEE", 0, vee, 90},
           Said{"60 DEGREE V", 0, vee, 60},
           Said{"FACE 1/2 3FL", 12.7, std::nullopt, 0, 3},
           Said{"CHANGE TO 1/16 DRILL", 1.5875, drill},
           Said{"1/4 downcut", 6.35, flat},
           Said{"6mm spiral", 6, flat},
           Said{"O FLUTE 1/4", 6.35, flat},
           Said{"1/4 INCH STRAIGHT BIT", 6.35, flat},
           Said{"DOVETAIL 14 DEG 1/2", 12.7},
           Said{"KEYHOLE 3/8", 9.525},
           Said{"SURFACING 50MM 3 INSERTS", 50, ToolShape::surfacing},
       }) {
    const ToolComment read = readToolComment(said.text, false);
    EXPECT_NEAR(read.diameter_mm.value_or(0), said.diameter_mm, 1e-9) << said.text;
    EXPECT_EQ(read.shape, said.shape) << said.text;
    EXPECT_EQ(read.angle_deg.value_or(0), said.angle_deg) << said.text;
    EXPECT_EQ(read.flutes.value_or(0), said.flutes) << said.text;
  }
}

// What people and exporters write every day, in their own languages. Number and letter drills: ASME B94.11M.
TEST(ToolComment, in_everyday_words_of_many_shops) {
  constexpr ToolShape flat = ToolShape::flat, ball = ToolShape::ball, vee = ToolShape::vee, drill = ToolShape::drill;
  constexpr double in = 25.4;
  for (const auto& [said, inches] : std::initializer_list<std::pair<Said, bool>>{
           {{"6.35 spiral up", 6.35, flat}, false},
           {{".250 EM 2FL", 6.35, flat, 0, 2}, true},
           {{"T1 = 6.0 flat", 6, flat}, false},
           {{"3/8 ROUGHER", 9.525, flat}, true},
           {{"BN 1/8", 3.175, ball}, true},
           {{"CORE BOX 1/2", 12.7, ball}, true},
           {{"tool #2 1/4 inch 2-flute endmill", 6.35, flat, 0, 2}, true},
           {{"UPCUT SPIRAL .25 DIA 1.25 LOC", 6.35, flat}, true},
           {{"1/4 SHANK 1/8 BIT", 3.175}, true},
           {{"6 MM POCKET WITH 3 MM BIT", 3}, false},
           {{"3/4 PLY 3/8 COMPRESSION", 9.525, flat}, true},
           {{"18MM PLY 6MM COMPRESSION", 6, flat}, false},
           {{"BOWL BIT 1-1/4 R1/4", 31.75, ToolShape::bull}, true},
           {{"SLOT CUTTER 1/8 KERF 1-3/8 DIA", 34.925}, true},
           {{"FLYCUTTER 2.5\"", 63.5, ToolShape::surfacing}, true},
           {{"2.5 IN SURFACING", 63.5, ToolShape::surfacing}, true},
           {{"V90 25MM", 25, vee, 90}, false},
           {{"VEE 90 X 1 INCH", 25.4, vee, 90}, true},
           {{"COUNTERSINK 82 DEG 1/2", 12.7, vee, 82}, true},
           {{"#7 DRILL", 0.201 * in, drill}, false},
           {{"T4 #29 DRILL", 0.136 * in, drill}, true},
           {{"NO. 36 DRILL", 0.1065 * in, drill}, true},
           {{"LETTER F DRILL", 0.257 * in, drill}, true},
           {{"T7 LETTER Q DRILL", 0.332 * in, drill}, true},
           {{"DRILL #21 FOR 10-32 TAP", 0.159 * in, drill}, true},
           {{"M5X0.8 TAP DRILL 4.2", 4.2, drill}, false},
           {{"1/4-20 TAP DRILL #7", 0.201 * in, drill}, true},
           {{"Bohrer 5,5", 5.5, drill}, false},
           {{"Schaftfräser D6 Z2", 6, flat, 0, 2}, false},
           {{"Einschneider 3,175 mm", 3.175, flat, 0, 1}, false},
           {{"Fingerfräser 8 mm", 8, flat}, false},
           {{"fraise 2 tailles 6 mm", 6, flat}, false},
           {{"fraise une dent 3,175", 3.175, flat, 0, 1}, false},
           {{"mèche 8 mm", 8, drill}, false},
           {{"fresa de bola 1/8\"", 3.175, ball}, false},
           {{"fresa en V 90 grados", 0, vee, 90}, false},
           {{"fresa plana 6mm 2 filos", 6, flat, 0, 2}, false},
       }) {
    const ToolComment read = readToolComment(said.text, inches);
    EXPECT_NEAR(read.diameter_mm.value_or(0), said.diameter_mm, 1e-9) << said.text;
    EXPECT_EQ(read.shape, said.shape) << said.text;
    EXPECT_EQ(read.angle_deg.value_or(0), said.angle_deg) << said.text;
    EXPECT_EQ(read.flutes.value_or(0), said.flutes) << said.text;
  }
}

// Two lengths in one comment: the one beside the bit's name counts, and where that is either, none.
TEST(ToolComment, with_another_length_gives_the_bits_own) {
  for (const auto& [text, diameter_mm] : std::initializer_list<std::pair<const char*, double>>{
           {"18mm Multiplex, Fräser 8mm", 8},
           {"poche 10mm, fraise 4mm", 4},
           {"ranura 8 mm con fresa 6 mm", 6},
           {"tablero 18mm, broca 5mm", 5},
           {"WAS 6MM NOW 5MM FLAT", 5},
           {"USE 6MM BIT NOT 1/4", 6},
           {"PLEXI 5MM; 3.175 single flute", 3.175},
           {"SKIM 0.5MM SURFACING BIT 30MM", 30},
           {"3MM ACRYLIC, 2MM O-FLUTE", 2},
       }) {
    EXPECT_EQ(readToolComment(text, false).diameter_mm, diameter_mm) << text;
  }
  for (const char* text :
       {"rainure 6 mm fraise droite 5 mm", "Tasche 12mm tief, Fräser 6", "6mm pocket 4mm, then 3mm, end mill"}) {
    EXPECT_FALSE(readToolComment(text, false).diameter_mm) << text << ": " << *readToolComment(text, false).diameter_mm;
  }
}

TEST(ToolComment, of_a_pointed_bit_gives_its_tip_and_no_diameter) {
  for (const char* text : {"30 deg engraver 0.2 tip", "engraving bit 30 deg 0.2mm tip", "V-bit 30 deg tip 0.2mm",
                           "Gravierstichel 30 Grad 0,2 mm Spitze"}) {
    const ToolComment read = readToolComment(text, false);
    EXPECT_EQ(read.tip_diameter_mm, 0.2) << text;
    EXPECT_EQ(read.angle_deg, 30) << text;
    EXPECT_FALSE(read.diameter_mm) << text;
  }
  EXPECT_EQ(readToolComment("0.5 mm tip radius tapered ball nose 6mm shank", false).tip_diameter_mm, 1);
  EXPECT_EQ(readToolComment("30 deg V-bit, 3.175 shank, 0.2 tip", false).shank_diameter_mm, 3.175);
}

// A size that may be something else's is worse than none: it would look sure.
TEST(ToolComment, whose_number_may_be_something_elses_gives_no_diameter) {
  for (const char* text :
       {"COVE BIT 1/4 RADIUS", "ROUNDOVER 1/8 R", "ROUNDOVER 1/4", "CHAMFER 1MM", "CHAMFER EDGE 0.5",
        "SURFACE TOP 0.5MM", "20deg 0.2mm v engraver", "RABBETING BIT 1 1/4", "CENTER DRILL #3", "C DRILL",
        "T7 #7 DRILL", "TOOL #7 DRILL", "DRILL 12.5", "PECK DRILL 12.5", "REV 1.2 FLAT PANEL", "JOB 2.1 FLAT PARTS",
        ".25 flat", "FINISH BALL 1/8 TAPER", "DRAG KNIFE 45 DEG"}) {
    EXPECT_FALSE(readToolComment(text, false).diameter_mm) << text << ": " << *readToolComment(text, false).diameter_mm;
  }
  EXPECT_FALSE(readToolComment("6.35 downcut", true).diameter_mm);
  EXPECT_FALSE(readToolComment("30 deg engraver 0.2 tip", true).tip_diameter_mm);
}

TEST(ToolComment, what_speaks_of_the_work_names_no_bit) {
  for (const std::string_view text :
       {"6MM PLYWOOD", "POCKET 12 MM DEEP", "1/2 INCH STOCK", "STEP 3 OF 5", "M6 THREAD", "HOLES 5MM", "R6 CORNERS",
        "PROFILE OUTSIDE 18MM", "V2.1 2026-03-01", "PANEL 4X3 .063 ALUM", "SIDE 2", "REV B 12/3", "TABS 6MM WIDE",
        "FLAT POCKET 6MM DEEP", "ROUNDOVER R6"}) {
    EXPECT_FALSE(readToolComment(text, false).diameter_mm) << text;
  }
}

}  // namespace
}  // namespace provecut
