// How a bit that has no shape of its own here is described, with an example to put the measured sizes into.
#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/units.h"
#include "parser/job_file/job_file_value.h"

namespace provecut::job_file {

namespace {

struct BitDescription {
  std::vector<std::string_view> names;
  std::string_view how;          // lengths in mm, in braces
  std::vector<Vec2> profile_mm;  // an example of that bit; empty where no profile is needed
};

const std::vector<BitDescription>& descriptions() {
  static const std::vector<BitDescription> all{
      {{"dovetail", "dovetail bit"},
       "Measure the radius at the tip and at the upper end of the cutting edges, and their height. A bit {12.7} wide, "
       "14 degrees, {12.7} high:",
       {{6.35, 0}, {3.18, 12.7}}},
      {{"t-slot", "tslot", "t slot", "t-slot cutter", "slot cutter"},
       "Give the head, then the neck. A head {16} wide and {5} high on a neck of {6}:",
       {{8, 0}, {8, 5}, {3, 5}, {3, 15}}},
      {{"keyhole", "keyhole bit", "keyhole cutter"},
       "Give the head, then the neck. A head {9.5} wide and {4.8} high on a neck of {4.8}:",
       {{4.75, 0}, {4.75, 4.8}, {2.4, 4.8}, {2.4, 12}}},
      {{"roundover", "round over", "round-over", "corner round", "corner rounding"},
       "Give the tip, then points along the curve. Radius {6} above a tip {6} wide and {2} high:",
       {{3, 0}, {3, 2}, {3.19, 3.5}, {3.8, 5}, {5.03, 6.5}, {6.38, 7.4}, {7.5, 7.81}, {9, 8}}},
      {{"ogee", "classical", "bead", "beading", "profile bit", "moulding", "molding"},
       "Give points along its edge from the tip up, close together where it curves. For example:",
       {{2, 0}, {2.6, 1.5}, {4, 2.6}, {5, 4}, {6.5, 5.2}, {9, 6}}},
      {{"cove", "cove bit", "core box", "corebox", "core-box", "bowl"},
       "A cove or core box bit without a pilot is a \"ball\"; with a pilot it is a \"form\". "
       "A bowl bit is a \"bull\" with its `corner_radius`.",
       {}},
      {{"chamfer", "countersink", "chamfer mill"},
       "`angle` is the whole angle at the tip: 90 for a 45 degree chamfer. Give `tip_diameter` if the tip is flat.",
       {}},
      {{"compression"}, "Also give `up_cut_length`: the height from the tip to where the down-cut part begins.", {}},
      {{"spoilboard cutter", "spoilboard", "fly cutter", "flycutter", "face mill", "facemill"},
       "Write `center_cutting = true` only if its edges reach the middle.",
       {}},
      {{"rabbet", "rabbeting"},
       "Give the diameter of its cutting edges. With a bearing below them it is a \"form\". "
       "A bearing {8} wide and {4} high under edges {12} wide:",
       {{4, 0}, {4, 4}, {6, 4}, {6, 16}}},
      {{"pattern", "flush trim", "template"},
       "Give the diameter of the cutting edges. A bearing at the tip is as wide as they are; with the bearing on the "
       "shank write \"flat\".",
       {}},
      {{"forstner"}, "Write `angle = 179` for its flat end.", {}},
      {{"drag knife", "drag-knife", "knife", "diamond drag", "laser", "plasma"},
       "provecut only checks bits that spin. To check for hits only, write \"flat\" with its width as `diameter`.",
       {}},
  };
  return all;
}

// "{12.7}" becomes "12.7 mm" or "0.5 in".
std::string withLengths(std::string_view how, bool inches) {
  std::string text;
  for (std::size_t at = 0; at < how.size(); ++at) {
    const std::size_t end = how[at] == '{' ? how.find('}', at) : std::string_view::npos;
    if (end == std::string_view::npos) {
      text += how[at];
      continue;
    }
    const double mm = std::stod(std::string(how.substr(at + 1, end - at - 1)));
    text += inches ? shown(std::round(mm / mm_per_inch * 1000) / 1000) + " in" : shown(mm) + " mm";
    at = end;
  }
  return text;
}

}  // namespace

std::string howToDescribeBit(std::string_view written, bool inches) {
  std::string lower(written);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  for (const BitDescription& bit : descriptions()) {
    if (std::find(bit.names.begin(), bit.names.end(), lower) == bit.names.end()) continue;
    std::string text = withLengths(bit.how, inches);
    if (bit.profile_mm.empty()) return text;
    const double factor = inches ? 1000 / mm_per_inch : 100, digits = inches ? 1000 : 100;
    text += " `profile = [";
    for (const Vec2& p : bit.profile_mm) {
      if (text.back() != '[') text += ", ";
      text += "[" + shown(std::round(p.x * factor) / digits) + ", " + shown(std::round(p.y * factor) / digits) + "]";
    }
    return text + "]`: radius and height" + (inches ? " in inches" : "") + ", from the tip up.";
  }
  return {};
}

}  // namespace provecut::job_file
