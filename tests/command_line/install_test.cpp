// The installed program finds its files beside itself, and what is installed with it is well-formed.
#include "command_line/program.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <string>

using namespace holdtrue::test;
namespace fs = std::filesystem;

namespace {

bool installed(const std::string& tool) {
    return std::system(("command -v " + tool + " >/dev/null 2>&1").c_str()) == 0;
}
int shell(const std::string& command) { return std::system((command + " >/dev/null 2>&1").c_str()); }

} // namespace

TEST_CASE("cmake --install leaves a program that runs from there") {
    const fs::path prefix = fs::temp_directory_path() / ("holdtrue_install." + std::to_string(::getpid()));
    REQUIRE(shell("cmake --install '" HOLDTRUE_BINARY_DIR "' --prefix '" + prefix.string() + "'") == 0);
    const fs::path share = prefix / "share";
    for (const char* file :
         {"applications/holdtrue.desktop", "icons/hicolor/scalable/apps/holdtrue.svg", "mime/packages/holdtrue.xml",
          "man/man1/holdtrue.1.gz", "bash-completion/completions/holdtrue", "zsh/vendor-completions/_holdtrue",
          "fish/vendor_completions.d/holdtrue.fish", "doc/holdtrue/copyright", "doc/holdtrue/changelog.gz",
          "holdtrue/lessons/03_fire_watch/lesson.toml"})
        CHECK_MESSAGE(fs::is_regular_file(share / file), file);

    // It reads its own copy of the lessons: a change there shows.
    const fs::path lesson = share / "holdtrue/lessons/03_fire_watch/lesson.toml";
    std::string text = content_of(lesson);
    const std::size_t at = text.find("title = \"Fire watch\"");
    REQUIRE(at != std::string::npos);
    write(lesson, text.replace(at, 20, "title = \"Moved here\""));
    REQUIRE(shell("env -u HOLDTRUE_LESSONS '" + (prefix / "bin/holdtrue").string() +
                  "' lesson 3 | grep -q 'Moved here'") == 0);

    // What the desktop entry starts, with no file clicked.
    const std::string entry = content_of(share / "applications/holdtrue.desktop");
    const std::size_t exec = entry.find("\nExec=holdtrue ") + 15, end = entry.find('\n', exec);
    std::string options = entry.substr(exec, end - exec);
    REQUIRE(options.ends_with(" %f"));
    options.resize(options.size() - 3);
    CHECK(shell("'" + (prefix / "bin/holdtrue").string() + "' " + options + " --version") == 0);

    // Each kind of file that it opens is described.
    const std::string kinds = content_of(share / "mime/packages/holdtrue.xml");
    for (std::size_t from = entry.find("MimeType=") + 9, to; (to = entry.find(';', from)) != std::string::npos;
         from = to + 1)
        CHECK_MESSAGE(kinds.find('"' + entry.substr(from, to - from) + '"') != std::string::npos,
                      entry.substr(from, to - from));
    for (const char* pattern : {"*.exercise.toml", "*.plan.toml", "*.handout.zip", "*.handin.zip"})
        CHECK_MESSAGE(kinds.find(pattern) != std::string::npos, pattern);

    const auto quoted = [&](const char* file) { return " '" + (share / file).string() + "'"; };
    if (installed("desktop-file-validate"))
        CHECK(shell("desktop-file-validate" + quoted("applications/holdtrue.desktop")) == 0);
    if (installed("xmllint")) {
        CHECK(shell("xmllint --noout" + quoted("mime/packages/holdtrue.xml")) == 0);
        CHECK(shell("xmllint --noout" + quoted("icons/hicolor/scalable/apps/holdtrue.svg")) == 0);
    }
    fs::remove_all(prefix);
}
