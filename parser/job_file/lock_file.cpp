#include "parser/job_file/lock_file.h"

#include "parser/job_file/job_file_keys.h"

namespace provecut {

namespace job_file {

namespace {

constexpr std::string_view the_lock_file = "the lock file";
// In place of an example: nobody writes this file by hand.
constexpr std::string_view written_by_lock = "as `provecut lock` writes it";

bool isDigest(std::string_view text) {
  return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

Key<LockedProgram> digest(std::string_view name, std::string LockedProgram::*member) {
  return special<LockedProgram>(name, {Form::text}, [=](Reader& reader, const Spot& spot, LockedProgram& target) {
    auto v = readText(reader, spot);
    if (v && !isDigest(*v)) {
      reader.fail(spot.node.place, nameOf(spot) + " is no SHA-256 (64 digits from 0 to 9 and a to f)", {});
    } else if (v) {
      target.*member = std::move(*v);
    }
  });
}

void readToolNumbers(Reader& reader, const Spot& spot, LockedProgram& target) {
  if (spot.node.kind != NodeKind::list) return failType(reader, spot, "a list of tool numbers");
  for (const Node& item : spot.node.items) {
    if (const auto v = readWhole(reader, {item, spot.key, spot.section}, not_negative)) target.tools.push_back(*v);
  }
}

Key<LockedProgram> corner(std::string_view name, WorkPoint WorkBox::*member) {
  return special<LockedProgram>(name, {Form::numbers, lengths, {}, {}, 3},
                                [=](Reader& reader, const Spot& spot, LockedProgram& target) {
                                  const auto v = readNumbers(reader, spot, lengths, any, 3);
                                  if (!v) return;
                                  target.cuts.*member = {(*v)[0], (*v)[1], (*v)[2]};
                                  target.cuts.empty = false;
                                });
}

const std::vector<Key<LockedProgram>>& lockedProgramKeys() {
  const auto must = [](Key<LockedProgram> key) { return required(std::move(key), written_by_lock); };
  static const std::vector<Key<LockedProgram>> keys{
      must(text("file", &LockedProgram::file)),
      must(digest("sha256", &LockedProgram::sha256)),
      must(whole("bytes", &LockedProgram::bytes, not_negative)),
      special<LockedProgram>("comments", {Form::texts},
                             [](Reader& r, const Spot& s, LockedProgram& t) {
                               for (auto& [text, place] : readTexts(r, s)) t.comments.push_back(std::move(text));
                             }),
      must(digest("moves_sha256", &LockedProgram::moves_sha256)),
      must(whole("moves", &LockedProgram::moves, not_negative)),
      must(special<LockedProgram>("tools", {Form::wholes}, readToolNumbers)),
      corner("cuts_from", &WorkBox::low),
      corner("cuts_to", &WorkBox::high),
  };
  return keys;
}

void readLockedPrograms(Reader& reader, const Spot& spot, Lock& lock) {
  for (const Node* table : tablesOf(reader, spot, "[[program]]")) {
    LockedProgram program;
    program.place = table->place;
    readTable(reader, *table, "[[program]]", "program", lockedProgramKeys(), program);
    if (!findEntry(*table, "cuts_from") != !findEntry(*table, "cuts_to"))
      reader.fail(table->place, "[[program]] has only one of `cuts_from` and `cuts_to`", {});
    for (const LockedProgram& other : lock.programs) {
      if (other.file != program.file) continue;
      reader.fail(table->place, "this program is in the lock file twice", {}, {{other.place, "the first one"}});
    }
    lock.programs.push_back(std::move(program));
  }
}

const std::vector<Key<Lock>>& lockKeys() {
  static const std::vector<std::string> verdicts{"clear", "note", "look", "stop"};
  static const std::vector<Key<Lock>> keys{
      required(special<Lock>("lock", {Form::whole, {}, Range{1, 1}},
                             [](Reader& r, const Spot& s, Lock&) {
                               readWhole(r, s, Range{1, 1});
                             }),
               written_by_lock),
      required(text("date", &Lock::date), written_by_lock),
      required(special<Lock>("verdict", {Form::word, {}, {}, verdicts},
                             [](Reader& r, const Spot& s, Lock& t) {
                               if (const auto i = readWord(r, s, verdicts)) t.verdict = verdicts[*i];
                             }),
               written_by_lock),
      required(special<Lock>("program", {Form::tables}, readLockedPrograms), written_by_lock),
  };
  return keys;
}

std::vector<KnownKey> knownLockKeys() {
  std::vector<KnownKey> known;
  list(known, "", lockKeys());
  list(known, "program", lockedProgramKeys());
  return known;
}

}  // namespace

}  // namespace job_file

LockReading readLock(std::string_view toml) {
  using namespace job_file;
  Document document = readDocument(toml);
  if (document.problem) return {std::nullopt, {std::move(*document.problem)}};
  Reader reader{false, knownLockKeys()};
  Lock lock;
  // An empty list is a file cut short, not a job without programs.
  const bool good = readTable(reader, *document.root, the_lock_file, "", lockKeys(), lock);
  if (good && lock.programs.empty()) reader.fail(document.root->place, "the lock file has no program", {});
  if (!reader.problems.empty()) return {std::nullopt, std::move(reader.problems)};
  return {std::move(lock), {}};
}

std::string lockFileOf(const std::string& job_file) {
  constexpr std::size_t ending = std::string_view(".toml").size();
  return (job_file.size() > ending ? job_file.substr(0, job_file.size() - ending) : job_file) + ".lock";
}

}  // namespace provecut
