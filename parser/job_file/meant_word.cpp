// What a word most likely stands for, where the file has another one for it.
#include <algorithm>
#include <array>

#include "parser/base/nearest_word.h"
#include "parser/job_file/job_file_value.h"

namespace provecut::job_file {

namespace {

// The shop's other words, too far in spelling to be found by it; of several for one word the first that is known there
// counts.
constexpr std::array<std::pair<std::string_view, std::string_view>, 112> other_words{{
    {"blank", "stock"},
    {"workpiece", "stock"},
    {"max_pass", "max_stepdown"},
    {"skim", "allowed_cut"},
    {"pieces", "parts_per_stock"},
    {"inch", "in"},
    {"inches", "in"},
    // bits
    {"endmill", "flat"},
    {"end mill", "flat"},
    {"end-mill", "flat"},
    {"upcut", "flat"},
    {"downcut", "flat"},
    {"compression", "flat"},
    {"straight", "flat"},
    {"spiral", "flat"},
    {"router bit", "flat"},
    {"ballnose", "ball"},
    {"ball nose", "ball"},
    {"ball-nose", "ball"},
    {"roundnose", "ball"},
    {"round nose", "ball"},
    {"bullnose", "bull"},
    {"bull nose", "bull"},
    {"bull-nose", "bull"},
    {"v-bit", "vee"},
    {"vbit", "vee"},
    {"v bit", "vee"},
    {"v", "vee"},
    {"v-carve", "vee"},
    {"vcarve", "vee"},
    {"engraver", "vee"},
    {"engraving", "vee"},
    {"chamfer", "vee"},
    {"tapered", "taper-ball"},
    {"tapered ball", "taper-ball"},
    {"tapered ball nose", "taper-ball"},
    {"spot drill", "drill"},
    {"twist drill", "drill"},
    {"brad point", "drill"},
    {"facemill", "surfacing"},
    {"face mill", "surfacing"},
    {"fly cutter", "surfacing"},
    {"flycutter", "surfacing"},
    {"spoilboard", "surfacing"},
    {"dovetail", "form"},
    {"keyhole", "form"},
    {"t-slot", "form"},
    {"roundover", "form"},
    {"ogee", "form"},
    {"bead", "form"},
    {"round over", "form"},
    {"round-over", "form"},
    {"tslot", "form"},
    {"t slot", "form"},
    {"t-slot cutter", "form"},
    {"slot cutter", "form"},
    {"keyhole cutter", "form"},
    {"dovetail bit", "form"},
    {"cove", "ball"},
    {"core box", "ball"},
    {"corebox", "ball"},
    {"bowl", "bull"},
    {"countersink", "vee"},
    {"forstner", "drill"},
    {"up-cut", "flat"},
    {"down-cut", "flat"},
    {"rabbet", "flat"},
    {"spoilboard cutter", "surfacing"},
    {"drag knife", "flat"},
    {"drag-knife", "flat"},
    // hold-downs
    {"vice", "vise"},
    {"vise", "clamp"},
    {"vice", "clamp"},
    {"toe clamp", "side-clamp"},
    {"toe clamp", "clamp"},
    {"wedge", "side-clamp"},
    {"wedge", "other"},
    {"vacuum", "other"},
    {"glue", "tape"},
    {"cam", "clamp"},
    {"bolt", "screw"},
    {"nail", "screw"},
    {"brad", "screw"},
    {"dowel", "pin"},
    {"double-sided tape", "tape"},
    // materials
    {"aluminum", "aluminium"},
    {"alu", "aluminium"},
    {"perspex", "acrylic"},
    {"plexiglass", "acrylic"},
    {"plexiglas", "acrylic"},
    {"pmma", "acrylic"},
    {"pc", "polycarbonate"},
    {"ply", "plywood"},
    {"birch plywood", "plywood"},
    {"hdf", "board"},
    {"osb", "board"},
    {"particle board", "board"},
    {"particleboard", "board"},
    {"chipboard", "board"},
    {"melamine", "board"},
    {"hardboard", "board"},
    {"delrin", "hdpe"},
    {"uhmw", "hdpe"},
    {"polyethylene", "hdpe"},
    {"corian", "solid-surface"},
    {"solid surface", "solid-surface"},
    {"pine", "softwood"},
    {"spruce", "softwood"},
    {"oak", "hardwood"},
    {"maple", "hardwood"},
    {"walnut", "hardwood"},
}};

std::string lowerCase(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

}  // namespace

std::string meantWord(std::string_view written, std::span<const std::string> candidates) {
  const std::string lower = lowerCase(written);
  for (const auto& [other, ours] : other_words) {
    if (other == lower && std::find(candidates.begin(), candidates.end(), ours) != candidates.end())
      return std::string(ours);
  }
  return nearestWord(written, candidates);
}

}  // namespace provecut::job_file
