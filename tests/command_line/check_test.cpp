#include "command_line/mistakes.h"
#include "command_line/program.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <sstream>
#include <string>
#include <utility>

using namespace holdtrue::test;

namespace {

std::size_t line_of(const std::string& text, const std::string& words) {
    const std::size_t at = text.find(words);
    REQUIRE_MESSAGE(at != std::string::npos, "the test looks for " << words);
    return static_cast<std::size_t>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n')) + 1;
}

} // namespace

TEST_CASE("every shipped part, shop, exercise and plan passes check") {
    const ShippedCopy shipped;
    std::string files;
    int count = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(shipped.folder()))
        if (entry.path().extension() == ".toml") {
            files += "'" + entry.path().string() + "' ";
            ++count;
        }
    const Ran ran = run_program("check " + files);
    CAPTURE(ran.output);
    CHECK(ran.exit_code == 0);
    CHECK(count >= 6 + 1 + 6 + 6 * 3);
    CHECK(ran.output.find(std::to_string(count) + " of " + std::to_string(count) + " files ok") != std::string::npos);
}

TEST_CASE("each mistake is one line with file, line and fix, and exit code 2") {
    const ShippedCopy shipped;
    CHECK(std::size(mistakes) >= 40);
    for (const Mistake& mistake : mistakes) {
        const std::filesystem::path file = shipped.find(mistake.file);
        const std::string good = content_of(file);
        std::string bad = good;
        const std::size_t at = bad.find(mistake.find);
        REQUIRE_MESSAGE(at != std::string::npos, std::string(mistake.file) << " has no " << std::string(mistake.find));
        bad.replace(at, std::string(mistake.find).size(), mistake.replace);
        write(file, bad);
        const Ran ran = run_program("check '" + file.string() + "'");
        write(file, good);

        CAPTURE(std::string(mistake.file));
        CAPTURE(std::string(mistake.replace));
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        std::string told; // the line that says it
        std::istringstream lines(ran.output);
        for (std::string line; std::getline(lines, line);)
            if (line.find(mistake.says) != std::string::npos && told.empty())
                told = line;
        CHECK_MESSAGE(!told.empty(), "nothing says: " << std::string(mistake.says));
        if (*mistake.at)
            CHECK(told.starts_with(file.string() + ":" + std::to_string(line_of(bad, mistake.at)) + ": "));
        CHECK(told.find("; ") != std::string::npos); // then what to do about it
    }
}

TEST_CASE("mistakes of different kinds in one file are told at once") {
    const ShippedCopy shipped;
    const auto told_of = [&](const char* name, std::initializer_list<std::pair<std::string, std::string>> changes) {
        const std::filesystem::path file = shipped.find(name);
        std::string text = content_of(file);
        for (const auto& [from, to] : changes) {
            REQUIRE(text.find(from) != std::string::npos);
            text.replace(text.find(from), from.size(), to);
        }
        write(file, text);
        return run_program("check '" + file.string() + "'").output;
    };
    // A key, a value, a setting that the power source does not have, an order that cannot be.
    const std::string plan = told_of("tee_coupon.model.plan.toml", {{"title =", "titel ="},
                                                                    {"volts_v = 20", "volts_v = 31"},
                                                                    {"weld = \"left/1\"", "weld = \"left/2\""},
                                                                    {"sense = \"grows\"", "sense = \"up\""}});
    CAPTURE(plan);
    for (const char* says : {"unknown key titel", "cannot be set to 31.0 V", "pass left/2 is welded twice",
                             "write shrinks, stays or grows"})
        CHECK(plan.find(says) != std::string::npos);
    // A word in one joint, the geometry of another; nothing is told of what could not be read.
    const std::string part = told_of("tee_coupon.part.toml", {{"reach = [\"upright\"", "reach = [\"uprigth\""},
                                                              {"[[0, -2.5, 2.5], [200", "[[0, -20, 2.5], [200"},
                                                              {"class = \"E\"", "class = \"B\""}});
    CAPTURE(part);
    for (const char* says : {"there is no pose \"uprigth\"", "away from panel web", "here the classes are E to H"})
        CHECK(part.find(says) != std::string::npos);
    CHECK(part.find("joint left") == std::string::npos);
}

TEST_CASE("a file of an unknown kind is an error, and the others are still checked") {
    const ShippedCopy shipped;
    const std::filesystem::path stranger = shipped.folder() / "notes.toml";
    write(stranger, "a = 1\n");
    const Ran ran =
        run_program("check '" + stranger.string() + "' '" + shipped.find("rookwood.shop.toml").string() + "'");
    CHECK(ran.exit_code == 2);
    CHECK(ran.output.find("notes.toml: is of no kind that is known by its name; name it NAME.part.toml") !=
          std::string::npos);
    CHECK(ran.output.find("rookwood.shop.toml: ok") != std::string::npos);
    CHECK(ran.output.find("1 of 2 files ok") != std::string::npos);
}

TEST_CASE("a plan can be checked against another exercise") {
    const ShippedCopy shipped;
    const Ran ran = run_program("check '" + shipped.find("tee_coupon.model.plan.toml").string() + "' --exercise '" +
                                shipped.find("lap_strip.exercise.toml").string() + "'");
    CHECK(ran.exit_code == 2);
    CHECK(ran.output.find("there is no pass or joint \"left\"") != std::string::npos);
}

TEST_CASE("an exercise whose part or shop is no file is told so") {
    const ShippedCopy shipped;
    const std::filesystem::path file = shipped.find("tee_coupon.exercise.toml");
    const std::string text = content_of(file), folder = file.parent_path().string();
    std::filesystem::create_symlink("loop.part.toml", folder + "/loop.part.toml");
    const std::string named = "../../assets/parts/tee_coupon.part.toml";
    REQUIRE(text.find(named) != std::string::npos);
    const std::pair<std::string, const char*> wrongs[] = {{"", "part is empty"},
                                                          {"loop.part.toml", "there is no file"},
                                                          {std::string(5000, 'a'), "there is no file"},
                                                          {"/dev/zero", "there is no file"},
                                                          {".", "there is no file"}};
    for (const auto& [part, says] : wrongs) {
        CAPTURE(part);
        std::string changed = text;
        changed.replace(changed.find(named), named.size(), part);
        write(file, changed);
        const Ran ran = run_program("check '" + file.string() + "'");
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.find("tee_coupon.exercise.toml:") != std::string::npos);
        CHECK(ran.output.find(says) != std::string::npos);
    }
}

TEST_CASE("a plan cannot ask for days of simulation") {
    const ShippedCopy shipped;
    const std::filesystem::path file = shipped.find("tee_coupon.model.plan.toml");
    std::string text = content_of(file);
    for (int k = 0; k <= 10000; ++k)
        text += "\n[[move]]\nwait_s = 1\n";
    write(file, text);
    const Ran ran = run_program("check '" + file.string() + "'");
    CHECK(ran.exit_code == 2);
    CHECK(ran.output.find("more than 10000 moves") != std::string::npos);
    CHECK(std::count(ran.output.begin(), ran.output.end(), '\n') == 2); // that line, and the count of files
}

TEST_CASE("a missing file, a folder and no file at all are errors") {
    CHECK(run_program("check /no/such/place.part.toml").exit_code == 2);
    CHECK(run_program("check").exit_code == 2);
    const ShippedCopy shipped;
    const std::filesystem::path folder = shipped.folder() / "folder.part.toml";
    std::filesystem::create_directory(folder);
    CHECK(run_program("check '" + folder.string() + "'").exit_code == 2);
}

TEST_CASE("the examples of the author's guide are right") {
    const ShippedCopy shipped;
    // The guide's TOML blocks, joined by the heading they stand under.
    std::map<std::string, std::string> examples;
    std::istringstream guide(content_of(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/AUTHORING.md"));
    std::string heading;
    bool inside = false;
    for (std::string line; std::getline(guide, line);) {
        if (line.starts_with("## "))
            heading = line.substr(3);
        else if (line.starts_with("```"))
            inside = line == "```toml";
        else if (inside)
            examples[heading] += line + '\n';
    }
    CHECK(examples.size() == 5);
    write(shipped.folder() / "assets/parts/bracket.part.toml", examples["Part"]);
    write(shipped.folder() / "assets/shops/mine.shop.toml", examples["Shop"]);
    write(shipped.folder() / "lessons/exercises/bracket.exercise.toml", examples["Exercise"]);
    write(shipped.folder() / "lessons/exercises/bracket.plan.toml", examples["Plan"]);
    const Ran ran =
        run_program("check '" + shipped.find("bracket.part.toml").string() + "' '" +
                    shipped.find("mine.shop.toml").string() + "' '" + shipped.find("bracket.exercise.toml").string() +
                    "' '" + shipped.find("bracket.plan.toml").string() + "'");
    CAPTURE(ran.output);
    CHECK(ran.exit_code == 0);
    write(shipped.folder() / "beam.case.toml", examples["Case"]);
    const Ran solved = run_program("solve '" + (shipped.folder() / "beam.case.toml").string() + "'");
    CAPTURE(solved.output);
    CHECK(solved.exit_code == 0);
}
