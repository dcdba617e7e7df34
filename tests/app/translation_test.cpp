// Every text of the window has its Spanish, and no Spanish is left over.
#include "arc/read_shop.h"
#include "arc/rule.h"
#include "grading/read_exercise.h"
#include "lesson/translated.h"
#include "part/read_part.h"
#include "text/toml_reader.h"
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
    static const std::regex form(R"re((?:worded|\btr)\(\s*"((?:[^"\\]|\\.|"\s*")*)"\s*\))re"), seam(R"re("\s*")re"),
        escape(R"re(\\(.))re");
    std::set<std::string> texts;
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(HOLDTRUE_SOURCE_DIR) / "src")) {
        if (entry.path().extension() != ".cpp" && entry.path().extension() != ".h")
            continue;
        std::ifstream in(entry.path());
        const std::string source{std::istreambuf_iterator<char>(in), {}};
        for (std::sregex_iterator match(source.begin(), source.end(), form), end; match != end; ++match)
            texts.insert(std::regex_replace(std::regex_replace((*match)[1].str(), seam, ""), escape, "$1"));
    }
    return texts;
}

// What the window shows of the files that ship with the program.
std::set<std::string> texts_of_the_files() {
    std::set<std::string> texts;
    const fs::path source = HOLDTRUE_SOURCE_DIR;
    const auto each_file = [](const fs::path& folder, const std::string& ending, const auto& read) {
        for (const auto& entry : fs::directory_iterator(folder))
            if (entry.path().string().ends_with(ending))
                read(entry.path());
    };
    for (const arc::Rule& rule : arc::read_rules(source / "assets" / "rules"))
        texts.insert({rule.about, rule.says, rule.source});
    each_file(source / "assets" / "parts", ".part.toml", [&](const fs::path& file) {
        const auto part = part::read_part(file);
        texts.insert({part->title, part->fixture.name});
        for (const part::Gauge& gauge : part->gauges)
            texts.insert(gauge.title);
        for (const part::Pose& pose : part->poses)
            texts.insert(pose.name);
    });
    each_file(source / "assets" / "shops", ".shop.toml", [&](const fs::path& file) {
        const auto shop = arc::read_shop(file);
        texts.insert(shop->title);
        for (const arc::PowerSource& power : shop->sources) {
            texts.insert(power.name);
            for (const auto& dial : {power.volts_dial, power.feed_dial})
                if (dial)
                    texts.insert(dial->name);
        }
    });
    const fs::path exercises = source / "lessons" / "exercises";
    each_file(exercises, ".exercise.toml", [&](const fs::path& file) {
        const int variants = grading::read_exercise(file).variant_count;
        for (int variant = 0; variant <= variants; ++variant) {
            const grading::Exercise exercise = grading::read_exercise(file, variant);
            texts.insert({exercise.title, exercise.heat.interpass_source});
            for (const text::Sentence& paragraph : exercise.brief)
                if (paragraph.parts.empty())
                    texts.insert(paragraph.pattern);
            texts.insert(exercise.cautions.begin(), exercise.cautions.end());
            texts.insert(exercise.variant_words.begin(), exercise.variant_words.end());
            for (const grading::Hint& hint : exercise.hints)
                texts.insert(hint.text);
        }
    });
    each_file(exercises, ".plan.toml", [&](const fs::path& file) {
        const text::Document plan = text::Document::read(file);
        for (text::Table card : plan.root().tables("card"))
            texts.insert(card.text("name"));
    });
    for (const lesson::Lesson& lesson : lesson::read_lessons(source / "lessons"))
        for (const std::string& text : lesson::strings_of(lesson))
            texts.insert(text);
    for (const lesson::Model& model : lesson::models()) {
        for (const lesson::Input& input : model.inputs)
            texts.emplace(input.title);
        for (const lesson::Output& output : model.outputs)
            texts.emplace(output.title);
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
    return text::Translation::read(fs::path(HOLDTRUE_SOURCE_DIR) / "assets" / "translations" / "es");
}

} // namespace

TEST_CASE(
    "no text of the window or of a shipped file is missing from the translation table, and none in it is unused") {
    std::set<std::string> used = texts_of_the_window();
    REQUIRE(used.size() > 750);
    const std::set<std::string> of_files = texts_of_the_files();
    REQUIRE(of_files.size() > 200);
    used.insert(of_files.begin(), of_files.end());
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
