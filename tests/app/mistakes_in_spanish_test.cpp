// Whoever works in Spanish is told in Spanish what is wrong with a file, and what to do about it.
#include "app/session/session.h"
#include "command_line/mistakes.h"
#include "exercises.h"
#include "text/translate.h"

#include <doctest/doctest.h>

#include <cctype>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>

using namespace holdtrue;
namespace fs = std::filesystem;

namespace {

using Words = std::set<std::string>;

const fs::path source = HOLDTRUE_SOURCE_DIR;

std::string content_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void write(const fs::path& file, const std::string& content) { std::ofstream(file, std::ios::binary) << content; }

// Runs of letters, in lower case; what holds a digit or '_' is a key or a name.
void add_words(const std::string& text, Words& words) {
    std::string word;
    bool plain = true;
    for (const char c : text + " ") {
        const auto byte = static_cast<unsigned char>(c);
        if (std::isalnum(byte) || c == '_' || byte >= 0x80) {
            plain = plain && !std::isdigit(byte) && c != '_';
            word += static_cast<char>(std::tolower(byte));
            continue;
        }
        if (plain && !word.empty())
            words.insert(word);
        word.clear();
        plain = true;
    }
}

// The shipped parts, shops, exercises and plans, to be spoilt.
struct Copy {
    Copy() : scratch("mistakes_in_spanish") {
        for (const char* folder : {"assets/parts", "assets/shops", "lessons/exercises"}) {
            fs::create_directories((scratch.path / folder).parent_path());
            fs::copy(source / folder, scratch.path / folder, fs::copy_options::recursive);
        }
    }
    fs::path find(const std::string& name) const {
        for (const auto& entry : fs::recursive_directory_iterator(scratch.path))
            if (entry.path().filename() == name)
                return entry.path();
        FAIL("there is no " << name);
        return {};
    }
    ScratchFolder scratch;
};

// English words that no Spanish sentence holds, and that are no key and no name of the shipped files.
Words english_words(const text::Translation& spanish, const fs::path& files) {
    Words english, known{"angle", "box", "closed", "edge", "wait"}; // words of the files that no shipped one uses
    for (const auto& [pattern, translated] : spanish.table()) {
        add_words(pattern, english);
        add_words(translated, known);
    }
    static const std::regex key_or_name(R"re((?:^|\n)\s*\[*([a-z_]+)\]*\s*(?==|\n)|"([^" ]+)")re");
    for (const auto& entry : fs::recursive_directory_iterator(files)) {
        const std::string content = entry.is_regular_file() ? content_of(entry.path()) : "";
        for (std::sregex_iterator match(content.begin(), content.end(), key_or_name), end; match != end; ++match)
            add_words((*match)[1].str() + ' ' + (*match)[2].str(), known);
    }
    for (const std::string& word : known)
        english.erase(word);
    return english;
}

// The file that a trainee opens to meet a mistake in `file`.
std::string opened_for(const std::string& file) {
    const std::string part = ".part.toml";
    if (file.ends_with(part))
        return file.substr(0, file.size() - part.size()) + ".exercise.toml";
    return file.ends_with(".shop.toml") ? "tee_coupon.exercise.toml" : file;
}

} // namespace

TEST_CASE("a mistake in a part, shop, exercise or plan is told in Spanish, without a word of English") {
    const auto spanish = text::Translation::read(source / "assets" / "translations" / "es");
    const Copy copy;
    const Words english = english_words(spanish, copy.scratch.path);
    for (const char* word : {"the", "is", "not", "there", "give", "missing", "known"})
        REQUIRE(english.contains(word));
    const app::test::Desk desk("in_spanish");

    std::set<std::string> kinds;
    for (const test::Mistake& mistake : test::mistakes) {
        const fs::path file = copy.find(mistake.file);
        const std::string good = content_of(file);
        std::string bad = good;
        const std::size_t at = bad.find(mistake.find);
        REQUIRE(at != std::string::npos);
        bad.replace(at, std::string(mistake.find).size(), mistake.replace);
        write(file, bad);
        app::Session session(desk.places);
        session.apply(app::act::Open{copy.find(opened_for(mistake.file))});
        write(file, good);

        CAPTURE(std::string(mistake.file));
        CAPTURE(std::string(mistake.replace));
        CHECK_FALSE(session.problems().empty());
        for (text::Problem problem : session.problems()) {
            problem.file.clear();
            const auto say = [&](const text::Sentence& sentence) { return spanish.say(sentence); };
            const std::string told = text::to_line(problem, say);
            CHECK(told != text::to_line(problem));
            Words words;
            add_words(told, words);
            for (const std::string& word : words)
                CHECK_MESSAGE(!english.contains(word), "'" << word << "' in: " << told);
        }
        kinds.insert(fs::path(mistake.file).stem().extension().string());
    }
    CHECK(kinds == std::set<std::string>{".part", ".shop", ".exercise", ".plan"});
}

TEST_CASE("a plan that no longer fits a changed exercise, and a folder that cannot be written, are told in Spanish") {
    const auto spanish = text::Translation::read(source / "assets" / "translations" / "es");
    const Copy copy;
    const app::test::Desk desk("in_spanish");
    app::Session session(desk.places);
    session.apply(app::act::Open{copy.find("tee_coupon.model.plan.toml")});
    REQUIRE(session.problems().empty());
    const auto told = [&] {
        REQUIRE(session.problems().size() == 1);
        text::Problem problem = session.problems().front();
        problem.file.clear();
        return text::to_line(problem, [&](const text::Sentence& sentence) { return spanish.say(sentence); });
    };
    const fs::path part = copy.find("tee_coupon.part.toml");
    std::string content = content_of(part);
    const std::string all = "passes = 2";
    content.replace(content.find(all), all.size(), "passes = 1");
    write(part, content);
    fs::last_write_time(part, fs::last_write_time(part) + std::chrono::seconds(5));
    REQUIRE(session.look_for_changed_files());
    CHECK(told() == "el plan del banco ya no encaja: no hay pasada o unión con el nombre \"left/2\"; "
                    "¿quería decir \"left/1\"?");

    session.apply(app::act::SaveAs{copy.scratch.path / "nowhere" / "mine.plan.toml"});
    CHECK(told() == "no se puede escribir: no existe ese archivo o carpeta; "
                    "elija una carpeta que exista y en la que usted pueda escribir");
}
