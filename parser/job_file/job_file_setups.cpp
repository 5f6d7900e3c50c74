// [[setup]] and [[setup.program]]: the stock in the setup, its work zero, what holds it, what runs.
#include <set>

#include "parser/base/nearest_word.h"
#include "parser/job/job_words.h"
#include "parser/job_file/job_file_keys.h"

namespace provecut::job_file {

namespace {

constexpr std::string_view setup_section = "[[setup]]";

// A setup as it is written: words and names are not worked out yet.
struct SetupText {
  Setup setup;
  const Node* zero = nullptr;
  const Node* hold_downs = nullptr;
  const Node* programs = nullptr;
  std::optional<HoldDownKind> held_by;
};

struct ProgramText {
  ProgramEntry entry;
  const Node* hold_downs = nullptr;
};

const std::vector<std::string>& offsetNames() {
  // G54 is the setup's zero itself.
  static const std::vector<std::string> names{"G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"};
  return names;
}

void readOffsets(Reader& reader, const Spot& spot, SetupText& target) {
  if (!isTable(reader, spot.node, "[setup.offsets]")) return;
  for (const Entry& entry : spot.node.entries) {
    const auto& names = offsetNames();
    const auto it = std::find(names.begin(), names.end(), entry.key);
    if (it == names.end()) {
      const bool is_g54 = entry.key == "G54";
      reader.fail(entry.place, quoted(entry.key) + (is_g54 ? " cannot be given here" : " is not a work offset"),
                  is_g54 ? "G54 is the setup's `zero`; the other work offsets count from it."
                         : "The work offsets are G55 to G59, and \"G59.1\" to \"G59.3\" in quotes.");
    } else if (const auto v = readNumbers(reader, {entry.value, entry.key, "[setup.offsets]"}, lengths, any, 3)) {
      target.setup.work_offset_mm[static_cast<int>(it - names.begin()) + 2] = {(*v)[0], (*v)[1], (*v)[2]};
    }
  }
}

void readRotate(Reader& reader, const Spot& spot, SetupText& target) {
  const Node& node = spot.node;
  if (node.kind != NodeKind::whole && node.kind != NodeKind::number) {
    failType(reader, spot, "0, 90, 180 or 270 (degrees counter-clockwise, seen from above)");
  } else if (node.number != 0 && node.number != 90 && node.number != 180 && node.number != 270) {
    reader.fail(node.place, nameOf(spot) + " is " + shown(node.number, "degrees"),
                "Write 0, 90, 180 or 270 (counter-clockwise, seen from above).");
  } else {
    target.setup.rotate_deg = static_cast<int>(node.number);
  }
}

// What can hold the stock without standing at a place of its own.
const std::vector<HoldDownKind>& heldByKinds() {
  static const std::vector<HoldDownKind> kinds{HoldDownKind::vacuum, HoldDownKind::glue, HoldDownKind::tape,
                                               HoldDownKind::vise, HoldDownKind::side_clamp};
  return kinds;
}

std::vector<std::string> heldByWords() {
  std::vector<std::string> words;
  for (const HoldDownKind kind : heldByKinds()) words.emplace_back(wordOf(kind));
  return words;
}

void readHeldBy(Reader& reader, const Spot& spot, SetupText& target) {
  if (const auto i = readWord(reader, spot, heldByWords())) target.held_by = heldByKinds()[*i];
}

// A setup's held_by as a hold-down like others: under the whole stock, or all along its edges. Fitted for all programs
// of the setup.
void addHeldBy(HoldDownKind kind, Setup& setup, Job& job) {
  HoldDown h;
  h.name = wordOf(kind);
  const auto isTaken = [&] {
    return std::any_of(job.hold_downs.begin(), job.hold_downs.end(),
                       [&](const HoldDown& o) { return o.name == h.name; });
  };
  if (isTaken()) h.name += " of setup " + setup.name;
  h.kind = kind;
  h.unplaced = gripsEdges(kind);
  Vec2 size = flat(job.stock.size_mm);
  if (setup.rotate_deg == 90 || setup.rotate_deg == 270) std::swap(size.x, size.y);
  h.at_mm = {size.x / 2, size.y / 2};
  if (job.stock.shape == StockShape::round && !h.unplaced) {
    h.diameter_mm = size.x;
  } else {
    h.size_mm = size;
  }
  h.top_mm = -job.stock.size_mm.z;
  h.place = setup.place;
  const int index = static_cast<int>(job.hold_downs.size());
  job.hold_downs.push_back(std::move(h));
  setup.hold_downs.push_back(index);
  for (ProgramEntry& entry : setup.programs) entry.hold_downs.push_back(index);
}

const std::vector<Key<SetupText>>& setupKeys() {
  // The keys of Setup, read into the text around it.
  const auto of = [](Key<Setup> key) {
    return Key<SetupText>{key.name, key.takes,
                          [read = key.read](Reader& r, const Spot& s, SetupText& t) { read(r, s, t.setup); },
                          key.is_required, key.example};
  };
  static const std::vector<Key<SetupText>> keys{
      unconfirmedKey<SetupText>("setup"),
      of(text("name", &Setup::name)),
      of(word<Setup, Flip>("flip", &Setup::flip,
                           {{"none", Flip::none}, {"front-back", Flip::front_back}, {"left-right", Flip::left_right}})),
      special<SetupText>("rotate", {Form::whole, {}, {}, {"0", "90", "180", "270"}}, readRotate),
      special<SetupText>("zero", {Form::zero, lengths}, [](Reader&, const Spot& s, SetupText& t) { t.zero = &s.node; }),
      of(number("lift", &Setup::lift_mm, lengths, not_negative)),
      special<SetupText>("zero_in_machine", {Form::numbers, lengths, {}, {}, 3},
                         [](Reader& r, const Spot& s, SetupText& t) {
                           if (const auto v = readNumbers(r, s, lengths, any, 3)) {
                             t.setup.zero_in_machine_mm = MachinePoint{(*v)[0], (*v)[1], (*v)[2]};
                           }
                         }),
      special<SetupText>("offsets", {Form::offsets, lengths, {}, offsetNames(), 3}, readOffsets),
      special<SetupText>("hold_downs", {Form::texts},
                         [](Reader&, const Spot& s, SetupText& t) { t.hold_downs = &s.node; }),
      special<SetupText>("held_by", {Form::word, {}, {}, heldByWords()}, readHeldBy),
      required(special<SetupText>("program", {Form::tables},
                                  [](Reader&, const Spot& s, SetupText& t) { t.programs = &s.node; }),
               "`file = \"10-pocket.nc\"`"),
  };
  return keys;
}

const std::vector<Key<ProgramText>>& programKeys() {
  const auto of = [](Key<ProgramEntry> key) {
    return Key<ProgramText>{key.name, key.takes,
                            [read = key.read](Reader& r, const Spot& s, ProgramText& t) { read(r, s, t.entry); },
                            key.is_required, key.example};
  };
  static const std::vector<Key<ProgramText>> keys{
      unconfirmedKey<ProgramText>("setup.program"),
      of(required(text("file", &ProgramEntry::file), "`file = \"10-pocket.nc\"`")),
      of(whole("tool", &ProgramEntry::tool, Range{1})),
      special<ProgramText>("hold_downs", {Form::texts},
                           [](Reader&, const Spot& s, ProgramText& t) { t.hold_downs = &s.node; }),
      of(flag("through", &ProgramEntry::through)),
      of(number("rpm", &ProgramEntry::rpm, rotations, positive)),
  };
  return keys;
}

// One axis of `zero`: a word for low, middle or high, or a length.
std::optional<double> zeroAlong(Reader& reader, const Spot& spot, std::vector<std::string> words,
                                std::vector<double> values) {
  const std::string& text = spot.node.text;
  const bool is_length = spot.node.kind == NodeKind::text && text.find_first_of("0123456789") != std::string::npos;
  if (spot.node.kind != NodeKind::text || is_length) return readNumber(reader, spot, lengths, any);
  if (const auto i = readWord(reader, spot, words)) return values[*i];
  return std::nullopt;
}

void resolveZero(Reader& reader, const Node* zero, const Stock& stock, Setup& setup) {
  Vec3 size = stock.size_mm;
  if (setup.rotate_deg == 90 || setup.rotate_deg == 270) std::swap(size.x, size.y);
  setup.zero_mm = {0, 0, size.z};
  if (!zero) return;  // the default: left, front, top
  if (zero->kind != NodeKind::list || zero->items.size() != 3) {
    reader.fail(zero->place, "`zero` of [[setup]] is not a list of three",
                "Write [\"left\", \"front\", \"top\"], or numbers from the stock's front left bottom corner "
                "in this setup.");
    return;
  }
  const auto& items = zero->items;
  const auto x =
      zeroAlong(reader, {items[0], "zero", setup_section}, {"left", "center", "right"}, {0, size.x / 2, size.x});
  const auto y =
      zeroAlong(reader, {items[1], "zero", setup_section}, {"front", "center", "back"}, {0, size.y / 2, size.y});
  const auto z = zeroAlong(reader, {items[2], "zero", setup_section}, {"top", "bottom"}, {size.z, 0});
  if (!x || !y || !z) return;
  setup.zero_mm = {*x, *y, *z};
  setup.zero_z_on_top = items[2].kind == NodeKind::text && items[2].text == "top";
}

std::vector<int> resolveHoldDowns(Reader& reader, const Node& list, std::string_view list_section, const Job& job) {
  std::vector<std::string> names;
  for (const HoldDown& h : job.hold_downs) names.push_back(h.name);
  std::vector<int> indices;
  for (const auto& [name, place] : readTexts(reader, {list, "hold_downs", list_section})) {
    const auto it = std::find(names.begin(), names.end(), name);
    const int index = static_cast<int>(it - names.begin());
    if (it == names.end()) {
      const std::string nearest = nearestWord(name, names);
      reader.fail(place, "there is no hold-down named " + quoted(name),
                  nearest.empty() ? "Describe it in a section [[hold_down]]."
                                  : "Did you mean " + quoted(nearest) + "? Or describe it in a section [[hold_down]].");
    } else if (std::find(indices.begin(), indices.end(), index) != indices.end()) {
      reader.fail(place, "hold-down " + quoted(name) + " is listed twice", "List it once.");
    } else {
      indices.push_back(index);
    }
  }
  return indices;
}

void readPrograms(Reader& reader, const Node& node, const Job& job, Setup& setup) {
  constexpr std::string_view program_section = "[[setup.program]]";
  std::vector<int> standing = setup.hold_downs;
  const auto tables = tablesOf(reader, {node, "program", setup_section}, program_section);
  if (node.kind == NodeKind::list && node.items.empty())
    failMissingKey(reader, node, setup_section, "setup", "program");
  for (const Node* table : tables) {
    ProgramText text;
    text.entry.place = table->place;
    const std::size_t guesses = reader.unconfirmed.size();
    readTable(reader, *table, program_section, "setup.program", programKeys(), text);
    nameUnconfirmed(reader, guesses, text.entry.file);
    if (text.hold_downs) {
      standing = resolveHoldDowns(reader, *text.hold_downs, program_section, job);
      text.entry.hold_downs_given = true;
    }
    text.entry.hold_downs = standing;
    setup.programs.push_back(std::move(text.entry));
  }
}

}  // namespace

void readSetups(Reader& reader, const Spot& spot, Job& job) {
  std::set<std::string> names;
  for (const Node* table : tablesOf(reader, spot, setup_section)) {
    SetupText text;
    text.setup.place = table->place;
    const std::size_t guesses = reader.unconfirmed.size();
    readTable(reader, *table, setup_section, "setup", setupKeys(), text);
    Setup& setup = text.setup;
    if (setup.name.empty()) setup.name = std::to_string(job.setups.size() + 1);
    nameUnconfirmed(reader, guesses, "setup " + setup.name);
    if (!names.insert(setup.name).second) {
      const Entry* name = findEntry(*table, "name");
      reader.fail(name ? name->value.place : table->place, "there are two setups named " + quoted(setup.name),
                  "Give each [[setup]] its own name.");
    }
    resolveZero(reader, text.zero, job.stock, setup);
    if (text.hold_downs) setup.hold_downs = resolveHoldDowns(reader, *text.hold_downs, setup_section, job);
    if (text.programs) readPrograms(reader, *text.programs, job, setup);
    if (text.held_by) addHeldBy(*text.held_by, setup, job);
    job.setups.push_back(std::move(setup));
  }
}

void listSetupKeys(std::vector<KnownKey>& known) {
  list(known, "setup", setupKeys());
  list(known, "setup.program", programKeys());
}

}  // namespace provecut::job_file
