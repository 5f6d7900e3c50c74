#include "report/findings/verdict_words.h"

namespace provecut {

std::string_view levelWord(Level level) {
  switch (level) {
    case Level::note:
      return "Note";
    case Level::look:
      return "Check first";
    case Level::stop:
      return "Stop";
  }
  return {};
}

std::string_view verdictWord(Verdict verdict) {
  switch (verdict) {
    case Verdict::clear:
      return "Clear";
    case Verdict::note:
      return "Clear, with notes";
    case Verdict::look:
      return "Check first";
    case Verdict::stop:
      return "Stop";
  }
  return {};
}

std::string_view verdictSentence(const Report& report) {
  switch (report.verdict) {
    case Verdict::stop:
      return "Do not run this job as it is.";
    case Verdict::look:
      return report.complete ? "Read the findings before you run this job."
                             : "Not everything could be checked. Read the findings before you run this job.";
    case Verdict::note:
      return "No problems found; see the notes.";
    case Verdict::clear:
      return "No problems found.";
  }
  return {};
}

}  // namespace provecut
