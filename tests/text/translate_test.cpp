#include "text/atomic_file.h"
#include "text/input_error.h"
#include "text/translate.h"

#include <doctest/doctest.h>

#include <string>

using namespace holdtrue;

TEST_CASE("a text without a translation shows in English, one with a translation in its own language") {
    const auto file = std::filesystem::temp_directory_path() / "holdtrue_translate_test.toml";
    text::write_atomically(file, "\"Turn the part\" = \"Girar la pieza\"\n");
    const auto translation = text::Translation::read(file);
    CHECK(std::string(translation("Turn the part")) == "Girar la pieza");
    CHECK(std::string(translation("Wait")) == "Wait");
    CHECK(std::string(text::Translation()("Turn the part")) == "Turn the part");
    std::filesystem::remove(file);
}

TEST_CASE("a translation that is not text is named by file and line") {
    const auto file = std::filesystem::temp_directory_path() / "holdtrue_translate_bad.toml";
    text::write_atomically(file, "\"Wait\" = \"Esperar\"\n\"Turn\" = 3\n");
    try {
        text::Translation::read(file);
        FAIL("accepted");
    } catch (const text::InputError& error) {
        CHECK(error.problems()[0].line == 2);
    }
    std::filesystem::remove(file);
}

TEST_CASE("fill puts each value where the pattern names it") {
    CHECK(text::fill("{0} of {1}", {"3", "7"}) == "3 of 7");
    CHECK(text::fill("{1} de {0}", {"3", "7"}) == "7 de 3");
    CHECK(text::fill("{2} {", {"3", "7"}) == "{2} {");
}
