// What the rules about pieces share: which are parts, what they are called, where they stand.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "report/facts/facts.h"
#include "report/facts/finding.h"
#include "report/rules/rule.h"
#include "sim/observed/pieces.h"

namespace provecut {

inline bool isOffcut(const Piece& piece) {
  return piece.plan_area_mm2 < least_part_area_mm2;
}

// One finding for every piece of every program that `concerns` accepts, placed at the move that freed it or left it
// hanging. Several in one program are told apart by their subject: "part 1", "part 2" ("offcut 1" ...).
void addPieceFindings(const Facts& facts, const Rule& rule, std::string_view name,
                      const std::function<bool(const Piece&)>& concerns,
                      const std::function<void(const Piece&, Finding&)>& word, std::vector<Finding>& findings);

// "an onion skin of 0.4 mm over 260.0 mm (104.0 mm2 of wood)", of a piece that has one.
std::string skinText(const Job& job, const Piece& piece);

// Message and help for a piece that comes free as a program begins, because what held it is listed no longer.
void wordReleased(const Facts& facts, std::string_view what, const Piece& piece, Finding& finding);

}  // namespace provecut
