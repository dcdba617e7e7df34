// The same command on several ranks: the result is that of one process, and errors end all of them.
#include "command_line/program.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cstdlib>

using namespace holdtrue::test;

namespace {

std::string quoted(const std::filesystem::path& path) { return "'" + path.string() + "'"; }

// Runs the program on `ranks` ranks of this machine, however few cores it has.
Ran run_on_ranks(int ranks, const std::string& arguments, const std::string& before = "") {
    const std::string root = ::geteuid() == 0 ? "--allow-run-as-root " : "";
    return run_shell(before + "mpirun " + root + "--oversubscribe -n " + std::to_string(ranks) + " '" +
                     HOLDTRUE_PROGRAM + "' " + arguments);
}

bool can_run() {
#ifdef HOLDTRUE_MPI
    if (std::system("command -v mpirun >/dev/null 2>&1") == 0 &&
        run_on_ranks(2, "--version").exit_code == 0) // a sandbox may forbid what mpirun needs
        return true;
    MESSAGE("skipped: mpirun is not there or does not run here");
#else
    MESSAGE("skipped: built without MPI");
#endif
    return false;
}

nlohmann::json without_speed(const std::filesystem::path& file) {
    auto json = nlohmann::json::parse(content_of(file));
    json.erase("rehearsals_per_s");
    return json;
}

std::string tee_order(const ShippedCopy& shipped, const std::string& more) {
    return "order " + quoted(shipped.find("tee_coupon.exercise.toml")) + " --plan " +
           quoted(shipped.find("tee_coupon.one_side.plan.toml")) + " --threads 1 " + more;
}

int lines_with(const std::string& text, const std::string& words) {
    int count = 0;
    for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1))
        ++count;
    return count;
}

} // namespace

TEST_CASE("order on 2, 3 and 4 ranks writes what one process writes, once") {
    if (!can_run())
        return;
    const ShippedCopy shipped;
    const auto out = shipped.folder();
    const std::string small = "--tries 120 --random 200 --changes 60 --trials 5 --json ";
    for (const char* method : {"annealing", "large_neighbourhood", "beam"}) {
        CAPTURE(method);
        const std::string arguments = std::string("--method ") + method + " " + small;
        REQUIRE(run_program(tee_order(shipped, arguments + quoted(out / "one.json"))).exit_code == 0);
        const auto one = without_speed(out / "one.json");
        for (const int ranks : {2, 3, 4}) {
            if (ranks != 3 && std::string(method) != "annealing")
                continue;
            CAPTURE(ranks);
            const Ran ran = run_on_ranks(ranks, tee_order(shipped, arguments + quoted(out / "many.json")));
            CHECK_MESSAGE(ran.exit_code == 0, ran.output);
            CHECK(lines_with(ran.output, "orders searched") == 1);
            CHECK(without_speed(out / "many.json") == one);
        }
    }
}

TEST_CASE("class on 2, 3 and 4 ranks marks as one process does, a bad file stays one entry") {
    if (!can_run())
        return;
    const ShippedCopy shipped;
    const auto folder = shipped.folder() / "handed_in";
    std::filesystem::create_directories(folder);
    int copies = 0;
    for (const char* plan : {"model", "one_side", "too_cold", "too_hot", "model"}) {
        std::string text = content_of(shipped.find(std::string("tee_coupon.") + plan + ".plan.toml"));
        const std::size_t at = text.find("exercise = ");
        text.erase(at, text.find('\n', at) + 1 - at);
        write(folder / (std::to_string(copies++) + ".plan.toml"), text);
    }
    write(folder / "broken.plan.toml", "title = ");
    const auto csv = [&](const char* name) { return shipped.folder() / name; };
    const std::string arguments =
        "class " + quoted(shipped.find("tee_coupon.exercise.toml")) + " " + quoted(folder) + " --csv ";
    const Ran one = run_program(arguments + quoted(csv("one.csv")));
    REQUIRE(one.exit_code == 0);
    for (const int ranks : {2, 3, 4}) {
        CAPTURE(ranks);
        const Ran ran = run_on_ranks(ranks, arguments + quoted(csv("many.csv")));
        CHECK(ran.exit_code == 0);
        CHECK(ran.output == one.output);
        CHECK(content_of(csv("many.csv")) == content_of(csv("one.csv")));
    }
}

TEST_CASE("under mpirun bad input is told once and is exit code 2, other commands run on rank 0 alone") {
    if (!can_run())
        return;
    const ShippedCopy shipped;
    const auto refused = [&](const std::string& arguments, const char* words) {
        const Ran ran = run_on_ranks(3, arguments);
        CHECK_MESSAGE(ran.exit_code == 2, ran.output);
        CHECK_MESSAGE(lines_with(ran.output, words) == 1, ran.output);
    };
    refused("order " + quoted(shipped.folder() / "none.exercise.toml"), "cannot be read");
    refused(tee_order(shipped, "--method hill"), "hill");
    refused(tee_order(shipped, "--json " + quoted(shipped.folder() / "no" / "o.json")), "is not there");
    refused("class " + quoted(shipped.find("tee_coupon.exercise.toml")) + " " + quoted(shipped.folder() / "assets"),
            "holds no .plan.toml");
    const Ran rules = run_on_ranks(3, "rules --about gas");
    CHECK(rules.exit_code == 0);
    CHECK(rules.output == run_program("rules --about gas").output);
}

TEST_CASE("under mpirun a stop ends all ranks, and keeps the best so far") {
    if (!can_run())
        return;
    const ShippedCopy shipped;
    const auto json_file = shipped.folder() / "o.json";
    // --foreground: mpirun alone gets the signal, as it does from a terminal's Ctrl-C or a batch system.
    const std::string arguments = tee_order(shipped, "--tries 100000000 --random 1 --json " + quoted(json_file));
    const Ran asked = run_on_ranks(3, arguments, "timeout --foreground --preserve-status -s USR1 6 ");
    CHECK_MESSAGE(asked.exit_code == 130, asked.output);
    if (std::filesystem::exists(json_file)) // it had begun to search
        CHECK(nlohmann::json::parse(content_of(json_file))["cut_short"] == true);
    // After Ctrl-C the exit code is mpirun's own, and it waits for the ranks no longer than a second.
    const Ran interrupted = run_on_ranks(3, arguments, "timeout --foreground --preserve-status -s INT 6 ");
    CHECK(interrupted.exit_code != 0);
    if (std::filesystem::exists(json_file))
        CHECK(nlohmann::json::accept(content_of(json_file))); // whole or not at all
}
