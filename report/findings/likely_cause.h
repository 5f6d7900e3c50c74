// Another description of the job under which most of what was found is gone: tried by running it, never applied.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "parser/base/place.h"

namespace provecut {

// How many findings of one level there were, and how many of them are gone.
struct Gone {
  std::size_t gone = 0, of = 0;
};

struct LikelyCause {
  std::string kind;                // "zero-face"
  std::string question;            // "Is Z zero on the underside of the stock in setup back?"
  std::string setup;               // whose findings were counted; empty: those of the whole job
  Gone stops, looks;               // accepted findings left out
  std::string effect;              // "Then 14 of 14 stops of setup back are gone."
  std::string change;              // "In setup back of the job file, write:"
  std::vector<std::string> lines;  // to paste there; may be empty
  std::string file;                // where the change belongs
  ShownPlace place;                // line 0: nowhere in particular
  bool tied = false;               // another one explains it as well
};

}  // namespace provecut
