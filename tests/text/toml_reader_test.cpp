#include "text/toml_reader.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <functional>

using namespace holdtrue;
using text::Document;
using text::InputError;
using text::Table;

namespace {

// The message lines of reading `toml` with `reader`, joined; empty when there is nothing wrong.
std::string complaints(std::string_view toml, const std::function<void(Table)>& reader) {
    try {
        Document document = Document::parse(toml, "a.toml");
        reader(document.root());
        document.finish();
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

std::string of_thickness(std::string_view toml) {
    return complaints(toml, [](Table root) { root.quantity("thickness", units::length, {0.5e-3, 40e-3}); });
}

} // namespace

TEST_CASE("a quantity is read in any of its units") {
    Document document = Document::parse("thickness_mm = 3\ngap_in = 0.5\nbelow_c = 60\n", "a.toml");
    CHECK(document.root().quantity("thickness", units::length) == doctest::Approx(0.003));
    CHECK(document.root().quantity("gap", units::length) == doctest::Approx(0.0127));
    CHECK(document.root().quantity("below", units::temperature) == doctest::Approx(333.15));
    CHECK_NOTHROW(document.finish());
}

TEST_CASE("a hair past a bound is a hair of that bound, however wide the range") {
    Document document = Document::parse("a = -1\nb = 1e15\nc = 0.9999999999\n", "x.toml");
    Table root = document.root();
    for (const char* key : {"a", "b", "c"})
        root.number(key, {1, 1e15});
    CHECK(document.problem_count() == 1);
}

TEST_CASE("each mistake names file, line and fix") {
    CHECK(of_thickness("\nthickness_mm = 0") == "a.toml:2: thickness_mm is 0; give 0.5 to 40 mm");
    CHECK(of_thickness("thickness = 3") == "a.toml:1: thickness has no unit; write thickness_mm or thickness_in");
    CHECK(of_thickness("thickness_cm = 3") ==
          "a.toml:1: thickness_cm is not in a unit that is known here; write thickness_mm or thickness_in");
    CHECK(of_thickness("thickness_mm = \"3\"") == "a.toml:1: thickness_mm is not a number; give 0.5 to 40 mm");
    CHECK(of_thickness("thickness_mm = nan") == "a.toml:1: thickness_mm is nan; give 0.5 to 40 mm");
    CHECK(of_thickness("thickness_mm = 3\nthickness_in = 0.12") ==
          "a.toml:2: thickness_in repeats thickness_mm in another unit; keep one of the two");
    CHECK(of_thickness("thickness_mm = 3\nthicknes = 2") ==
          "a.toml:2: unknown key thicknes; known here: thickness_in or thickness_mm");
    CHECK(of_thickness("thickness_mm = 3\nthickness_m = = 2").starts_with("a.toml:2: is not valid TOML"));
}

TEST_CASE("a misspelt word is met with the nearest known one") {
    const auto read = [](Table root) {
        root.choice<int>("kind", {{"plate", 0}, {"channel", 1}});
        root.text("title", "");
    };
    CHECK(complaints("kind = \"chanel\"", read) ==
          "a.toml:1: kind is \"chanel\"; did you mean \"channel\"? It can be plate or channel");
    CHECK(complaints("kind = \"plate\"\ntitel = \"x\"", read) ==
          "a.toml:2: unknown key titel; did you mean \"title\"?");
}

TEST_CASE("all mistakes of a file are told, in line order") {
    const std::string lines = complaints("b = 1\na_mm = -1\n", [](Table root) {
        root.quantity("a", units::length, {0, 1});
        root.text("c");
    });
    CHECK(lines == "a.toml:1: c is missing; add c = \"...\"\n"
                   "a.toml:1: unknown key b; known here: a_in, a_mm or c\n"
                   "a.toml:2: a_mm is -1; give 0 to 1000 mm");
}

TEST_CASE("unknown keys are found in nested tables too") {
    CHECK(complaints("[[panel]]\nname = \"a\"\n[[panel]]\nnmae = \"b\"\n", [](Table root) {
              for (Table panel : root.tables("panel"))
                  panel.text("name", "");
          }) == "a.toml:4: unknown key nmae; did you mean \"name\"?");
}

TEST_CASE("what is no file is refused at once: a pipe that nobody writes into would be waited for") {
    const auto complaint = [](const std::filesystem::path& path) -> std::string {
        try {
            Document::read(path);
        } catch (const InputError& error) {
            return error.what();
        }
        return "";
    };
    const auto pipe = std::filesystem::temp_directory_path() / ("holdtrue_pipe." + std::to_string(::getpid()));
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(complaint(pipe).find("it is a pipe or a device") != std::string::npos);
    std::filesystem::remove(pipe);
    CHECK(complaint("/dev/zero").find("it is a pipe or a device") != std::string::npos);
    CHECK(complaint(pipe).find("cannot be read") != std::string::npos); // gone
    CHECK(complaint(std::filesystem::temp_directory_path()).find("is a folder") != std::string::npos);
}

TEST_CASE("a file cannot steer the terminal that shows it") {
    const auto title = [](Table root) { root.text("title"); };
    CHECK(complaints("title = \"\\u001b[2J\"\n", title) ==
          "a.toml:1: title holds a control character; write it without");
    CHECK(complaints("title = \"two\\nlines\"\n", title) == "");
    // Where a message quotes what was written.
    const std::string unknown = complaints("title = \"x\"\n\"\\u001b[31m\\u009b\" = 1\n", title);
    CHECK(unknown.find("unknown key") != std::string::npos);
    CHECK(unknown.find('\x1b') == std::string::npos);
    CHECK(unknown.find("\xc2\x9b") == std::string::npos);
}
