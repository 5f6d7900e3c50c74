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
  std::string_view how;
  std::vector<Vec2> profile_mm;  // an example of that bit; empty where no profile is needed
};

const std::vector<BitDescription>& descriptions() {
  static const std::vector<BitDescription> all{
      {{"dovetail", "dovetail bit"},
       "Measure the radius at the tip and at the upper end of the cutting edges, and their height. A bit 12.7 mm wide, "
       "14 degrees, 12.7 mm high:",
       {{6.35, 0}, {3.18, 12.7}}},
      {{"t-slot", "tslot", "t slot", "t-slot cutter", "slot cutter"},
       "Give the head, then the neck. A head 16 mm wide and 5 mm high on a neck of 6 mm:",
       {{8, 0}, {8, 5}, {3, 5}, {3, 15}}},
      {{"keyhole", "keyhole bit", "keyhole cutter"},
       "Give the head, then the neck. A head 9.5 mm wide and 4.8 mm high on a neck of 4.8 mm:",
       {{4.75, 0}, {4.75, 4.8}, {2.4, 4.8}, {2.4, 12}}},
      {{"roundover", "round over", "round-over", "corner round", "corner rounding"},
       "Give the tip, then points along the curve. Radius 6 mm above a tip 6 mm wide and 2 mm high:",
       {{3, 0}, {3, 2}, {3.19, 3.5}, {3.8, 5}, {5.03, 6.5}, {6.38, 7.4}, {9, 8}}},
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
      {{"compression", "upcut", "up-cut", "downcut", "down-cut", "straight", "spiral"},
       "For a compression bit, give the length of its lower part as `up_cut_length` as well.",
       {}},
      {{"spoilboard cutter", "spoilboard", "fly cutter", "flycutter", "face mill", "facemill"},
       "Write `center_cutting = true` only if its edges reach the middle.",
       {}},
      {{"rabbet", "rabbeting", "pattern", "flush trim", "template"},
       "Take the diameter of its cutting edges. With a bearing below them it is a \"form\". "
       "A bearing 8 mm wide and 4 mm high under edges 12 mm wide:",
       {{4, 0}, {4, 4}, {6, 4}, {6, 16}}},
      {{"forstner"}, "Take `angle = 179` for its flat end.", {}},
      {{"drag knife", "drag-knife", "knife", "diamond drag", "laser", "plasma"},
       "provecut checks bits that turn. To check only what it could hit, write \"flat\" with its width as `diameter`.",
       {}},
  };
  return all;
}

}  // namespace

std::string howToDescribeBit(std::string_view written, bool inches) {
  std::string lower(written);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  for (const BitDescription& bit : descriptions()) {
    if (std::find(bit.names.begin(), bit.names.end(), lower) == bit.names.end()) continue;
    std::string text(bit.how);
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
