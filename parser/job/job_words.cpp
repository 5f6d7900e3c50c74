#include "parser/job/job_words.h"

#include <algorithm>

namespace provecut {

namespace {

template <class Value>
std::string_view wordIn(const Words<Value>& words, Value value) {
  const auto it = std::find_if(words.begin(), words.end(), [&](const auto& w) { return w.second == value; });
  return it == words.end() ? std::string_view() : std::string_view(it->first);
}

}  // namespace

const Words<ToolShape>& shapeWords() {
  static const Words<ToolShape> words{{"flat", ToolShape::flat},
                                      {"ball", ToolShape::ball},
                                      {"bull", ToolShape::bull},
                                      {"vee", ToolShape::vee},
                                      {"taper-ball", ToolShape::taper_ball},
                                      {"drill", ToolShape::drill},
                                      {"surfacing", ToolShape::surfacing},
                                      {"form", ToolShape::form}};
  return words;
}

const Words<HoldDownKind>& holdDownWords() {
  static const Words<HoldDownKind> words{{"screw", HoldDownKind::screw}, {"clamp", HoldDownKind::clamp},
                                         {"pin", HoldDownKind::pin},     {"tape", HoldDownKind::tape},
                                         {"glue", HoldDownKind::glue},   {"vacuum", HoldDownKind::vacuum},
                                         {"vise", HoldDownKind::vise},   {"side-clamp", HoldDownKind::side_clamp},
                                         {"other", HoldDownKind::other}};
  return words;
}

const Words<Material>& materialWords() {
  static const Words<Material> words{{"softwood", Material::softwood},
                                     {"hardwood", Material::hardwood},
                                     {"plywood", Material::plywood},
                                     {"mdf", Material::mdf},
                                     {"board", Material::board},
                                     {"acrylic", Material::acrylic},
                                     {"polycarbonate", Material::polycarbonate},
                                     {"hdpe", Material::hdpe},
                                     {"solid-surface", Material::solid_surface},
                                     {"aluminium", Material::aluminium},
                                     {"brass", Material::brass},
                                     {"foam", Material::foam}};
  return words;
}

std::string_view wordOf(ToolShape shape) {
  return wordIn(shapeWords(), shape);
}
std::string_view wordOf(HoldDownKind kind) {
  return wordIn(holdDownWords(), kind);
}
std::string_view wordOf(Material material) {
  return wordIn(materialWords(), material);
}

}  // namespace provecut
