// Every text of the window has its Spanish, and no Spanish is left over.
#include "text/translate.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

using namespace holdtrue;

namespace {

namespace fs = std::filesystem;

std::set<std::string> texts_of_the_window() {
    // Literals that are translated, worded("...") and tr("..."); a long one may be written in several pieces.
    static const std::regex form(R"re((?:worded|\btr)\(\s*"((?:[^"\\]|\\.|"\s*")*)"\s*\))re"), seam(R"re("\s*")re");
    std::set<std::string> texts;
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(HOLDTRUE_SOURCE_DIR) / "src" / "app")) {
        if (entry.path().extension() != ".cpp" && entry.path().extension() != ".h")
            continue;
        std::ifstream in(entry.path());
        const std::string source{std::istreambuf_iterator<char>(in), {}};
        for (std::sregex_iterator match(source.begin(), source.end(), form), end; match != end; ++match)
            texts.insert(std::regex_replace((*match)[1].str(), seam, ""));
    }
    return texts;
}

std::set<char> places_in(const std::string& text) {
    std::set<char> places;
    for (std::size_t k = 0; k + 2 < text.size(); ++k)
        if (text[k] == '{' && text[k + 2] == '}')
            places.insert(text[k + 1]);
    return places;
}

text::Translation spanish() {
    return text::Translation::read(fs::path(HOLDTRUE_SOURCE_DIR) / "assets" / "translations" / "es.toml");
}

} // namespace

TEST_CASE("no text of the window is missing from the translation table, and none in it is unused") {
    const std::set<std::string> used = texts_of_the_window();
    REQUIRE(used.size() > 150);
    const text::Translation translation = spanish();
    for (const std::string& text : used)
        CHECK_MESSAGE(translation.table().contains(text), "not translated: " << text);
    for (const auto& [english, other] : translation.table())
        CHECK_MESSAGE(used.contains(english), "translated but not used: " << english);
}

TEST_CASE("a translation has the places of its original") {
    const text::Translation translation = spanish();
    for (const auto& [english, other] : translation.table()) {
        CHECK_MESSAGE(places_in(english) == places_in(other), english);
        CHECK_FALSE(other.empty());
    }
}
