#include "report/commands/export.h"

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <optional>
#include <ostream>
#include <string>
#include <system_error>
#include <utility>

#include "report/base/visible_text.h"
#include "report/commands/console.h"
#include "report/commands/export_engagement.h"
#include "report/commands/export_moves.h"
#include "report/commands/inputs.h"
#include "report/formats/data/csv.h"
#include "report/formats/data/mesh_file.h"
#include "report/formats/data/parts_json.h"
#include "report/formats/drawing/outline_svg.h"
#include "report/formats/drawing/picture.h"
#include "sim/surface/hollow_surface.h"
#include "sim/surface/stock_surface.h"
#include "sim/surface/vdb_export.h"

namespace provecut {

namespace {

namespace fs = std::filesystem;

bool isMesh(Export what) {
  return what == Export::stl || what == Export::ply || what == Export::vdb;
}

struct CutStock {
  surface::TriangleMesh surface;
  std::optional<surface::StockGrid> voxels;
};

// As fine as the cells; coarser for large stocks, whose surface would take a minute, unless asked for.
double hollowCell_mm(const cutting::DexelField& field, const Options& options) {
  constexpr double max_points = 2e6;  // over the plan
  const double cell = std::max(field.cell_x_mm, field.cell_y_mm);
  if (options.cell_mm > 0) return cell;
  const double plan_mm2 = field.nx * field.cell_x_mm * field.ny * field.cell_y_mm;
  return std::max(cell, std::sqrt(plan_mm2 / max_points));
}

bool writeStock(const Options& options, const Facts& facts, const CutStock& stock) {
  const surface::TriangleMesh& mesh = stock.surface;
  const std::string name = facts.job.name.empty() ? facts.job.file : facts.job.name;
  if (options.what == Export::stl)
    return writeResult(options, [&](std::ostream& out, bool) { writeStl(mesh, name, out); });
  if (options.what == Export::ply)
    return writeResult(options, [&](std::ostream& out, bool) { writePly(mesh, name, out); });
  const Vec3 cell = facts.run.stock.cell_mm;
  // A level set tells where the surface is within a cell: twice the cell holds as much, in a quarter of the time.
  const double size = std::max({cell.x, cell.y, cell.z}) * (options.cell_mm > 0 ? 1 : 2);
  return writeResult(options, [&](std::ostream& out, bool) { surface::writeVdb(mesh, size, *stock.voxels, out); });
}

// A name that any system takes: letters, digits, points and dashes.
std::string fileName(std::string_view text) {
  std::string name;
  for (const char c : text.substr(0, 80)) {
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '-';
    name += plain ? c : '-';
  }
  return name;
}

std::string numbered(std::size_t number) {
  const std::string digits = std::to_string(number);
  return std::string(3 - std::min<std::size_t>(3, digits.size()), '0') + digits;
}

bool writePicture(const fs::path& path, const std::string& svg) {
  errno = 0;
  std::ofstream file(path, std::ios::binary | std::ios::trunc);
  file << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" << svg;
  file.close();
  if (file) return true;
  printCannotWrite(path.string());
  return false;
}

bool writePictures(const Options& options, const Facts& facts) {
  const fs::path folder(options.output);
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) {
    printError("cannot create the folder " + visibleText(options.output) + ": " + error.message());
    return false;
  }
  for (std::size_t i = 0; i < facts.programs.size(); ++i) {
    const std::string name =
        "program-" + numbered(i + 1) + "-" + fileName(fs::path(facts.programs[i].entry->file).stem().string()) + ".svg";
    if (!writePicture(folder / name, programPicture(facts, i))) return false;
  }
  const Report report = checkedReport(facts);
  for (std::size_t i = 0; i < report.findings.size(); ++i) {
    const std::string svg = findingPicture(facts, report.findings[i]);
    if (svg.empty()) continue;
    const std::string name = "finding-" + numbered(i + 1) + "-" + fileName(report.findings[i].rule) + ".svg";
    if (!writePicture(folder / name, svg)) return false;
  }
  return true;
}

// The tree, and beside a file of it the outlines.
bool writeParts(const Options& options, const Facts& facts) {
  if (!writeResult(options, [&](std::ostream& out, bool) { writePartsJson(facts, out); })) return false;
  if (options.output.empty()) return true;
  Options beside = options;
  beside.output = fs::path(options.output).replace_extension(".svg").string();
  if (writeResult(beside, [&](std::ostream& out, bool) { writeOutlineSvg(facts, out); })) return true;
  printError(visibleText(options.output) + " is written and complete; only the outlines in " +
             visibleText(beside.output) + " are missing");
  return false;
}

bool writeAsked(const Options& options, const Facts& facts, const CutStock& stock) {
  if (options.what == Export::pictures) return writePictures(options, facts);
  if (options.what == Export::parts) return writeParts(options, facts);
  if (options.what == Export::hits)
    return writeResult(options, [&](std::ostream& out, bool) { writeHits(facts, out); });
  return writeStock(options, facts, stock);
}

}  // namespace

int runExport(const Options& options) {
  if (options.what == Export::moves) return runExportMoves(options);
  if (options.what == Export::engagement) return runExportEngagement(options);
  LoadOptions load = loadOptions(options);
  load.outlines = options.what == Export::parts;
  CutStock stock;
  if (isMesh(options.what)) {
    load.finished_stock = [&](const cutting::DexelField& field) {
      stock.surface = surface::stockSurface(field);
      if (surface::hasHollows(field))
        stock.surface = surface::surfaceWithHollows(stock.surface, field, hollowCell_mm(field, options));
      if (options.what == Export::vdb) stock.voxels.emplace(field);
    };
  }
  const Loading loading = loadAndTell(options.files.front(), options, load);
  if (!loading.facts) return exit_unusable;
  if (isMesh(options.what) && stock.surface.triangles.empty()) {
    printError("nothing is left of the stock, so there is no surface to write");
    return exit_unusable;
  }
  if (!writeAsked(options, *loading.facts, stock)) return exit_unusable;
  return toldStatusOfReading(*loading.facts, "export");
}

}  // namespace provecut
