// Manual page and completions: what --help says is what they say, and the programs that read them take them.
#include <gmock/gmock.h>

#include <cstdlib>
#include <string>

#include "report/command_line/command_line.h"
#include "tests/report/running.h"

namespace provecut {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::Ran;
using testing::runProvecut;
using testing::runShell;
using testing::TempFolder;

Ran heard(const TempFolder& folder, const std::string& line) {
  return runShell(folder.path(), line + " 2>&1");
}

TEST(Manual, names_every_command_and_option_that_help_names) {
  TempFolder folder;
  const std::string page = runProvecut(folder, {"manual"}).out;
  const ProgramHelp help = describeCommandLine();
  ASSERT_GE(help.commands.size(), 10u);
  for (const CommandHelp& c : help.commands) {
    std::vector<std::string> arguments{"--help"};
    if (!c.name.empty()) arguments.insert(arguments.begin(), c.name);
    const std::string shown = runProvecut(folder, arguments).out;
    for (const OptionHelp& o : c.options) {
      for (const std::string& name : o.names) {
        EXPECT_THAT(shown, HasSubstr(name)) << c.name;
        std::string roff;
        for (const char ch : name) roff += ch == '-' ? std::string("\\-") : std::string(1, ch);
        EXPECT_THAT(page, HasSubstr(roff)) << c.name;
      }
    }
  }
}

TEST(Manual, only_a_point_or_quote_that_begins_a_line_is_protected) {
  TempFolder folder;
  const std::string page = runProvecut(folder, {"manual"}).out;
  for (std::size_t at = page.find("\\&"); at != std::string::npos; at = page.find("\\&", at + 1)) {
    EXPECT_EQ(page.at(at - 1), '\n') << page.substr(at, 40);
    EXPECT_THAT(std::string(".'"), HasSubstr(page.substr(at + 2, 1))) << page.substr(at, 40);
  }
}

TEST(Manual, mandoc_finds_nothing_to_complain_about) {
  ASSERT_STRNE(MANDOC, "MANDOC-NOTFOUND");
  TempFolder folder;
  folder.write("provecut.1", runProvecut(folder, {"manual"}).out);
  const Ran lint =
      heard(folder, std::string(MANDOC) + " -T lint -W warning " + (folder.path() / "provecut.1").string());
  EXPECT_EQ(lint.status, 0) << lint.out;
  const Ran shown =
      heard(folder, std::string(MANDOC) + " -T utf8 " + (folder.path() / "provecut.1").string() + " | col -b");
  EXPECT_THAT(shown.out, HasSubstr("provecut export"));
  EXPECT_THAT(shown.out, HasSubstr("hold-down-hit"));
}

// What bash offers for the words so far.
std::string offered(const TempFolder& folder, const std::string& words, int index) {
  folder.write("ask", "source " + (folder.path() / "provecut.bash").string() + "\ncd " + folder.path().string() +
                          "\nCOMP_WORDS=(" + words + ")\nCOMP_CWORD=" + std::to_string(index) +
                          "\n_provecut\nprintf '%s ' \"${COMPREPLY[@]}\"\n");
  return heard(folder, "bash " + (folder.path() / "ask").string()).out;
}

TEST(Completions, in_bash_offer_commands_options_values_rules_and_files) {
  TempFolder folder;
  folder.write("provecut.bash", runProvecut(folder, {"completions", "bash"}).out);
  folder.write("my-job.toml", "");
  EXPECT_EQ(offered(folder, "provecut ex", 1), "explain export ");
  EXPECT_EQ(offered(folder, "provecut check --fail", 2), "--fail-on ");
  EXPECT_EQ(offered(folder, "provecut check --fail-on ''", 3), "stop look note never ");
  EXPECT_EQ(offered(folder, "provecut explain hold-down-h", 2), "hold-down-hit ");
  EXPECT_EQ(offered(folder, "provecut check my", 2), "my-job.toml ");
  EXPECT_EQ(offered(folder, "provecut completions z", 2), "zsh ");
}

TEST(Completions, are_taken_by_zsh) {
  TempFolder folder;
  folder.write("completion", runProvecut(folder, {"completions", "zsh"}).out);
  const Ran checked = heard(folder, "zsh -n " + (folder.path() / "completion").string());
  EXPECT_EQ(checked.status, 0) << checked.out;
  EXPECT_THAT(checked.out, IsEmpty());
}

// What fish offers for the words so far, without what it says of each.
std::string offeredByFish(const TempFolder& folder, const std::string& words) {
  folder.write("ask", "source " + (folder.path() / "provecut.fish").string() + "\ncd " + folder.path().string() +
                          "\ncomplete -C '" + words + "' | string split -f1 \\t | string join ' '\n");
  return heard(folder, "HOME=" + folder.path().string() + " fish --no-config " + (folder.path() / "ask").string()).out;
}

TEST(Completions, in_fish_offer_commands_options_values_rules_and_files) {
  TempFolder folder;
  folder.write("provecut.fish", runProvecut(folder, {"completions", "fish"}).out);
  folder.write("my-job.toml", "");
  EXPECT_EQ(offeredByFish(folder, "provecut ex"), "explain export\n");
  EXPECT_EQ(offeredByFish(folder, "provecut check --fail"), "--fail-on\n");
  EXPECT_EQ(offeredByFish(folder, "provecut check --fail-on n"), "never note\n");
  EXPECT_EQ(offeredByFish(folder, "provecut explain hold-down-h"), "hold-down-hit\n");
  EXPECT_EQ(offeredByFish(folder, "provecut check my"), "my-job.toml\n");
  EXPECT_EQ(offeredByFish(folder, "provecut completions z"), "zsh\n");
}

TEST(Completions, for_a_shell_that_is_not_known_give_2) {
  TempFolder folder;
  EXPECT_EQ(runProvecut(folder, {"completions", "tcsh"}).status, 2);
  EXPECT_EQ(runProvecut(folder, {"completions"}).status, 2);
}

}  // namespace
}  // namespace provecut
