#include "record/export.h"
#include "scratch_folder.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <regex>

using namespace holdtrue::record;
using nlohmann::json;

namespace {

struct Filled {
    ScratchFolder folder{"export"};
    Record record{folder.path / "r.sqlite"};
    Filled() {
        const Trainee ann = record.add_trainee("Ann, \"the welder\"", 0), zoe = record.add_trainee("=1+1", 0);
        Attempt attempt;
        attempt.trainee = ann.id;
        attempt.exercise = "lift arm/ä";
        attempt.title = "The lift arm";
        attempt.plan = "a\nb";
        attempt.started_ms = 1'777'886'400'000; // 2026-05-04 09:20:00 UTC, by an independent calendar
        attempt.ended_ms = attempt.started_ms + 754'200;
        attempt.mark = 72.5;
        attempt.passed = true;
        attempt.program = "0.1.0";
        record.add_attempt(attempt);
        record.add_answer({0, "", zoe.id, "fire_watch/reach", "6,0", false, 1, attempt.ended_ms, 1500});
    }
};

} // namespace

TEST_CASE("times are ISO 8601 in UTC") {
    CHECK(utc_text(0) == "1970-01-01T00:00:00.000Z");
    CHECK(utc_text(951'782'400'000) == "2000-02-29T00:00:00.000Z"); // a leap day
    CHECK(utc_text(1'777'886'400'123) == "2026-05-04T09:20:00.123Z");
    CHECK(duration_text(754'200) == "PT754.20S");
}

TEST_CASE("CSV quotes by RFC 4180 and defuses formulas") {
    const Filled filled;
    const std::string csv = attempts_csv(filled.record);
    CHECK(csv.find("\r\n\"Ann, \"\"the welder\"\"\",lift arm/ä,The lift arm,0,2026-05-04T09:20:00.000Z,"
                   "2026-05-04T09:32:34.200Z,12.6,72.5,yes,") != std::string::npos);
    CHECK(answers_csv(filled.record).find("\r\n'=1+1,fire_watch/reach,\"6,0\",no,1,") != std::string::npos);
    CHECK(attempts_csv(filled.record, filled.record.find_trainee("=1+1")->id).find("Ann") == std::string::npos);
}

TEST_CASE("JSON holds everything, plan included") {
    const Filled filled;
    const json all = json::parse(as_json(filled.record));
    REQUIRE(all["trainees"].size() == 2);
    CHECK(all["trainees"][1]["attempts"][0]["plan"] == "a\nb");
    CHECK(all["trainees"][0]["answers"][0]["answer"] == "6,0");
}

// The shape that the xAPI specification asks of a statement (ADL xAPI 1.0.3 part two, 2.2 to 2.4; IEEE 9274.1.1,
// from memory): id is a UUID; the actor has exactly one identifier; verb and object ids are IRIs; score.scaled lies
// in -1 to 1; timestamp and duration are ISO 8601.
TEST_CASE("xAPI statements have the shape that the specification asks for") {
    const Filled filled;
    const std::string text = as_xapi(filled.record, {}, "https://training.example/accounts", false);
    CHECK(text == as_xapi(filled.record, {}, "https://training.example/accounts", false));
    const json statements = json::parse(text);
    REQUIRE(statements.size() == 2);
    static const std::regex uuid("[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}");
    static const std::regex iri("[a-z]+:[!-~]+");
    static const std::regex timestamp(R"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)");
    static const std::regex duration(R"(PT\d+\.\d\dS)");
    for (const json& statement : statements) {
        CHECK(std::regex_match(statement["id"].get<std::string>(), uuid));
        const json& actor = statement["actor"];
        CHECK(actor["objectType"] == "Agent");
        CHECK(actor["account"]["homePage"] == "https://training.example/accounts");
        CHECK(!actor.contains("name")); // names leave the machine only when asked for
        CHECK(!actor.contains("mbox"));
        CHECK(std::regex_match(statement["verb"]["id"].get<std::string>(), iri));
        CHECK(statement["object"]["objectType"] == "Activity");
        CHECK(std::regex_match(statement["object"]["id"].get<std::string>(), iri));
        const json& result = statement["result"];
        CHECK(result["success"].is_boolean());
        CHECK(result["score"]["scaled"].get<double>() >= -1);
        CHECK(result["score"]["scaled"].get<double>() <= 1);
        CHECK(std::regex_match(result["duration"].get<std::string>(), duration));
        CHECK(std::regex_match(statement["timestamp"].get<std::string>(), timestamp));
    }
    CHECK(statements[0]["verb"]["id"] == "http://adlnet.gov/expapi/verbs/passed");
    CHECK(statements[0]["object"]["id"] == "urn:holdtrue:exercise:lift%20arm/%C3%A4");
    CHECK(statements[0]["result"]["score"]["scaled"] == 0.725);
    CHECK(statements[1]["verb"]["id"] == "http://adlnet.gov/expapi/verbs/answered");
    CHECK(json::parse(as_xapi(filled.record, {}, "https://training.example", true))[1]["actor"]["name"] == "=1+1");
}
