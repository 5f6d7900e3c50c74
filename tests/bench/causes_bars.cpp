// How much longer a check takes that looks for likely causes: processor seconds of all threads over those of the check
// alone, in one run. On the sample with a wrong Z zero and a wrong corner planted, and on a real program whose arcs are
// misread; that one lies outside the project, in ../shared/corpus. Ends with 1 where the bar is missed.
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "report/causes/likely_causes.h"
#include "tests/bench/measured_process.h"

namespace {

using namespace provecut;
using namespace provecut::bench;
namespace fs = std::filesystem;

constexpr double most = 10;

double allThreadsSeconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

std::string textOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

// The best of several runs: other work on the machine only ever makes a run longer.
void measureCauses(const char* what, const fs::path& job, const std::string& expected_kind) {
  double alone_s = 1e9, whole_s = 1e9;
  for (int k = 0; k < 3; ++k) {
    const LoadOptions options;
    const double began = allThreadsSeconds();
    const Loading loading = loadJobFile(job.string(), options);
    if (!loading.facts) throw std::runtime_error("cannot read " + job.string());
    Report report = makeReport(*loading.facts);
    const double checked = allThreadsSeconds();
    addLikelyCauses(report, options);
    const double ended = allThreadsSeconds();
    // A job without a cause would be quick for nothing.
    if (report.likely_causes.empty() || report.likely_causes[0].kind != expected_kind)
      throw std::runtime_error(std::string(what) + ": " + expected_kind + " is not named");
    alone_s = std::min(alone_s, checked - began);
    whole_s = std::min(whole_s, ended - began);
  }
  std::printf("processor seconds of %s: check alone %.2f, with likely causes %.2f\n", what, alone_s, whole_s);
  bar(what, whole_s / alone_s, most);
}

void plantedInSample(const fs::path& sample, const char* what, const std::string& zero, const std::string& kind) {
  const testing::TempFolder folder;
  for (const auto& file : fs::directory_iterator(sample))
    folder.write(file.path().filename().string(), textOf(file.path()));
  const std::string right = "zero = [\"left\", \"front\", \"top\"]";
  std::string text = folder.read("job.toml");
  const std::size_t at = text.find(right);
  if (at == std::string::npos) throw std::runtime_error("the sample has another zero");
  folder.write("job.toml", text.replace(at, right.size(), zero));
  measureCauses(what, folder.path() / "job.toml", kind);
}

void arcsMisread(const fs::path& corpus, const fs::path& job) {
  if (!fs::exists(corpus)) {
    std::printf("SKIPPED: no programs at %s\n", corpus.c_str());
    return;
  }
  const testing::TempFolder folder;
  for (const auto& file : fs::directory_iterator(corpus)) {
    const std::string name = file.path().filename().string();
    if (name.starts_with("50-")) folder.write(name, textOf(file.path()));
  }
  folder.write("job.toml", textOf(job));
  measureCauses("misread arcs in a real program", folder.path() / "job.toml", "arc-centres");
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) return 2;
  const fs::path root = arguments[1], sample = root / "samples" / "cribbage-board";
  plantedInSample(sample, "a wrong Z zero in the sample", "zero = [\"left\", \"front\", \"bottom\"]", "zero-face");
  plantedInSample(sample, "a wrong corner in the sample", "zero = [\"right\", \"front\", \"top\"]", "zero-corner");
  arcsMisread(root / ".." / "shared" / "corpus", root / "tests" / "corpus" / "jobs" / "50.toml");
  return missed_bars == 0 ? 0 : 1;
}
