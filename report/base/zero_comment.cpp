#include "report/base/zero_comment.h"

#include <algorithm>
#include <array>
#include <utility>

#include "parser/job/job_words.h"
#include "report/base/comment_tokens.h"

namespace provecut {

namespace {

bool hasWord(const std::vector<CommentToken>& tokens, std::string_view word) {
  return std::any_of(tokens.begin(), tokens.end(), [&](const CommentToken& t) { return t.text == word; });
}

std::string oneOf(const std::vector<CommentToken>& tokens, std::string_view low, std::string_view high) {
  if (hasWord(tokens, low) == hasWord(tokens, high)) return {};
  return std::string(hasWord(tokens, low) ? low : high);
}

bool speaksOfZero(const std::vector<CommentToken>& tokens) {
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    if (tokens[i].text == "origin" || tokens[i].text == "wcs" || tokens[i].text == "zero") return true;
    const bool offset = tokens[i].text == "g" && i + 1 < tokens.size() && tokens[i + 1].value >= 54;
    if (offset && tokens[i + 1].value < 60) return true;
  }
  return false;
}

// Other words for materials than the job file's.
constexpr std::array<std::pair<std::string_view, Material>, 10> other_materials{{
    {"alum", Material::aluminium},
    {"aluminum", Material::aluminium},
    {"aluminio", Material::aluminium},
    {"alu", Material::aluminium},
    {"al", Material::aluminium},
    {"ply", Material::plywood},
    {"perspex", Material::acrylic},
    {"plexiglass", Material::acrylic},
    {"osb", Material::board},
    {"corian", Material::solid_surface},
}};

}  // namespace

std::optional<ZeroComment> readZeroComment(std::string_view text) {
  const std::string plain = plainComment(text);
  const std::vector<CommentToken> tokens = commentTokens(plain);
  if (!speaksOfZero(tokens)) return std::nullopt;
  ZeroComment zero{oneOf(tokens, "left", "right"), oneOf(tokens, "front", "back"), oneOf(tokens, "top", "bottom")};
  if (!zero.x.empty() && zero.y.empty() && !zero.z.empty()) zero = {zero.x, zero.z == "top" ? "back" : "front", {}};
  if (zero.x.empty() || zero.y.empty()) return std::nullopt;
  return zero;
}

std::optional<Material> readMaterialComment(std::string_view text) {
  const std::string plain = plainComment(text);
  const std::vector<CommentToken> tokens = commentTokens(plain);
  const bool of_stock = hasWord(tokens, "material") || hasWord(tokens, "stock") || hasWord(tokens, "panel") ||
                        hasWord(tokens, "sheet") || hasWord(tokens, "plate") || hasWord(tokens, "blank");
  if (!of_stock) return std::nullopt;
  for (const auto& [word, material] : materialWords()) {
    if (hasWord(tokens, word)) return material;
  }
  for (const auto& [word, material] : other_materials) {
    if (hasWord(tokens, word)) return material;
  }
  return std::nullopt;
}

}  // namespace provecut
