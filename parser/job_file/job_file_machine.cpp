// [machine] and [[machine.measured]].
#include "parser/job/machine_profiles.h"
#include "parser/job_file/job_file_keys.h"

namespace provecut::job_file {

namespace {

const std::vector<Key<Measured>>& measuredKeys() {
  static const std::vector<Key<Measured>> keys{
      required(text("program", &Measured::program), "`program = \"10-pocket.nc\"`"),
      required(number("seconds", &Measured::seconds, seconds, positive), "`seconds = 312`: the time it took"),
  };
  return keys;
}

std::vector<std::string> profileNames() {
  std::vector<std::string> names;
  for (const Machine& m : machineProfiles()) names.push_back(m.profile);
  return names;
}

std::vector<std::string> byHandWords() {
  return {"program", "by-hand"};
}

void readByHand(Reader& reader, const Spot& spot, bool& by_hand) {
  if (const auto i = readWord(reader, spot, byHandWords())) by_hand = *i == 1;
}

void readSpindleStart(Reader& reader, const Spot& spot, Machine& machine) {
  const auto s = readNumber(reader, spot, seconds, not_negative);
  if (!s) return;
  machine.spindle_start_s = *s;
  machine.spindle_start_given = true;
}

// All that a machine takes unless the job says otherwise, and what it takes only if the job says so.
std::vector<std::string> acceptableWords() {
  std::vector<std::string> words = Machine{}.accepts;
  words.insert(words.end(), {"tapping", "spindle-orientation"});
  return words;
}

void readAcceptedWords(Reader& reader, const Spot& spot, Machine& machine) {
  const std::vector<std::string> words = acceptableWords();
  machine.accepts.clear();
  if (spot.node.kind != NodeKind::list) {
    failType(reader, spot, "a list in square brackets of any of " + orList(words));
    return;
  }
  for (const Node& item : spot.node.items) {
    if (const auto i = readWord(reader, {item, spot.key, spot.section}, words)) machine.accepts.push_back(words[*i]);
  }
}

void readMeasured(Reader& reader, const Spot& spot, Machine& machine) {
  constexpr std::string_view section = "[[machine.measured]]";
  for (const Node* table : tablesOf(reader, spot, section)) {
    readTable(reader, *table, section, "machine.measured", measuredKeys(), machine.measured.emplace_back());
  }
}

const std::vector<Key<Machine>>& machineKeys() {
  static const std::vector<Key<Machine>> keys{
      unconfirmedKey<Machine>("machine"),
      // Read before all others by readMachine(): they override it.
      special<Machine>("profile", {Form::word, {}, {}, profileNames()}, [](Reader&, const Spot&, Machine&) {}),
      triple("travel", &Machine::travel_mm, lengths, positive),
      triple("max_rate", &Machine::max_rate_mm_min, rates, positive),
      triple("acceleration", &Machine::acceleration_mm_s2, accelerations, positive),
      number("junction_deviation", &Machine::junction_deviation_mm, lengths, not_negative),
      word<Machine, Cornering>(
          "cornering", &Machine::cornering,
          {{"junction-deviation", Cornering::junction_deviation}, {"exact-stop", Cornering::exact_stop}}),
      number("jerk", &Machine::jerk_mm_s3, jerks, not_negative),
      word<Machine, Rapids>("rapids", &Machine::rapids,
                            {{"straight", Rapids::straight}, {"independent", Rapids::independent}}),
      number("blocks_per_second", &Machine::blocks_per_second, counts, not_negative),
      whole("look_ahead_blocks", &Machine::look_ahead_blocks, Range{0, 1e6}),
      word<Machine, ArcAcceleration>("arc_acceleration", &Machine::arc_acceleration,
                                     {{"apart", ArcAcceleration::apart}, {"shared", ArcAcceleration::shared}}),
      span<Machine>("spindle_rpm", rotations, not_negative,
                    [](Machine& m, double low, double high) {
                      m.spindle_rpm_min = low;
                      m.spindle_rpm_max = high;
                      m.spindle_rpm_given = true;
                    }),
      special<Machine>("spindle_start_s", {Form::number, seconds, not_negative}, readSpindleStart),
      special<Machine>("spindle", {Form::word, {}, {}, byHandWords()},
                       [](Reader& r, const Spot& s, Machine& m) { readByHand(r, s, m.spindle_by_hand); }),
      special<Machine>("speed", {Form::word, {}, {}, byHandWords()},
                       [](Reader& r, const Spot& s, Machine& m) { readByHand(r, s, m.speed_by_hand); }),
      number("spindle_stop_s", &Machine::spindle_stop_s, seconds, not_negative),
      number("spindle_power_w", &Machine::spindle_power_w, watts, positive),
      number("tool_change_s", &Machine::tool_change_s, seconds, not_negative),
      special<Machine>("accepts", {Form::words, {}, {}, acceptableWords()}, readAcceptedWords),
      special<Machine>("measured", {Form::tables}, readMeasured),
  };
  return keys;
}

}  // namespace

void readMachine(Reader& reader, const Spot& spot, Job& job) {
  if (!isTable(reader, spot.node, "[machine]")) return;
  if (const Entry* profile = findEntry(spot.node, "profile")) {
    const auto names = profileNames();
    if (const auto i = readWord(reader, {profile->value, "profile", "[machine]"}, names))
      job.machine = machineProfiles()[*i];
    job.machine.spindle_rpm_given = !job.machine.profile.empty();
  }
  readTable(reader, spot.node, "[machine]", "machine", machineKeys(), job.machine);
}

void listMachineKeys(std::vector<KnownKey>& known) {
  list(known, "machine", machineKeys());
  list(known, "machine.measured", measuredKeys());
}

}  // namespace provecut::job_file
