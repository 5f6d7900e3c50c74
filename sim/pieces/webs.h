// Which cells of the stock are webs: thin over a kerf, or narrow between two.
#pragma once

#include "sim/pieces/tabs.h"

namespace provecut::pieces {

inline bool isOpen(const cutting::DexelField& field, cutting::Cell c) {
  return field.thickness(c) <= cutting::no_material_mm;
}

inline bool cutHere(const TabbedSearch& s, cutting::Cell c) {
  return cutting::taken_mm(s.before, s.after, c) > cutting::no_material_mm;
}

Mask inverted(const Mask& mask);

// What is thin over a kerf: left by the program itself, or by an earlier one, or by one from the other side.
Mask thinWebs(const TabbedSearch& search);

// Besides these: necks of any height between two kerfs, and webs that little was taken off.
Mask neckWebs(const TabbedSearch& search, const Mask& thin);

}  // namespace provecut::pieces
