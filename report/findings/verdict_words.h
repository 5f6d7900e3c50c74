// Levels and verdicts as they are read. Every format takes them from here.
#pragma once

#include <array>
#include <string_view>

#include "report/findings/report.h"

namespace provecut {

std::string_view levelWord(Level level);        // "Stop", "Check first", "Note"
std::string_view verdictWord(Verdict verdict);  // "Stop", "Check first", "Clear, with notes", "Clear"

// What to do about it, in a sentence or two; says so where not everything could be checked.
std::string_view verdictSentence(const Report& report);

// Stands under every verdict.
inline constexpr std::string_view no_guarantee =
    "This check is no guarantee. Do a dry run above the work first, one hand on the E-stop. Wear eye and hearing "
    "protection and a mask.";

// What no check can know, how to run a job, and who has the last word: what follows `no_guarantee` where there is room.
inline constexpr std::string_view unknown_to_the_check =
    "Clear does not mean safe. The check knows your files and nothing else. It does not know where your zero really "
    "is, a screw that nobody listed, a bit of another diameter, a bit that creeps out of its collet, bowed stock, lost "
    "steps or a dull edge.";
inline constexpr std::string_view safe_running =
    "Keep hands and sleeves away until the spindle stands still. Run dust extraction at the bit. Never leave a running "
    "machine. Check the dust collector afterwards: embers smoulder.";
inline constexpr std::string_view last_word =
    "For tools, workholding and speeds, follow the makers' manuals, your local rules and, where the law asks for it, "
    "trained people.";
inline constexpr std::array<std::string_view, 3> cautions = {unknown_to_the_check, safe_running, last_word};

}  // namespace provecut
