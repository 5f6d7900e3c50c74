// One word of a program that is wrong or left out: a lost decimal point, G90 after a move to the reference point in
// G91.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <utility>

#include "parser/base/units.h"
#include "report/base/wording.h"
#include "report/causes/candidate.h"
#include "report/causes/program_words.h"

namespace provecut::causes {

namespace {

// Our own choice, no source: so many other words say what is usual; a word is far off at so many times the greatest of
// them, and is meant to be no more than a little beyond it. A slip stands on few lines.
constexpr std::size_t least_others = 4, max_slips = 3;
constexpr double far_off = 3, little_beyond = 1.25;

// G10, G28, G30, G53 and G92: their words are no positions in the work.
constexpr std::array<double, 5> not_in_work{10, 28, 30, 53, 92};

struct Slip {
  std::vector<WordAt> words;  // all with the same number
  double meant = 0;
  std::optional<double> others;  // the number farthest out, of the same letter and sign
  bool few_others = false;       // too few to say what is usual
  bool one_other = false;
};

// The words of the letter and sign that are farthest out, and what the rest of them reach.
std::optional<Slip> farthest(std::span<const WordAt> positions, char letter, double sign) {
  Slip slip;
  const auto counts = [&](const WordAt& at) { return at.word.letter == letter && at.word.value * sign > 0; };
  double most = 0;
  for (const WordAt& at : positions) most = counts(at) ? std::max(most, at.word.value * sign) : most;
  if (most == 0) return std::nullopt;
  std::size_t rest = 0;
  for (const WordAt& at : positions) {
    if (!counts(at)) continue;
    if (at.word.value * sign == most) {
      slip.words.push_back(at);
      continue;
    }
    ++rest;
    slip.others = std::max(slip.others.value_or(0) * sign, at.word.value * sign) * sign;
  }
  const bool alone = rest == 0;
  if (!alone && (slip.words.size() > max_slips || most < far_off * std::fabs(*slip.others))) return std::nullopt;
  slip.few_others = !alone && rest < least_others;
  slip.one_other = rest == 1;
  return slip;
}

// True where a depth below the top goes through the stock and no further than is allowed.
bool justThrough(const Job& job, const Setup& setup, double z_mm) {
  const double deep_mm = -z_mm - job.stock.size_mm.z;
  return setup.zero_z_on_top && deep_mm >= 0 && deep_mm <= job.spoilboard.allowed_cut_mm;
}

std::optional<Slip> decimalSlip(const Suspect& suspect, const ProgramFacts& p, std::span<const WordAt> positions,
                                char letter, double sign) {
  std::optional<Slip> slip = farthest(positions, letter, sign);
  if (!slip || (!slip->others && letter != 'Z')) return std::nullopt;
  const double said = slip->words.front().word.value, unit_mm = p.program.modal.ever_inch ? mm_per_inch : 1;
  for (const double times : {10.0, 100.0}) {
    slip->meant = std::round(said / times * 1e6) / 1e6;
    const bool usual = slip->few_others
                           ? slip->meant == *slip->others
                           : slip->others && std::fabs(slip->meant) <= little_beyond * std::fabs(*slip->others);
    const bool through = letter == 'Z' && justThrough(suspect.facts.job, *p.setup, slip->meant * unit_mm);
    if (usual || through) return slip;
  }
  return std::nullopt;
}

void addDecimalPoint(const Suspect& suspect, std::size_t i, const Slip& slip, std::vector<Candidate>& candidates) {
  const ProgramFacts& p = suspect.facts.programs[i];
  const Word& said = slip.words.front().word;
  const std::uint32_t line = slip.words.front().line;
  Candidate c;
  c.kind = "decimal-point";
  c.file = p.entry->file;
  c.place = {line, said.column, said.end_column};
  c.question = fmt::format("Is {}{} on line {} of {} meant to be {}{}?", said.letter, said.value, line, c.file,
                           said.letter, slip.meant);
  std::string text = p.text;
  for (auto at = slip.words.rbegin(); at != slip.words.rend(); ++at) {
    if (at != slip.words.rbegin() && std::prev(at)->line == at->line) continue;
    text.replace(p.line_starts[at->line - 1], p.line(at->line).size(), lineWith(p, at->line, slip.words, slip.meant));
  }
  c.description = withText(suspect.facts, i, std::move(text));
  if (slip.others) {
    c.change = slip.one_other ? fmt::format("Its only other {} word is {}{}. ", said.letter, said.letter, *slip.others)
                              : fmt::format("Its other {} words go no further than {}{}. ", said.letter, said.letter,
                                            *slip.others);
  }
  c.change += fmt::format("Change line {} of the program to:", line);
  c.lines = {lineWith(p, line, slip.words, slip.meant)};
  candidates.push_back(std::move(c));
}

// G1, G2, G3 and the canned cycles.
bool cuts(double code) {
  return code == 1 || code == 2 || code == 3 || (code >= 81 && code <= 89);
}

// The line of "G28 G91" that all absolute moves behind it are counted from; 0: none.
std::uint32_t incrementalLeftOn(const ProgramFacts& p) {
  std::uint32_t at = 0;
  bool absolute = false;
  for (const WordAt& g : wordsOf(p, "G")) {
    if (g.word.value == 90) {
      absolute = true;
      at = 0;
    } else if (g.word.value == 91) {
      at = absolute && at == 0 && (hasCode(p, g.line, 28) || hasCode(p, g.line, 30)) ? g.line : 0;
    } else if (at != 0 && g.line > at && cuts(g.word.value)) {
      return at;
    }
  }
  return 0;
}

// The one word that sets distances in a program, where it is G91.
std::optional<WordAt> onlyIncremental(const ProgramFacts& p) {
  std::vector<WordAt> modes = wordsOf(p, "G");
  std::erase_if(modes, [](const WordAt& g) { return g.word.value != 90 && g.word.value != 91; });
  return modes.size() == 1 && modes.front().word.value == 91 ? std::optional(modes.front()) : std::nullopt;
}

void addAbsoluteInstead(const Suspect& suspect, std::size_t i, const WordAt& g91, std::vector<Candidate>& candidates) {
  const ProgramFacts& p = suspect.facts.programs[i];
  Candidate c;
  c.kind = "distance-mode";
  c.file = p.entry->file;
  c.question = fmt::format("Is G91 on line {} of {} meant to be G90?", g91.line, c.file);
  c.lines = {lineWith(p, g91.line, {g91}, 90)};
  std::string text = p.text;
  text.replace(p.line_starts[g91.line - 1], p.line(g91.line).size(), c.lines.front());
  c.description = withText(suspect.facts, i, std::move(text));
  c.place = {g91.line, g91.word.column, g91.word.end_column};
  c.change = fmt::format("Change line {} of the program to:", g91.line);
  candidates.push_back(std::move(c));
}

}  // namespace

void addDecimalPoints(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  constexpr std::array<std::pair<char, double>, 5> axes{{{'Z', -1}, {'X', 1}, {'X', -1}, {'Y', 1}, {'Y', -1}}};
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    if (!p.program.read_whole || p.program.modal.ever_incremental) continue;
    const std::vector<WordAt> positions = wordsOf(p, "XYZ", not_in_work);
    for (const auto& [letter, sign] : axes) {
      if (const auto slip = decimalSlip(suspect, p, positions, letter, sign))
        addDecimalPoint(suspect, i, *slip, candidates);
    }
  }
}

void addAbsoluteModes(const Suspect& suspect, std::vector<Candidate>& candidates) {
  const Facts& facts = suspect.facts;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const ProgramFacts& p = facts.programs[i];
    if (!p.program.modal.ever_incremental) continue;
    const std::uint32_t line = incrementalLeftOn(p);
    if (line == 0) {
      if (const auto g91 = onlyIncremental(p)) addAbsoluteInstead(suspect, i, *g91, candidates);
      continue;
    }
    Candidate c;
    c.kind = "distance-mode";
    c.file = p.entry->file;
    c.question = fmt::format("Is G90 missing after line {} of {}, so that G91 stays on?", line, c.file);
    c.description = withText(facts, i, withLineBefore(p, line + 1, "G90"));
    c.place = {line, 0, 0};
    c.change = fmt::format("After line {} of the program, add:", line);
    c.lines = {"G90"};
    candidates.push_back(std::move(c));
  }
}

}  // namespace provecut::causes
