#include "text/toml_reader.h"

#include <doctest/doctest.h>

#include <string>

using namespace holdtrue;

namespace {

std::string told(const std::string& toml) {
    try {
        text::Document::parse(toml, "a.toml");
    } catch (const text::InputError& error) {
        return error.what();
    }
    return "nothing";
}

} // namespace

TEST_CASE("what is not TOML is told by its line, in words that say what to mend") {
    const auto says = [](const std::string& toml, const std::string& words) {
        CAPTURE(told(toml));
        CHECK(told(toml).find(words) != std::string::npos);
    };
    says("a = 1\na = 2\n", "a.toml:2: is not valid TOML: a name that is given above is given again");
    says("a = 1\nleg_mm = 3,5\n", "a.toml:2: is not valid TOML: a number is written with a comma");
    says("a = 1\nname = web\nb = 2\n", "a.toml:2: is not valid TOML: a text stands without quotes");
    says("a = 1\nname = \"web\nb = 2\n", "a.toml:2: is not valid TOML: a quote is opened and not closed");
    says("a = 1\nweld the web\n", "a.toml:2: is not valid TOML: \"weld the web\" is neither name = value nor [name]");
    says("a = 1\nb =\nc = 2\n", "a.toml:2: is not valid TOML: there is no value after =");
    says("a = 1\nb = = 2\n", "a.toml:2: is not valid TOML: \"b = = 2\" cannot be read");
    says("a = \"\xff\"\n", "save the file as UTF-8");
    says("a = [1, 2,\n", "a bracket that is not closed");
    says("a = 1\nb = \"\"\"web\n\n", "close what is open");
    says("a = \"it's\" # said \"so\nb = 2 2\n", "a.toml:2: is not valid TOML: \"b = 2 2\" cannot be read");
}

TEST_CASE("a key of many parts is refused before the parser goes down it") {
    std::string deep = "a";
    for (int k = 0; k < 50000; ++k)
        deep += ".a";
    for (const std::string& line : {deep + " = 1", "[" + deep + "]", "b = {" + deep + " = 1}", "b . '.' = 1\n" + deep})
        CHECK(told("c = 1\n" + line + "\n").find("too many parts") != std::string::npos);
    // Points in numbers, texts and remarks join nothing.
    std::string numbers = "[0.5", dots(200, '.');
    for (int k = 0; k < 200; ++k)
        numbers += ", 0.5";
    CHECK(told("a = " + numbers + "]\nb = \"" + dots + "\" # " + dots + "\n") == "nothing");
}
