// The top of the job file, and its small sections: [stock], [spoilboard], [limits], [[accept]].
#include "parser/job_file/job_file.h"

#include <algorithm>
#include <cmath>

#include "parser/base/nearest_word.h"
#include "parser/job/job_words.h"
#include "parser/job_file/job_file_keys.h"

namespace provecut {

namespace job_file {

namespace {

constexpr int version = 1;

std::vector<std::pair<std::string, const WoodSpecies*>> speciesWords() {
  std::vector<std::pair<std::string, const WoodSpecies*>> words;
  for (const WoodSpecies& s : wood_species) words.emplace_back(s.name, &s);
  return words;
}

const std::vector<Key<Stock>>& stockKeys() {
  static const std::vector<Key<Stock>> keys{
      unconfirmedKey<Stock>("stock"),
      required(triple("size", &Stock::size_mm, lengths, positive), "`size = [480, 130, 19.05]`: X, Y and thickness"),
      word<Stock, StockShape>("shape", &Stock::shape,
                              {{"rectangle", StockShape::rectangle}, {"round", StockShape::round}}),
      word<Stock, Grain>("grain", &Stock::grain, {{"x", Grain::x}, {"y", Grain::y}, {"none", Grain::none}}),
      number("thickness_tolerance", &Stock::thickness_tolerance_mm, lengths, not_negative),
      word("material", &Stock::material, materialWords()),
      word<Stock, const WoodSpecies*>("species", &Stock::species, speciesWords()),
  };
  return keys;
}

const std::vector<Key<Spoilboard>>& spoilboardKeys() {
  static const std::vector<Key<Spoilboard>> keys{
      unconfirmedKey<Spoilboard>("spoilboard"),
      number("thickness", &Spoilboard::thickness_mm, lengths, not_negative),  // 0: the stock lies on the bed
      number("allowed_cut", &Spoilboard::allowed_cut_mm, lengths, not_negative),
  };
  return keys;
}

const std::vector<Key<Limits>>& limitsKeys() {
  static const std::vector<Key<Limits>> keys{
      number("clearance", &Limits::clearance_mm, lengths, not_negative),
      number("min_floor", &Limits::min_floor_mm, lengths, not_negative),
      number("min_tab_area", &Limits::min_tab_area_mm2, areas, not_negative),
      number("max_deflection", &Limits::max_deflection_mm, lengths, positive),
      number("cell", &Limits::cell_mm, lengths, not_negative),
  };
  return keys;
}

const std::vector<Key<Accept>>& acceptKeys() {
  static const std::vector<Key<Accept>> keys{
      required(text("rule", &Accept::rule), "`rule = \"...\"`: the rule named in the finding"),
      text("program", &Accept::program),
      text("subject", &Accept::subject),
      number("max_amount", &Accept::max_amount, counts, any),  // as written: only its rule knows what it measures
      required(text("reason", &Accept::reason), "`reason = \"...\"`: why you accept it"),
  };
  return keys;
}

std::string shownLength(const Reader& reader, double mm) {
  return shown(mm / reader.factor(lengths), reader.unit(lengths));
}

void readStock(Reader& reader, const Spot& spot, Job& job) {
  Stock& stock = job.stock;
  const bool good = readTable(reader, spot.node, "[stock]", "stock", stockKeys(), stock);
  const Entry* material = findEntry(spot.node, "material");
  stock.material_given = material != nullptr;
  if (good) job.limits.min_floor_mm = usualMinFloor_mm(stock.size_mm.z);
  if (good && stock.species) {
    const Material own = stock.species->hardwood ? Material::hardwood : Material::softwood;
    if (!stock.material_given) {
      stock.material = own;
      stock.material_given = true;
    } else if (stock.material != own) {
      reader.fail(material->value.place,
                  std::string(stock.species->name) + " is " + std::string(wordOf(own)) + ", not " +
                      std::string(wordOf(stock.material)),
                  "Write `material = \"" + std::string(wordOf(own)) + "\"`, or delete `species`.");
    }
  }
  if (good && stock.shape == StockShape::round && stock.size_mm.x != stock.size_mm.y) {
    reader.fail(findEntry(spot.node, "size")->value.place,
                "round stock is " + shownLength(reader, stock.size_mm.x) + " in X, but " +
                    shownLength(reader, stock.size_mm.y) + " in Y",
                "Write its diameter for both: `size = [100, 100, 18]`.");
  }
  if (good && stock.thickness_tolerance_mm >= stock.size_mm.z) {
    reader.fail(findEntry(spot.node, "thickness_tolerance")->value.place,
                "the thickness tolerance of " + shownLength(reader, stock.thickness_tolerance_mm) +
                    " is not less than the stock's thickness of " + shownLength(reader, stock.size_mm.z),
                "`thickness_tolerance` is how far the real thickness may be off, either way.");
  }
}

void readSpoilboard(Reader& reader, const Spot& spot, Job& job) {
  Spoilboard& board = job.spoilboard;
  if (!readTable(reader, spot.node, "[spoilboard]", "spoilboard", spoilboardKeys(), board)) return;
  const Entry* allowed_cut = findEntry(spot.node, "allowed_cut");
  if (!allowed_cut) {
    board.allowed_cut_mm = std::min(board.allowed_cut_mm, board.thickness_mm);
  } else if (board.allowed_cut_mm > board.thickness_mm) {
    reader.fail(allowed_cut->value.place,
                "`allowed_cut` is " + shownLength(reader, board.allowed_cut_mm) + ", but the spoilboard is only " +
                    shownLength(reader, board.thickness_mm) + " thick",
                "Write a number up to " + shown(board.thickness_mm / reader.factor(lengths)) +
                    ": `allowed_cut` is the deepest cut you allow into the spoilboard.");
  }
}

void readLimits(Reader& reader, const Spot& spot, Job& job) {
  if (!readTable(reader, spot.node, "[limits]", "limits", limitsKeys(), job.limits)) return;
  job.limits.min_tab_area_given = findEntry(spot.node, "min_tab_area") != nullptr;
  const double cell = job.limits.cell_mm;
  const Vec3 size = job.stock.size_mm;
  constexpr double max_cells = 4e8;
  if (cell == 0 || !(size.x > 0)) return;
  const double cells = size.x * size.y / (cell * cell);
  if (cells > max_cells) {
    reader.fail(findEntry(spot.node, "cell")->value.place,
                "`cell` is " + shownLength(reader, cell) + ": too fine for stock of this size",
                "Write at least " +
                    shownLength(reader, std::ceil(std::sqrt(size.x * size.y / max_cells) * 1000) / 1000) +
                    ", or 0 to let provecut choose.");
  }
}

void readAccepts(Reader& reader, const Spot& spot, Job& job) {
  for (const Node* table : tablesOf(reader, spot, "[[accept]]")) {
    Accept accept;
    accept.place = table->place;
    readTable(reader, *table, "[[accept]]", "accept", acceptKeys(), accept);
    job.accepts.push_back(std::move(accept));
  }
}

// Read before all others, which depend on it.
void skip(Reader&, const Spot&, Job&) {}

// In the order in which they are read: later ones look at what the earlier ones gave.
const std::vector<Key<Job>>& topKeys() {
  static const std::vector<Key<Job>> keys{
      required(special<Job>("version", {Form::whole, {}, Range{version, version}}, skip), "`version = 1`"),
      text("name", &Job::name),
      special<Job>("units", {Form::word, {}, {}, {"mm", "in"}}, skip),
      special<Job>("machine", {Form::table}, readMachine),
      required(special<Job>("stock", {Form::table}, readStock), "`size = [480, 130, 19.05]`: X, Y and thickness"),
      special<Job>("spoilboard", {Form::table}, readSpoilboard),
      special<Job>("tool", {Form::tables}, readTools),
      special<Job>("collet_nut", {Form::table}, readColletNut),
      special<Job>("spindle_attachment", {Form::tables}, readAttachments),
      special<Job>("hold_down", {Form::tables}, readHoldDowns),
      required(special<Job>("setup", {Form::tables}, readSetups), "a section [[setup.program]] in it"),
      special<Job>("limits", {Form::table}, readLimits),
      special<Job>("accept", {Form::tables}, readAccepts),
      special<Job>("quote", {Form::table}, readQuote),
  };
  return keys;
}

constexpr std::string_view top = "the job file";

// False when the rest would be read by the wrong rules.
bool readVersion(Reader& reader, const Node& root) {
  const Entry* entry = findEntry(root, "version");
  if (!entry) return true;  // said with the other missing keys
  if (entry->value.kind == NodeKind::whole && entry->value.whole == version) return true;
  if (entry->value.kind == NodeKind::whole) {
    reader.fail(
        entry->value.place,
        "this job file is version " + std::to_string(entry->value.whole) + ", but this provecut reads version 1",
        "Write `version = 1` and the keys of that version.");
    return false;
  }
  failType(reader, {entry->value, "version", top}, "`version = 1`");
  return true;
}

void readUnits(Reader& reader, const Node& root) {
  const Entry* entry = findEntry(root, "units");
  if (!entry) return;
  const std::vector<std::string> words{"mm", "in"};
  if (const auto i = readWord(reader, {entry->value, "units", top}, words)) reader.inches = *i == 1;
}

// The file has it under another name, which is said where it stands.
bool isMisnamed(const Node& root, std::string_view key) {
  std::vector<std::string> names;
  for (const Key<Job>& k : topKeys()) names.emplace_back(k.name);
  return std::any_of(root.entries.begin(), root.entries.end(), [&](const Entry& entry) {
    return std::find(names.begin(), names.end(), entry.key) == names.end() && meantWord(entry.key, names) == key;
  });
}

void readTop(Reader& reader, const Node& root, Job& job) {
  readUnits(reader, root);
  job.inches = reader.inches;
  for (const Key<Job>& key : topKeys()) {
    const Entry* entry = findEntry(root, key.name);
    if (entry) {
      key.read(reader, {entry->value, key.name, top}, job);
    } else if (key.is_required && !isMisnamed(root, key.name)) {
      failMissingKey(reader, root, top, "", key.name);
    }
  }
  for (const Entry& entry : root.entries) {
    const bool known =
        std::any_of(topKeys().begin(), topKeys().end(), [&](const auto& k) { return k.name == entry.key; });
    if (!known) failUnknownKey(reader, entry, top, "");
  }
  if (findEntry(root, "hold_down") && reader.problems.empty()) checkHoldDowns(reader, job);
  job.unconfirmed = std::move(reader.unconfirmed);
}

// "jobs/board.toml" → "board"
std::string stem(const std::string& file) {
  const std::size_t slash = file.find_last_of("/\\");
  const std::string name = slash == std::string::npos ? file : file.substr(slash + 1);
  return name.substr(0, name.rfind('.'));
}

}  // namespace

std::vector<KnownKey> knownKeys() {
  std::vector<KnownKey> known;
  list(known, "", topKeys());
  listMachineKeys(known);
  list(known, "stock", stockKeys());
  list(known, "spoilboard", spoilboardKeys());
  listToolKeys(known);
  listHoldDownKeys(known);
  listSetupKeys(known);
  list(known, "limits", limitsKeys());
  list(known, "accept", acceptKeys());
  listQuoteKeys(known);
  return known;
}

}  // namespace job_file

bool isJobFileName(std::string_view file) {
  constexpr std::string_view ending = ".toml";
  return file.size() >= ending.size() && editDistance(file.substr(file.size() - ending.size()), ending) == 0;
}

JobReading readJob(std::string_view toml, const std::string& file) {
  job_file::Document document = job_file::readDocument(toml);
  if (document.problem) return {std::nullopt, {std::move(*document.problem)}};
  job_file::Reader reader{false, job_file::knownKeys()};
  Job job;
  job.file = file;
  job.name = job_file::stem(file);
  if (job_file::readVersion(reader, *document.root)) job_file::readTop(reader, *document.root, job);
  std::stable_sort(reader.problems.begin(), reader.problems.end(),
                   [](const JobFileProblem& a, const JobFileProblem& b) {
                     return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
                   });
  if (!reader.problems.empty()) return {std::nullopt, std::move(reader.problems)};
  return {std::move(job), {}};
}

}  // namespace provecut
