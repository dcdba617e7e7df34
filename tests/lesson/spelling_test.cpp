// The words of the lessons against a British English dictionary; known_words.txt holds trade words and names.
#include "lesson/lesson.h"

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

TEST_CASE("the lessons are spelt well") {
    // Dictionaries are installed by third_party/bootstrap, not needed to run the program.
    if (std::system("aspell dump dicts 2>/dev/null | grep -qx en_GB") != 0) {
        MESSAGE("aspell with en_GB is not installed: spelling was not checked");
        return;
    }
    const fs::path source = HOLDTRUE_SOURCE_DIR;
    std::set<std::string> known;
    std::ifstream words(source / "tests/lesson/known_words.txt");
    for (std::string word; std::getline(words, word);)
        known.insert(word);
    REQUIRE(known.size() > 20);

    const fs::path file = fs::temp_directory_path() / ("holdtrue_spelling." + std::to_string(::getpid()));
    std::ofstream out(file);
    for (const Lesson& lesson : read_lessons(source / "lessons")) {
        out << lesson.title << ".\n" << lesson.aim << '\n' << lesson.figure.caption << '\n';
        for (const Block& block : lesson.text) {
            out << plain_text(block.text) << '\n';
            for (const auto& row : block.rows)
                for (const Line& cell : row)
                    out << plain_text(cell) << '\n';
        }
        for (const Question& question : lesson.questions) {
            std::string ask = question.ask;
            for (std::size_t open; (open = ask.find('{')) != std::string::npos;)
                ask.erase(open, ask.find('}', open) - open + 1);
            out << ask << '\n' << question.why << '\n' << question.right << '\n';
            for (const std::string& wrong : question.wrong)
                out << wrong << '\n';
        }
        for (const std::string& line : lesson.sources)
            out << line << '\n';
    }
    out.close();
    std::FILE* pipe = ::popen(("aspell list --lang=en_GB --encoding=utf-8 < '" + file.string() + "'").c_str(), "r");
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
