#include "report/formats/data/batch_json.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "report/findings/batch.h"
#include "report/formats/data/json.h"
#include "report/formats/data/time_json.h"

namespace provecut {

void writeBatchJson(std::span<const Report> reports, std::ostream& out) {
  const BatchSum sum = batchSum(reports);
  nlohmann::ordered_json j;
  j["provecut"] = 1;
  j["verdict"] = verdictName(sum.verdict);
  j["complete"] = sum.complete;
  j["jobs"] = nlohmann::ordered_json::array();
  for (const Report& report : reports) j["jobs"].push_back(reportJson(report));
  j["counts"] = {{"stop", sum.stop}, {"look", sum.look}, {"note", sum.note}};
  j["time"] = timeJson(sum.time, sum.low, sum.high);
  out << j.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace provecut
