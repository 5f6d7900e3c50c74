// Pictures as SVG: a program's moves from above over the stock, and the spot of a finding.
#pragma once

#include <cstddef>
#include <string>

#include "report/facts/facts.h"
#include "report/facts/finding.h"

namespace provecut {

struct PictureSize {
  double width = 720, height = 460;  // units (CSS pixels) at most
};

// Feed moves coloured by their depth below the stock's top face, rapids as broken lines, the hold-downs that stand
// while the program runs, work zero, a legend. A long program is drawn with as much detail as can be seen. A whole SVG
// document that may also stand inline in a page.
std::string programPicture(const Facts& facts, std::size_t program, const PictureSize& size = {});

// The same, near the finding's spot, the moves of its line emphasised and the part of the tool that it is about drawn
// around the spot. Empty for a finding without a place on the stock.
std::string findingPicture(const Facts& facts, const Finding& finding, const PictureSize& size = {480, 320});

}  // namespace provecut
