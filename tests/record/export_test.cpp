#include "record/export.h"
#include "scratch_folder.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <regex>
#include <set>

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

namespace {

// What a statement may hold and how (IEEE 9274.1.1 and ADL xAPI 1.0.3 part two, from memory). Adds what does not hold.
void check_extensions(const json& of) {
    for (const auto& [key, value] : of.items())
        CHECK(std::regex_match(key, std::regex("[a-z]+:[!-~]+"))); // keys of extensions are IRIs
}

void check_language_map(const json& map) {
    REQUIRE(!map.empty());
    for (const auto& [tag, words] : map.items()) {
        CHECK(std::regex_match(tag, std::regex("[a-z]{2,3}(-[A-Za-z0-9]+)*"))); // RFC 5646, the short forms
        CHECK(!words.get<std::string>().empty());
    }
}

void check_keys(const json& object, const std::set<std::string>& allowed) {
    for (const auto& [key, value] : object.items()) {
        CHECK_MESSAGE(allowed.contains(key), key);
        CHECK_MESSAGE(!value.is_null(), key); // null is allowed in extensions alone
    }
}

void check_statement(const json& statement) {
    static const std::regex uuid("[0-9a-f]{8}-[0-9a-f]{4}-[1-5][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"); // RFC 4122
    static const std::regex iri("[A-Za-z][A-Za-z0-9+.-]*:[!-~]+");
    // RFC 3339 with a zone, and the ISO 8601 duration.
    static const std::regex instant(R"(\d{4}-(0\d|1[0-2])-([0-2]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?Z)");
    static const std::regex duration(R"(P(?!$)(\d+D)?(T(\d+H)?(\d+M)?(\d+(\.\d+)?S)?)?)");
    check_keys(statement, {"id", "actor", "verb", "object", "result", "context", "timestamp", "stored", "authority",
                           "version", "attachments"});
    for (const char* needed : {"actor", "verb", "object"})
        REQUIRE(statement.contains(needed));
    CHECK(std::regex_match(statement["id"].get<std::string>(), uuid));

    const json& actor = statement["actor"];
    check_keys(actor, {"objectType", "name", "mbox", "mbox_sha1sum", "openid", "account"});
    int identifiers = 0;
    for (const char* one : {"mbox", "mbox_sha1sum", "openid", "account"})
        identifiers += actor.contains(one);
    CHECK(identifiers == 1); // an agent has exactly one inverse functional identifier
    check_keys(actor["account"], {"homePage", "name"});
    CHECK(std::regex_match(actor["account"]["homePage"].get<std::string>(), iri));
    CHECK(!actor["account"]["name"].get<std::string>().empty());

    const json& verb = statement["verb"];
    check_keys(verb, {"id", "display"});
    CHECK(std::regex_match(verb["id"].get<std::string>(), iri));
    check_language_map(verb["display"]);

    const json& object = statement["object"];
    check_keys(object, {"objectType", "id", "definition"});
    CHECK(object["objectType"] == "Activity");
    CHECK(std::regex_match(object["id"].get<std::string>(), iri));
    check_language_map(object["definition"]["name"]);
    CHECK(std::regex_match(object["definition"]["type"].get<std::string>(), iri));

    const json& result = statement["result"];
    check_keys(result, {"score", "success", "completion", "response", "duration", "extensions"});
    const json& score = result["score"];
    check_keys(score, {"scaled", "raw", "min", "max"});
    CHECK(score["scaled"].get<double>() >= -1);
    CHECK(score["scaled"].get<double>() <= 1);
    if (score.contains("raw")) {
        CHECK(score["raw"].get<double>() >= score["min"].get<double>());
        CHECK(score["raw"].get<double>() <= score["max"].get<double>());
        CHECK(score["min"].get<double>() < score["max"].get<double>());
    }
    CHECK(result["success"].is_boolean());
    CHECK(result["completion"].is_boolean());
    CHECK_MESSAGE(std::regex_match(result["duration"].get<std::string>(), duration), result["duration"]);
    if (result.contains("extensions"))
        check_extensions(result["extensions"]);

    const json& context = statement["context"];
    check_keys(context, {"registration", "instructor", "team", "contextActivities", "contextAgents", "contextGroups",
                         "revision", "platform", "language", "statement", "extensions"});
    CHECK(context["platform"].is_string()); // allowed because the object is an activity
    if (context.contains("extensions"))
        check_extensions(context["extensions"]);
    CHECK(std::regex_match(statement["timestamp"].get<std::string>(), instant));
}

} // namespace

TEST_CASE("every xAPI statement keeps to the published rules, whatever the record holds") {
    const ScratchFolder folder("xapi");
    Record record(folder.path / "r.sqlite");
    const Trainee ann = record.add_trainee("Ann \"the\" <welder>", 0), zoe = record.add_trainee("Zoë", 0);
    Attempt attempt;
    attempt.exercise = attempt.title = "x";
    attempt.plan = "p";
    attempt.program = "0.1.0";
    const Milliseconds at = 1'777'886'400'000;
    for (const double mark : {0.0, 33.333333333, 72.5, 100.0})
        for (const Milliseconds length :
             {Milliseconds{0}, Milliseconds{1}, Milliseconds{59'999}, Milliseconds{864'000'000},
              Milliseconds{-5'000}}) { // a clock that was put back
            attempt.trainee = mark > 50 ? ann.id : zoe.id;
            attempt.mark = mark;
            attempt.passed = mark > 60;
            attempt.variant = static_cast<int>(mark);
            attempt.hints = 2;
            attempt.started_ms = at - length;
            attempt.ended_ms = at;
            record.add_attempt(attempt);
        }
    for (const char* given : {"", "6,0", "a \"quoted\" word", "\x01", "\xc3\xa4"})
        record.add_answer({0, "", zoe.id, "fire_watch/reach", given, true, 5, at, 0});
    std::set<std::string> ids;
    for (const bool names : {false, true}) {
        const json statements = json::parse(as_xapi(record, {}, "https://training.example/accounts", names));
        REQUIRE(statements.size() == 25);
        for (const json& statement : statements) {
            check_statement(statement);
            ids.insert(statement["id"].get<std::string>());
        }
    }
    CHECK(ids.size() == 25);
}

// The shape that the xAPI specification asks of a statement (ADL xAPI 1.0.3 part two, 2.2 to 2.4; IEEE 9274.1.1,
// from memory): id is a UUID; the actor has exactly one identifier; verb and object ids are IRIs; score.scaled lies
// in -1 to 1; timestamp and duration are ISO 8601.
TEST_CASE("the home of accounts is an address that a record store takes") {
    for (const char* good :
         {"https://training.example", "https://training.example/accounts?of=bay%202", "http://bühne.example"})
        CHECK_MESSAGE(is_home_of_accounts(good), good);
    for (const char* bad : {"", "training.example", "://training.example", "https://", "https:training.example",
                            "https://two words.example", "9p://training.example", "https://a<b>", "https://a\n"})
        CHECK_MESSAGE(!is_home_of_accounts(bad), bad);
}

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
