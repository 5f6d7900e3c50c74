// Descriptions that a user may have meant instead of the one in the job file, one file for each kind of slip. None is
// told before it is tried.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parser/base/geometry.h"
#include "report/facts/facts.h"
#include "report/facts/load.h"
#include "report/findings/report.h"

namespace provecut::causes {

struct Candidate {
  std::string kind;
  std::string question;
  bool said_by_finding = false;  // a finding asks the same, so that it is told before all others
  bool unusual = false;          // seldom done, so that it is not told where something usual explains as much
  int setup = -1;                // whose findings it would explain; -1: those of the whole job
  std::string file;              // a program, where the change belongs in one; empty: the job file
  Place place;                   // there
  std::string change;
  std::vector<std::string> lines;
  OtherDescription description;
};

// What the lists below are made from.
struct Suspect {
  const Facts& facts;
  const Report& report;
  std::vector<WorkBox> cuts;  // of each setup: what its cutting moves fill
};

Suspect suspectOf(const Report& report);

// True where the finding is of the setup; -1: of any.
bool ofSetup(const Suspect& suspect, const Finding& f, int setup);
// True where the setup (-1: any) has a stop or a look of one of these rules.
bool hasFinding(const Suspect& suspect, int setup, std::initializer_list<std::string_view> rules);
// Stops, and looks, of the setup; -1: of the whole job.
std::size_t countFindings(const Suspect& suspect, int setup, Level level);

// How far the cuts of a setup lie beside the stock, along X and Y together, mm.
double besideStock_mm(const Job& job, const Setup& setup, const WorkBox& cuts);

// True where the deepest cuts of a setup are so few among so many others that they are slips, and say nothing of the
// stock's thickness or of the zero.
bool deepestAreSlips(const Suspect& suspect, std::size_t setup);

// True where a tip that low, in the setup, cuts no deeper into the spoilboard than somebody may mean to. Deeper cuts
// are nonsense of their own, and costly to try.
bool notTooDeep(const Job& job, const Setup& setup, double lowest_mm);

// How thick the stock is, by all likelihood, that a cut so deep just goes through, mm.
double throughStock_mm(const Job& job, double deepest_mm);

// The job as it is told, to be changed.
OtherDescription sameDescription(const Facts& facts);

// "setup back", quoted where the job has several; else "the setup".
std::string inSetup(const Facts& facts, const Setup& setup);

// As the job file would be read: a program without a list of its own keeps what the one before it had.
void listHoldDownsAgain(Setup& setup);

// Each adds the likeliest first.
void addZeroFaces(const Suspect& suspect, std::vector<Candidate>& candidates);
void addZeroCorners(const Suspect& suspect, std::vector<Candidate>& candidates);
void addFlips(const Suspect& suspect, std::vector<Candidate>& candidates);
void addTurnedStock(const Suspect& suspect, std::vector<Candidate>& candidates);
void addZeroHeights(const Suspect& suspect, std::vector<Candidate>& candidates);
void addThicknesses(const Suspect& suspect, std::vector<Candidate>& candidates);
void addJobUnit(const Suspect& suspect, std::vector<Candidate>& candidates);
void addUnits(const Suspect& suspect, std::vector<Candidate>& candidates);
void addArcCentres(const Suspect& suspect, std::vector<Candidate>& candidates);
void addTools(const Suspect& suspect, std::vector<Candidate>& candidates);
void addOrders(const Suspect& suspect, std::vector<Candidate>& candidates);
void addDecimalPoints(const Suspect& suspect, std::vector<Candidate>& candidates);
void addAbsoluteModes(const Suspect& suspect, std::vector<Candidate>& candidates);
void addToolCalls(const Suspect& suspect, std::vector<Candidate>& candidates);
void addUnlistedHoldDowns(const Suspect& suspect, std::vector<Candidate>& candidates);
void addMissingPrograms(const Suspect& suspect, std::vector<Candidate>& candidates);

}  // namespace provecut::causes
