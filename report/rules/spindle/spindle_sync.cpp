#include <fmt/core.h>

#include <algorithm>

#include "report/rules/list.h"
#include "report/rules/shared/grouping.h"

namespace provecut {

namespace spindle_sync {

constexpr std::string_view page = R"(## What it finds

A cycle that needs more than a router's spindle. Tapping (G84, G74) needs one that turns in step with the feed and
reverses. Boring with a stop in the hole (G86, G87, G88) needs one that stops at once, for G87 at a known angle.

## Why it matters

A router spindle turns far too fast for a tap, and keeps no step with the feed: the tap breaks, or strips its thread.
A spindle that still turns when a boring cycle retracts scores the hole; with G87 the tool hits its wall.

## Example

    G84 X20 Y20 Z-12 R2 F500

## What to do

Drill the hole (G81, G83) and tap it by hand. Bore with G85 or G89, or mill the hole. For a machine that can do it, add
"tapping" or "spindle-orientation" to `accepts` under [machine].

## What `amount` is

There is none.

## Source

NISTIR 6556 3.5.16.4 to 3.5.16.8 (G84, G86 to G88). What router spindles can do is common practice; no published
source.
)";

void check(const Facts& facts, std::vector<Finding>& findings) {
  const std::vector<std::string>& accepts = facts.job.machine.accepts;
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    for (const FeatureUse& use : facts.programs[i].program.features) {
      const bool taps = use.feature == "tapping";
      if (!taps && use.feature != "spindle-orientation") continue;
      if (std::find(accepts.begin(), accepts.end(), use.feature) != accepts.end()) continue;
      Finding f = placeFinding(facts, i, spindle_sync_rule, use.place);
      f.subject = use.feature;
      if (taps) {
        f.message = "taps a thread; a router spindle cannot turn in step with the feed";
        f.help = "Drill the hole (G81, G83) and tap it by hand.";
      } else {
        f.level = Level::look;
        f.message = "stops the spindle in the hole before the tool comes out (G86, G87, G88)";
        f.help = "Use G85 or G89, or mill the hole.";
      }
      if (!facts.job.file.empty())
        f.help += fmt::format(" If your machine can do it, add \"{}\" to `accepts` under [machine].", use.feature);
      findings.push_back(std::move(f));
    }
  }
}

}  // namespace spindle_sync

const Rule spindle_sync_rule{"spindle-sync", Level::stop,
                             "A tapping or boring cycle needs more than a router's spindle.", spindle_sync::page,
                             spindle_sync::check};

}  // namespace provecut
