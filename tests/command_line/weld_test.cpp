#include "command_line/program.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <csignal>
#include <cstdlib>

using namespace holdtrue::test;

namespace {

std::string quoted(const std::filesystem::path& path) { return "'" + path.string() + "'"; }

std::string tee(const ShippedCopy& shipped, const std::string& plan) {
    return "weld " + quoted(shipped.find("tee_coupon.exercise.toml")) + " " +
           quoted(shipped.find("tee_coupon." + plan + ".plan.toml"));
}

} // namespace

TEST_CASE("weld: prints tables, saves everything it is asked for, and says passed by its exit code") {
    const ShippedCopy shipped;
    const auto out = shipped.folder();
    const Ran ran = run_program(tee(shipped, "model") + " --json " + quoted(out / "o.json") + " --picture " +
                                quoted(out / "p.png") + " --report " + quoted(out / "r.pdf") + " --order-sheet " +
                                quoted(out / "s.pdf"));
    CHECK(ran.exit_code == 0);
    for (const char* words : {"left/1", "web square to flange", "Settings", "Mark", "Passed"})
        CHECK_MESSAGE(ran.output.find(words) != std::string::npos, words);
    CHECK(content_of(out / "p.png").starts_with("\x89PNG"));
    CHECK(content_of(out / "r.pdf").starts_with("%PDF"));
    CHECK(content_of(out / "s.pdf").starts_with("%PDF"));

    const auto json = nlohmann::json::parse(content_of(out / "o.json"));
    CHECK(json["schema"] == "holdtrue.outcome/1");
    CHECK(json["status"] == "finished");
    CHECK(std::abs(json["energy"]["error"].get<double>()) < 1e-3);
    CHECK(json["mark"]["passed"] == true);
    double sum = 0;
    for (const auto& aspect : json["mark"]["aspects"])
        sum += aspect["reached"].get<double>();
    CHECK(json["mark"]["total"].get<double>() == doctest::Approx(sum));
    CHECK(json["nodes"]["peak_k"].size() == json["part"]["node_count"]);
    CHECK(json["nodes"]["displacement_m"].size() == json["part"]["node_count"]);
}

TEST_CASE("weld: the same plan gives the same JSON, and another plan another mark") {
    const ShippedCopy shipped;
    const auto out = shipped.folder();
    run_program(tee(shipped, "too_cold") + " --json " + quoted(out / "a.json"));
    const Ran ran = run_program(tee(shipped, "too_cold") + " --json " + quoted(out / "b.json"));
    CHECK(ran.exit_code == 1);
    CHECK(ran.output.find("Not passed") != std::string::npos);
    CHECK(content_of(out / "a.json") == content_of(out / "b.json"));
}

TEST_CASE("weld: bad input is exit code 2, one clear line, and nothing written") {
    const ShippedCopy shipped;
    const auto out = shipped.folder();
    const std::string model = tee(shipped, "model");
    const auto refused = [&](const std::string& arguments, const std::string& words) {
        const Ran ran = run_program(arguments);
        CHECK(ran.exit_code == 2);
        CHECK_MESSAGE(ran.output.find(words) != std::string::npos, ran.output);
    };
    refused(model + " --picture " + quoted(out / "p.jpg"), ".png or .svg");
    refused(model + " --report " + quoted(out / "r.txt"), ".pdf");
    refused(model + " --json " + quoted(out / "no" / "o.json"), "is not there");
    refused(model + " --units furlongs", "--units");
    refused(model + " --time -3", "--time");
    refused("weld " + quoted(out / "none.toml") + " " + quoted(out / "none.toml"), "none.toml");
    refused("weld", "--help");
    CHECK(!std::filesystem::exists(out / "p.jpg"));
}

TEST_CASE("weld: Ctrl-C ends with 130 and leaves no file") {
    const ShippedCopy shipped;
    const auto out = shipped.folder() / "o.json";
    // `timeout` sends SIGINT soon after the start; the lift arm is far from done by then.
    const std::string command = "timeout --preserve-status -s INT 1 '" HOLDTRUE_PROGRAM "' weld " +
                                quoted(shipped.find("lift_arm.exercise.toml")) + " " +
                                quoted(shipped.find("lift_arm.model.plan.toml")) + " --json " + quoted(out) +
                                " >/dev/null 2>&1";
    const int status = std::system(command.c_str());
    REQUIRE(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 130);
    CHECK(!std::filesystem::exists(out));
}

TEST_CASE("weld: an output that would take the place of a device or pipe is refused before any work") {
    const ShippedCopy shipped;
    const std::string exercise = shipped.find("tee_coupon.exercise.toml").string(),
                      plan = shipped.find("tee_coupon.model.plan.toml").string();
    const std::string pipe = (shipped.folder() / "out.json").string();
    REQUIRE(run_shell("mkfifo '" + pipe + "'").exit_code == 0);
    for (const std::string& out : {pipe, shipped.folder().string() + "/" + std::string(300, 'z') + ".json"}) {
        const Ran ran = run_program("weld '" + exercise + "' '" + plan + "' --json '" + out + "'");
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(std::count(ran.output.begin(), ran.output.end(), '\n') == 1);
    }
    CHECK(std::filesystem::is_fifo(pipe));
}

TEST_CASE("class: marks a folder, survives bad files, flags identical plans") {
    const ShippedCopy shipped;
    const auto folder = shipped.folder() / "handed_in";
    std::filesystem::create_directories(folder);
    std::string model = content_of(shipped.find("tee_coupon.model.plan.toml"));
    const auto without_exercise = [](std::string text) {
        const std::size_t at = text.find("exercise = ");
        return text.erase(at, text.find('\n', at) + 1 - at);
    };
    model = "variant = 0\n" + without_exercise(model); // the exercise as written, whatever the names draw
    write(folder / "ann.plan.toml", "trainee = \"Ann\"\n" + model);
    write(folder / "ben.plan.toml", "trainee = \"=1+1\"\n" + model);
    write(folder / "cold.plan.toml", without_exercise(content_of(shipped.find("tee_coupon.too_cold.plan.toml"))));
    write(folder / "broken.plan.toml", "title = ");
    write(folder / "notes.txt", "not a plan");
    std::filesystem::create_directory(folder / "late");
    write(folder / "late/dora.plan.toml", model); // not directly in the folder
    std::filesystem::create_directory(folder / "zz\x1b[2J"); // a name must not steer the terminal
    const Ran ran = run_program("class " + quoted(shipped.find("tee_coupon.exercise.toml")) + " " + quoted(folder) +
                                " --csv " + quoted(folder / "marks.csv") + " --report " + quoted(folder / "c.pdf"));
    CHECK(ran.exit_code == 0);
    CHECK(ran.output.find("Most common remark") != std::string::npos);
    const std::string csv = content_of(folder / "marks.csv");
    CHECK(std::ranges::count(csv, '\n') == 5);
    CHECK(csv.find("\"ben.plan.toml\",\"'=1+1\"") != std::string::npos); // never a formula
    CHECK(csv.find("\"ann.plan.toml\",\"Ann\"") != std::string::npos);
    CHECK(ran.output.find("same plan as ann.plan.toml") != std::string::npos);
    CHECK(ran.output.find("broken.plan.toml") != std::string::npos);
    CHECK(content_of(folder / "c.pdf").starts_with("%PDF"));
    CHECK(ran.output.find("are marked: late/, notes.txt, zz?[2J/\n") != std::string::npos); // told, not passed over in silence
    const Ran empty = run_program("class " + quoted(shipped.find("tee_coupon.exercise.toml")) + " " +
                                  quoted(shipped.folder() / "assets"));
    CHECK(empty.exit_code == 2);
}
