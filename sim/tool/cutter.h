// A tool as the cut needs it.
#pragma once

#include <map>
#include <vector>

#include "parser/job/job.h"
#include "sim/tool/cutter_shape.h"

namespace provecut {

struct Cutter {
  ToolBody body;
  std::vector<BodyPiece> pieces;  // of the cutting part alone
  CutterShape shape;
  bool undercut = false;          // somewhere it is wider than further up
  bool by_pieces = false;         // undercut, or with steps inside its rim: more than the kernel can do
  bool pieces_on_slopes = false;  // its underside is not convex: the kernel cannot do slopes
  // Above the cutting part stands a thinner neck, this high above the tip; infinity where none is known. Material that
  // reaches higher hangs over the cutter.
  float neck_from = 0;
  struct Above {  // what must stay clear of the stock
    ToolPart part;
    int attachment;
    float radius, bottom;  // mm; bottom above the tip
    float wall;            // radius of the wall that a shank as wide rubs along; else 0
    bool neck;             // thinner than the cutter: in the way of what hangs over it alone
  };
  std::vector<Above> above;
};

using Cutters = std::map<int, Cutter>;  // by tool number

Cutters makeCutters(const Job& job);

}  // namespace provecut
