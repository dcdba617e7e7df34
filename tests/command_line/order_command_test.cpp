#include "command_line/program.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <csignal>
#include <cstdlib>

using namespace holdtrue::test;

namespace {

std::string quoted(const std::filesystem::path& path) { return "'" + path.string() + "'"; }

std::string tee(const ShippedCopy& shipped, const std::string& more) {
    return "order " + quoted(shipped.find("tee_coupon.exercise.toml")) + " --plan " +
           quoted(shipped.find("tee_coupon.one_side.plan.toml")) + " " + more;
}

const std::string small = " --tries 120 --random 70 --changes 40 --trials 4 ";

} // namespace

TEST_CASE("order: shows, saves what it found, and what it saved can be welded") {
    const ShippedCopy shipped;
    const auto json_file = shipped.folder() / "o.json", saved = shipped.folder() / "better.plan.toml";
    const Ran ran = run_program(tee(shipped, small + "--json " + quoted(json_file) + " --save " + quoted(saved)));
    CHECK_MESSAGE(ran.exit_code == 0, ran.output);
    for (const char* words : {"<- the plan", "70 random orders", "120 orders searched", "The order at the top"})
        CHECK_MESSAGE(ran.output.find(words) != std::string::npos, words);
    const auto json = nlohmann::json::parse(content_of(json_file));
    CHECK(json["tries"] == 120);
    CHECK(json["sample"].size() == 70);
    CHECK(json["cut_short"] == false);
    REQUIRE(json["finalists"].size() >= 2);
    double cost = 0;
    for (const auto& finalist : json["finalists"]) { // best first by the full simulation
        CHECK(finalist["cost"].get<double>() >= cost);
        cost = finalist["cost"].get<double>();
        CHECK(finalist["keeps_limits"]["trials"] == 4);
    }

    // Welded by itself, the saved plan gives the gauges that the search promised.
    const auto outcome_file = shipped.folder() / "w.json";
    const Ran welded = run_program("weld " + quoted(shipped.find("tee_coupon.exercise.toml")) + " " + quoted(saved) +
                                   " --json " + quoted(outcome_file));
    CHECK_MESSAGE(welded.exit_code <= 1, welded.output);
    const auto outcome = nlohmann::json::parse(content_of(outcome_file));
    const auto& promised = json["finalists"][0]["simulated"]["deviation"];
    REQUIRE(outcome["gauges"].size() == promised.size());
    for (std::size_t g = 0; g < promised.size(); ++g)
        CHECK(outcome["gauges"][g]["value"].get<double>() - outcome["gauges"][g]["nominal"].get<double>() ==
              promised[g].get<double>());
}

TEST_CASE("order: bad input is exit code 2 with file, what and fix, before any work") {
    const ShippedCopy shipped;
    const auto out = shipped.folder();
    const std::string exercise = "order " + quoted(shipped.find("tee_coupon.exercise.toml"));
    // A search that would take hours: a refusal that came after it would not come.
    const std::string long_work = " --tries 100000000 --random 1000000";
    const auto refused = [&](const std::string& arguments, std::initializer_list<const char*> words) {
        const Ran ran = run_program(arguments + long_work);
        CHECK(ran.exit_code == 2);
        for (const char* word : words)
            CHECK_MESSAGE(ran.output.find(word) != std::string::npos, ran.output);
        CHECK(ran.output.find("random orders\n") == std::string::npos);
    };
    refused("order", {"EXERCISE", "--help"});
    refused("order " + quoted(out / "none.exercise.toml"), {"none.exercise.toml", "cannot be read"});
    refused(exercise + " --plan " + quoted(out / "none.plan.toml"), {"none.plan.toml", "cannot be read"});
    write(out / "broken.plan.toml", "title = ");
    refused(exercise + " --plan " + quoted(out / "broken.plan.toml"), {"broken.plan.toml:1"});
    refused(exercise + " --plan " + quoted(shipped.find("lap_strip.model.plan.toml")),
            {"lap_strip.model.plan.toml:", "there is no pass", "there is left"});
    std::string idle = content_of(shipped.find("tee_coupon.model.plan.toml"));
    write(out / "idle.plan.toml", idle.substr(0, idle.find("[[move]]")) + "[[move]]\nwait_s = 10\n");
    refused(exercise + " --plan " + quoted(out / "idle.plan.toml"), {"idle.plan.toml", "no pass", "--plan"});
    refused(exercise + " --json " + quoted(out / "no" / "o.json"), {"o.json", "is not there", "make the folder"});
    refused(exercise + " --save " + quoted(out), {"is a folder", "name a file"});
    refused(exercise + " --method hill", {"--method", "hill", "annealing", "beam", "large_neighbourhood"});
    refused(exercise + " --chains 0", {"--chains", "1"});
    refused(exercise + " --threads many", {"--threads", "many"});
    if (::geteuid() != 0) { // root may write anywhere
        std::filesystem::create_directory(out / "closed");
        std::filesystem::permissions(out / "closed", std::filesystem::perms::owner_read);
        refused(exercise + " --save " + quoted(out / "closed" / "p.plan.toml"), {"cannot be written"});
        std::filesystem::permissions(out / "closed", std::filesystem::perms::owner_all);
    }
    CHECK(!std::filesystem::exists(out / "no"));
}

TEST_CASE("order: a stop keeps the best so far and ends with 130") {
    const ShippedCopy shipped;
    for (const char* signal : {"INT", "USR1"}) {
        const auto json_file = shipped.folder() / (std::string(signal) + ".json");
        const std::string command =
            "timeout --preserve-status -s " + std::string(signal) + " 5 '" HOLDTRUE_PROGRAM "' " +
            tee(shipped, "--tries 100000000 --random 1 --json " + quoted(json_file)) + " >/dev/null 2>&1";
        const int status = std::system(command.c_str());
        REQUIRE(WIFEXITED(status));
        CHECK(WEXITSTATUS(status) == 130);
        // On a machine so busy that the search had not begun nothing is written, as it says.
        if (!std::filesystem::exists(json_file))
            continue;
        const auto json = nlohmann::json::parse(content_of(json_file));
        CHECK(json["cut_short"] == true);
        CHECK(!json["finalists"].empty());
    }
}
