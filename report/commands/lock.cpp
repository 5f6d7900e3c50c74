#include "report/commands/lock.h"

#include <fmt/format.h>

#include <chrono>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <sstream>
#include <system_error>

#include "parser/job_file/lock_file.h"
#include "report/base/text_file.h"
#include "report/base/visible_text.h"
#include "report/base/wording.h"
#include "report/commands/console.h"
#include "report/commands/inputs.h"
#include "report/facts/locked.h"
#include "report/findings/verdict_words.h"
#include "report/formats/data/lock_toml.h"

namespace provecut {

namespace {

std::string today() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  if (!localtime_r(&now, &parts)) return "an unknown day";
  char buffer[16];
  return {buffer, std::strftime(buffer, sizeof buffer, "%Y-%m-%d", &parts)};
}

// The lock that is there.
struct Before {
  bool there = false;
  std::optional<Lock> lock;  // absent: it cannot be read
};

Before lockBefore(const std::string& path) {
  std::error_code code;
  Before before;
  before.there = std::filesystem::exists(path, code) || code;
  if (!before.there) return before;
  const TextFile file = readTextFile(path);
  if (file.error.empty()) before.lock = readLock(file.bytes).lock;
  return before;
}

struct Change {
  std::string file, what;
};

// Program by program; empty where both keep the same files.
std::vector<Change> changes(const Job& job, const Lock& was, const Lock& now) {
  std::vector<Change> out;
  for (const LockedProgram& p : now.programs) {
    const LockedProgram* old = findLocked(was, p.file);
    if (!old) {
      out.push_back({p.file, "new in the job"});
    } else if (old->sha256 != p.sha256) {
      const std::vector<std::string> different = differences(job, *old, p);
      out.push_back(
          {p.file, old->moves_sha256 == p.moves_sha256 ? std::string("another file with the same moves")
                   : different.empty()
                       ? std::string("another path, feed or speed; moves, depth, tools and extents are the same")
                       : fmt::format("{}", fmt::join(different, "; "))});
    }
  }
  for (const LockedProgram& p : was.programs) {
    if (!findLocked(now, p.file)) out.push_back({p.file, "no longer in the job"});
  }
  return out;
}

std::string changeLines(std::span<const Change> list) {
  std::string out;
  for (const Change& c : list) out += "  " + visibleText(c.file) + ": " + visibleText(c.what) + "\n";
  return out;
}

int refuse(const std::string& path, const Before& before, std::span<const Change> list) {
  const std::string name = visibleText(path);
  if (!before.lock) {
    printError(name + " is there, but cannot be read as a lock file; check the job, then add --update to replace it");
  } else {
    printError(name + " of " + visibleText(before.lock->date) +
               " has other programs; check the job, then add --update to replace it\n" + changeLines(list));
  }
  return exit_unusable;
}

// Beside it first: what fails half-way leaves the lock before as it was.
bool writeFile(const Lock& lock, const std::string& job_file, const std::string& path) {
  const std::string unfinished = path + ".part";
  std::ofstream out(unfinished, std::ios::binary);
  writeLock(lock, std::filesystem::path(job_file).filename().string(), out);
  out.close();
  std::error_code failed;
  if (out) std::filesystem::rename(unfinished, path, failed);
  if (out && !failed) return true;
  if (std::filesystem::is_regular_file(unfinished, failed)) std::filesystem::remove(unfinished, failed);
  printCannotWrite(path);
  return false;
}

void tell(const Report& report, const std::string& path, const Lock& lock, std::span<const Change> list,
          std::ostream& out) {
  out << visibleText(path) << ": " << plural(lock.programs.size(), "program", "programs") << " locked.\n"
      << changeLines(list) << "Check: " << verdictWord(report.verdict) << ". " << verdictSentence(report) << '\n';
}

}  // namespace

int runLock(const Options& options) {
  const std::string& job_file = options.files.front();
  const Loading loading = loadAndTell(job_file, options, loadOptions(options));
  if (!loading.facts) return exit_unusable;
  const Report report = checkedReport(*loading.facts);
  const std::string path = lockFileOf(job_file);
  const Before before = lockBefore(path);
  Lock lock = lockOf(*loading.facts);
  lock.date = today();
  lock.verdict = verdictName(report.verdict);

  const std::vector<Change> list =
      before.lock ? changes(loading.facts->job, *before.lock, lock) : std::vector<Change>{};
  const bool up_to_date = before.lock && list.empty();
  if (before.there && !up_to_date && !options.update) return refuse(path, before, list);
  if (!(up_to_date && !options.update) && !writeFile(lock, job_file, path)) return exit_unusable;
  const bool told = writeResult(options, [&](std::ostream& out, bool) { tell(report, path, lock, list, out); });
  return told ? statusOfReading(*loading.facts) : exit_unusable;
}

}  // namespace provecut
