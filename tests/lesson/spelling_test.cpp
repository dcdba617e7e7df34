// The words of the lessons against dictionaries of British English and Spanish; known_words.txt holds trade words and
// names, known_words.es.txt those of the Spanish.
#include "lesson/translated.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>

using namespace holdtrue::lesson;
namespace fs = std::filesystem;

namespace {

const fs::path source = HOLDTRUE_SOURCE_DIR;

std::string without_places(std::string text) {
    for (std::size_t open; (open = text.find('{')) != std::string::npos;)
        text.erase(open, text.find('}', open) - open + 1);
    return text;
}

void write_words(std::ostream& out, const Lesson& lesson) {
    for (const std::string& text : strings_of(lesson))
        out << without_places(text) << ".\n";
    for (const Block& block : lesson.text) {
        out << plain_text(block.text) << '\n';
        for (const auto& row : block.rows)
            for (const Line& cell : row)
                out << plain_text(cell) << '\n';
    }
}

// Dictionaries are installed by third_party/bootstrap, not needed to run the program.
void check_spelling(const std::string& dictionary, const std::string& known_words, const std::vector<Lesson>& lessons) {
    if (std::system(("aspell dump dicts 2>/dev/null | grep -qx " + dictionary).c_str()) != 0) {
        MESSAGE("aspell with " << dictionary << " is not installed: spelling was not checked");
        return;
    }
    std::set<std::string> known;
    std::ifstream words(source / "tests" / "lesson" / known_words);
    for (std::string word; std::getline(words, word);)
        known.insert(word);
    REQUIRE(known.size() > 20);

    const fs::path file =
        fs::temp_directory_path() / ("holdtrue_spelling_" + dictionary + "." + std::to_string(::getpid()));
    std::ofstream out(file);
    for (const Lesson& lesson : lessons)
        write_words(out, lesson);
    out.close();
    std::FILE* pipe =
        ::popen(("aspell list --lang=" + dictionary + " --encoding=utf-8 < '" + file.string() + "'").c_str(), "r");
    REQUIRE(pipe != nullptr);
    char line[256];
    while (std::fgets(line, sizeof line, pipe)) {
        std::string word = line;
        word.erase(word.find_last_not_of('\n') + 1);
        CHECK_MESSAGE(known.contains(word), word);
    }
    ::pclose(pipe);
    fs::remove(file);
}

} // namespace

TEST_CASE("the lessons are spelt well") {
    check_spelling("en_GB", "known_words.txt", read_lessons(source / "lessons"));
}

TEST_CASE("the Spanish of the lessons is spelt well") {
    const auto spanish = holdtrue::text::Translation::read(source / "assets" / "translations" / "es");
    std::vector<Lesson> lessons;
    for (const Lesson& lesson : read_lessons(source / "lessons"))
        lessons.push_back(translated(lesson, spanish));
    check_spelling("es", "known_words.es.txt", lessons);
}
