#include "command_line/program.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

using namespace holdtrue::test;
namespace fs = std::filesystem;

namespace {

// A folder of its own with lessons and a record in it; the program is told by its environment.
class Bench {
public:
    Bench() {
        fs::remove_all(folder_);
        fs::create_directories(folder_ / "lessons");
        fs::copy(fs::path(HOLDTRUE_SOURCE_DIR) / "lessons" / "03_fire_watch", folder_ / "lessons" / "03_fire_watch");
    }
    ~Bench() { fs::remove_all(folder_); }
    Bench(const Bench&) = delete;
    Bench& operator=(const Bench&) = delete;

    // `input` is typed, with \n between lines.
    Ran run(const std::string& arguments, const std::string& input = "") const {
        write(folder_ / "input", input);
        Ran ran;
        const std::string command = "XDG_DATA_HOME='" + (folder_ / "data").string() + "' HOLDTRUE_LESSONS='" +
                                    (folder_ / "lessons").string() + "' '" + HOLDTRUE_PROGRAM + "' " + arguments +
                                    " < '" + (folder_ / "input").string() + "' > '" + (folder_ / "out").string() +
                                    "' 2>&1";
        const int status = std::system(command.c_str());
        ran.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        ran.output = content_of(folder_ / "out");
        return ran;
    }
    bool says(const std::string& arguments, const std::string& words) const {
        const Ran ran = run(arguments);
        CAPTURE(ran.output);
        return ran.output.find(words) != std::string::npos;
    }
    const fs::path& folder() const { return folder_; }

private:
    fs::path folder_ = fs::temp_directory_path() / ("holdtrue_bench_" + std::to_string(::getpid()));
};

} // namespace

TEST_CASE("a lesson is listed, shown and its figure moved") {
    const Bench bench;
    CHECK(bench.says("lesson", "fire_watch"));
    const Ran shown = bench.run("lesson fire_watch --width 60");
    CHECK(shown.exit_code == 0);
    CHECK(shown.output.find("! Caution.") != std::string::npos);
    CHECK(shown.output.find("Sources:") != std::string::npos);
    CHECK(shown.output.find('\x1b') == std::string::npos);                         // no terminal, no escapes
    CHECK(bench.says("lesson 3 --figure --set height=0 --set speed=6", "3.67 m")); // v^2/g
    CHECK(bench.says("lesson --models", "spark_reach"));
}

TEST_CASE("mistakes on the command line are one line and exit code 2") {
    const Bench bench;
    for (const auto& [arguments, words] : {std::pair{"lesson fire_wach", "did you mean \"fire_watch\"?"},
                                           {"lesson 3 --figure --set sped=1", "has no input"},
                                           {"lesson 3 --figure --set speed=100", "from 1 to 15 m/s"},
                                           {"lesson 3 --figure --set speed=x", "cannot be used"},
                                           {"lesson 3 --figure --set speed", "cannot be used"},
                                           {"lesson 3 --figure --set speed=", "cannot be used"},
                                           {"lesson 3 --quiz --trainee Nobody", "there is no trainee"},
                                           {"record", "subcommand is required"},
                                           {"record list", "there is no record yet"},
                                           {"record backup x.sqlite", "there is no record yet"},
                                           {"record restore nothing.sqlite", "there is no such file"},
                                           {"record export --format xapi", "add --home"},
                                           {"record export --format tea", "--format"}}) {
        const Ran ran = bench.run(arguments);
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.find(words) != std::string::npos);
        CHECK(std::ranges::count(ran.output, '\n') == 1);
    }
    CHECK(!fs::exists(bench.folder() / "data")); // looking created nothing
}

TEST_CASE("a quiz counts for the current trainee, and what was answered right is not due") {
    const Bench bench;
    CHECK(bench.run("record trainee add 'Ann B'").exit_code == 0);
    const std::string same = "lesson 3 --quiz --seed 5";
    const Ran asked = bench.run(same, "");
    CHECK(asked.exit_code == 1);
    CHECK(asked.output.find("0 of 0 right") != std::string::npos);

    const Ran answered = bench.run(same, "not a number\n8,5\n10.7\nc\na\nd\na\n");
    CAPTURE(answered.output);
    CHECK(answered.exit_code == 0);
    CHECK(answered.output.find("Give a number.") != std::string::npos);
    CHECK(answered.output.find("6 of 6 right") != std::string::npos);
    CHECK(bench.says("record list", "6 answers, 6 right; 0 questions due again"));
    CHECK(bench.run("lesson --due").output == "Nothing is due.\n");

    // A choice is recorded by its words, since its letter hangs on the seed.
    const Ran csv = bench.run("record export --what answers");
    CHECK(csv.output.find("Ann B,fire_watch/how_long,60 minutes,yes,5,") != std::string::npos);
}

TEST_CASE("export, backup, restore and removal") {
    const Bench bench;
    const std::string saved = "'" + (bench.folder() / "saved.sqlite").string() + "'";
    CHECK(bench.run("record trainee add Ann").exit_code == 0);
    CHECK(bench.run("record trainee add Bob").exit_code == 0);
    CHECK(bench.says("record trainee list", "* Ann"));
    CHECK(bench.run("record trainee use Bob").exit_code == 0);
    CHECK(bench.says("record trainee list", "* Bob"));
    CHECK(bench.run("record backup " + saved).exit_code == 0);
    const Ran again = bench.run("record backup " + saved);
    CHECK(again.exit_code == 2);
    CHECK(again.output.find("saved.sqlite: exists already; name another file, or add --replace") != std::string::npos);
    CHECK(bench.run("record backup --replace " + saved).exit_code == 0);
    CHECK(bench.run("record trainee remove Bob").exit_code == 2); // asks for --yes
    CHECK(bench.says("record trainee remove Bob --yes", "Ann is current."));
    CHECK(!bench.says("record trainee list", "Bob"));
    CHECK(bench.run("record restore " + saved).exit_code == 0);
    CHECK(bench.says("record trainee list", "* Bob"));
    CHECK(bench.run("record trainee add Cleo").exit_code == 0);
    CHECK(bench.says("record trainee remove Bob --yes", "Nobody is current"));
    const fs::path json = bench.folder() / "all.json";
    CHECK(bench.run("record export --format json -o '" + json.string() + "'").exit_code == 0);
    CHECK(content_of(json).find("\"name\": \"Ann\"") != std::string::npos);
    CHECK(bench.run("record export -o /no/such/folder/a.csv").exit_code == 2);
}

TEST_CASE("the record can be named before and after what is asked of it, a link to itself is no record") {
    const std::filesystem::path loop =
        std::filesystem::temp_directory_path() / ("holdtrue_loop_" + std::to_string(::getpid()) + ".sqlite");
    std::filesystem::remove(loop);
    std::filesystem::create_symlink(loop.filename(), loop);
    for (const std::string& arguments :
         {"record --file '" + loop.string() + "' list", "record list --file '" + loop.string() + "'"}) {
        const Ran ran = run_program(arguments);
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.starts_with(loop.string() + ": "));
        CHECK(std::count(ran.output.begin(), ran.output.end(), '\n') == 1);
    }
    std::filesystem::remove(loop);
}

TEST_CASE("an attempt is kept for its trainee, and its mark comes out again from its plan") {
    const Bench bench;
    const std::string exercises = std::string(HOLDTRUE_SOURCE_DIR) + "/lessons/exercises/";
    const std::string weld =
        "weld '" + exercises + "tee_coupon.exercise.toml' '" + exercises + "tee_coupon.model.plan.toml' --variant 0";
    CHECK(bench.run(weld + " --trainee Ann").exit_code == 2); // not known yet
    CHECK(bench.run("record trainee add Ann").exit_code == 0);
    const Ran welded = bench.run(weld + " --trainee Ann");
    CAPTURE(welded.output);
    CHECK(welded.exit_code < 2);
    CHECK(bench.says("record list", "tee_coupon"));
    const Ran again = bench.run("record recompute '" + exercises + "tee_coupon.exercise.toml'");
    CAPTURE(again.output);
    CHECK(again.exit_code == 0);
    CHECK(again.output.find("1 attempts at tee_coupon, 0 differ") != std::string::npos);
}

TEST_CASE("a broken lesson is told with file and line") {
    const Bench bench;
    const fs::path file = bench.folder() / "lessons" / "03_fire_watch" / "lesson.toml";
    const std::string good = content_of(file);
    const auto broken = [&](const std::string& from, const std::string& to, const std::string& words) {
        std::string text = good;
        const std::size_t at = text.find(from);
        REQUIRE(at != std::string::npos);
        write(file, text.replace(at, from.size(), to));
        const auto line = std::count(good.begin(), good.begin() + static_cast<std::ptrdiff_t>(at), '\n') + 1;
        const Ran ran = bench.run("check '" + file.string() + "'");
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.find("lesson.toml:" + std::to_string(line) + ": ") != std::string::npos);
        CHECK(ran.output.find(words) != std::string::npos);
    };
    broken("level = 1", "level = 9", "level is 9");
    broken("model = \"spark_reach\"\ncaption", "model = \"spark_reech\"\ncaption", "did you mean \"spark_reach\"?");
    broken("show = \"reach\"", "show = \"rech\"", "has no output \"rech\"");
    broken("high_m = 12", "high_m = 99", "high_m is 99; give 0 to 30 m");
    broken("input = \"speed\"", "input = \"height\"", "");
    broken("stated_m = 6.0", "stated_m = 7.0", "stated is 7 but the model gives 5.96 m");
    broken("from {height} above", "from somewhere above", "height varies but the question does not tell it");
    broken("{speed} from", "{spede} from", "{spede} is not an input");
    broken("right = \"60 minutes\"", "rihgt = \"60 minutes\"", "");
    broken("\"45 minutes, the middle\"", "\"60 minutes\"", "the right answer is among the wrong ones");
    broken("id = \"how_long\"", "id = \"reach\"", "is used twice");
    write(file, good);
    write(file.parent_path() / "lesson.md", "No caution here.\n");
    CHECK(bench.says("check '" + file.string() + "'", "its text has no caution"));
    CHECK(bench.run("lesson 3").exit_code == 2);
}
