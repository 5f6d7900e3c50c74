#include <fmt/core.h>

#include <algorithm>

#include "report/base/wording.h"
#include "report/facts/locked.h"
#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace program_changed {

constexpr std::string_view page = R"(## What it finds

The job has a lock file (`provecut lock`), and a program is not the one that was locked: it was exported again or is an
old export, it was added since, or the job no longer lists it. The finding says what differs: number of moves, depth,
tools, extents. A file that differs only in comments, line numbers or spelling gets the note program-saved-again.

## Why it matters

You checked the locked export, not this one. An old export looks the same in the folder and cuts something else.

## Example

    provecut lock job.toml

writes `job.lock`. After a new export of `20-outline.nc` to Z -19.5 in place of -19:

    this is not the program that was locked on 2026-11-30: cuts 0.5 mm deeper, to Z -19.5 mm (was Z -19 mm)

## What to do

If this is the export you want, check the job, then update the lock: `provecut lock --update job.toml`. If not, put the
locked export back.

## What `amount` is

There is none.

## Source

SHA-256 of the file, and of its moves and codes (FIPS 180-4).
)";

std::string renewal(const Facts& facts) {
  return fmt::format("provecut lock --update {}", facts.job.file);
}

// Its first comment line, where that is another one now: the quickest way to know an export.
std::string headerText(const LockedProgram& was, const LockedProgram& now) {
  for (std::size_t i = 0; i < std::min(was.comments.size(), now.comments.size()); ++i) {
    if (was.comments[i] != now.comments[i])
      return fmt::format("its header says \"{}\" (was \"{}\")", now.comments[i], was.comments[i]);
  }
  return {};
}

void wordChange(const Facts& facts, const LockedProgram& was, const LockedProgram& now, Finding& f) {
  std::vector<std::string> what = differences(facts.job, was, now);
  if (what.empty())
    what.push_back(
        "same number of moves, depth, tools and extents; something else differs: the path, a feed, a speed, a stop or "
        "another code");
  if (std::string header = headerText(was, now); !header.empty()) what.push_back(std::move(header));
  std::string list;
  for (const std::string& w : what) list += (list.empty() ? "" : "; ") + w;
  f.message = fmt::format("this is not the program that was locked on {}: {}", facts.lock->date, list);
  f.help = fmt::format("If this is the right export, check it, then run: {}. If not, put the locked one back.",
                       renewal(facts));
  f.related.push_back({facts.lock_file, {was.place.line, was.place.column, was.place.end_column}, "locked here"});
}

void checkProgram(const Facts& facts, std::size_t i, std::vector<Finding>& findings) {
  const ProgramFacts& program = facts.programs[i];
  const LockState state = lockStateOf(facts, program);
  if (state != LockState::not_in_lock && state != LockState::other_program) return;
  Finding f = placeFinding(facts, i, program_changed_rule, Place{});
  if (state == LockState::other_program) {
    wordChange(facts, *findLocked(*facts.lock, program.entry->file), lockedProgram(program), f);
  } else {
    f.message = fmt::format("this program is not in the lock of {}", facts.lock->date);
    f.help = fmt::format("Check it, then run: {}", renewal(facts));
    relateToJob(facts, f, program.entry->place, "the program is listed here");
  }
  findings.push_back(std::move(f));
}

void check(const Facts& facts, std::vector<Finding>& findings) {
  if (!facts.lock) return;
  const auto seen = [&](std::string_view file, std::size_t before) {
    return std::any_of(facts.programs.begin(), facts.programs.begin() + static_cast<std::ptrdiff_t>(before),
                       [&](const ProgramFacts& p) { return p.entry->file == file; });
  };
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    if (!seen(facts.programs[i].entry->file, i)) checkProgram(facts, i, findings);
  }
  for (const LockedProgram& locked : facts.lock->programs) {
    if (seen(locked.file, facts.programs.size())) continue;
    Finding f = jobFinding(facts, program_changed_rule, Place{});
    f.subject = locked.file;
    f.message = fmt::format("{} was locked on {}; the job no longer runs it", locked.file, facts.lock->date);
    f.help =
        fmt::format("List it in the job file again. If it is not needed, check the job, then run: {}", renewal(facts));
    f.related.push_back(
        {facts.lock_file, {locked.place.line, locked.place.column, locked.place.end_column}, "locked here"});
    findings.push_back(std::move(f));
  }
}

}  // namespace program_changed

const Rule program_changed_rule{"program-changed", Level::look, "A program is not the one that was checked and locked.",
                                program_changed::page, program_changed::check};

}  // namespace provecut
