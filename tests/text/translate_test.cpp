#include "scratch_folder.h"
#include "text/atomic_file.h"
#include "text/input_error.h"
#include "text/translate.h"

#include <doctest/doctest.h>

#include <string>

using namespace holdtrue;

namespace {

// A folder of translations with these files.
struct Folder : ScratchFolder {
    Folder(std::initializer_list<const char*> files) : ScratchFolder("translate") {
        for (const char* content : files)
            text::write_atomically(path / (std::to_string(count++) + ".toml"), content);
    }
    int count = 0;
};

} // namespace

TEST_CASE("a text without a translation shows in English, one with a translation in its own language") {
    const Folder folder{"\"Turn the part\" = \"Girar la pieza\"\n", "\"Turn\" = \"Girar\"\n"};
    const auto translation = text::Translation::read(folder.path);
    CHECK(std::string(translation("Turn")) == "Girar");
    CHECK(std::string(translation("Turn the part")) == "Girar la pieza");
    CHECK(std::string(translation("Wait")) == "Wait");
    CHECK(std::string(text::Translation()("Turn the part")) == "Turn the part");
}

TEST_CASE("a translation that is not text, or that two files hold, is named by file and line") {
    const auto line_of_problem = [](const Folder& folder) {
        try {
            text::Translation::read(folder.path);
        } catch (const text::InputError& error) {
            return error.problems()[0].line;
        }
        return 0;
    };
    CHECK(line_of_problem({"\"Wait\" = \"Esperar\"\n\"Turn\" = 3\n"}) == 2);
    CHECK(line_of_problem({"\"Wait\" = \"Esperar\"\n", "\"Turn\" = \"Girar\"\n\n\"Wait\" = \"Espere\"\n"}) == 3);
}

TEST_CASE("a sentence is said in the order of the language, with its parts translated and names as they are") {
    const Folder folder{"\"{0} before {1}\" = \"antes de {1}, {0}\"\n\"wait {0}\" = \"esperar {0}\"\n"
                        "\"seam\" = \"cordón\"\n"};
    const auto translation = text::Translation::read(folder.path);
    const text::Sentence wait(text::worded("wait {0}"), {std::string("seam")});
    const text::Sentence whole(text::worded("{0} before {1}"), {wait, text::Sentence::of_file("seam")});
    CHECK(whole.english() == "wait seam before seam");
    CHECK(translation.say(whole) == "antes de cordón, esperar seam");
    CHECK(translation.say(text::Sentence::of_file("a trainee's own {0}")) == "a trainee's own {0}");
    CHECK(translation.say({}).empty());
    CHECK(text::one_of({"a", "b", "c"}).english() == "a, b or c");
}

TEST_CASE("fill puts each value where the pattern names it") {
    CHECK(text::fill("{0} of {1}", {"3", "7"}) == "3 of 7");
    CHECK(text::fill("{1} de {0}", {"3", "7"}) == "7 de 3");
    CHECK(text::fill("{2} {", {"3", "7"}) == "{2} {");
}
