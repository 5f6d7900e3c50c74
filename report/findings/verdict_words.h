// Levels and verdicts as they are read. Every format takes them from here.
#pragma once

#include <array>
#include <string_view>

#include "report/findings/report.h"

namespace provecut {

std::string_view levelWord(Level level);        // "Stop", "Check first", "Note"
std::string_view verdictWord(Verdict verdict);  // "Stop", "Check first", "Clear, with notes", "Clear"

// What to do about it: one sentence, for a report that need not be complete.
std::string_view verdictSentence(const Report& report);

// Stands under every verdict.
inline constexpr std::string_view no_guarantee =
    "This check is no guarantee. Do a dry run above the work first, one hand on the E-stop. Wear eye and hearing "
    "protection and a mask.";

// What no check can know, and how to run a job: a paragraph each, under `no_guarantee`.
inline constexpr std::array<std::string_view, 3> cautions = {
    "Clear does not mean safe. The check knows your files and nothing else. It does not know where your zero really "
    "is, "
    "a screw that nobody listed, a bit of another diameter, a bit that creeps out of its collet, bowed stock, lost "
    "steps or a dull edge.",
    "Keep hands and sleeves away until the spindle stands still. Run dust extraction at the bit. Never leave a running "
    "machine. Check the dust collector afterwards: embers smoulder.",
    "The makers' manuals, your local rules and, where the law asks for it, trained people come before anything written "
    "here."};

}  // namespace provecut
