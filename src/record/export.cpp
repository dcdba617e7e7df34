#include "record/export.h"

#include "units/quantity_text.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <map>

namespace holdtrue::record {
namespace {

using json = nlohmann::ordered_json;

std::string cell(std::string text) {
    if (!text.empty() && std::string_view("=+-@\t\r").find(text[0]) != std::string_view::npos)
        text.insert(0, 1, '\'');
    if (text.find_first_of(",\"\r\n") == std::string::npos)
        return text;
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"')
            quoted += '"';
        quoted += c;
    }
    return quoted + '"';
}

std::map<std::int64_t, Trainee> trainees_by_id(const Record& record) {
    std::map<std::int64_t, Trainee> all;
    for (const Trainee& trainee : record.trainees())
        all.emplace(trainee.id, trainee);
    return all;
}

std::string dumped(const json& value) {
    // A record that another program wrote could hold bytes that are not UTF-8.
    return value.dump(2, ' ', false, json::error_handler_t::replace) + '\n';
}

constexpr const char* english = "en";

json verb(const std::string& name) {
    return {{"id", "http://adlnet.gov/expapi/verbs/" + name}, {"display", {{english, name}}}};
}

json actor(const Trainee& trainee, const std::string& home, bool with_names) {
    json agent{{"objectType", "Agent"}, {"account", {{"homePage", home}, {"name", trainee.uuid}}}};
    if (with_names)
        agent["name"] = trainee.name;
    return agent;
}

// Activities have names of their own, the same for everyone who uses the program.
std::string activity(const std::string& kind, const std::string& name) {
    std::string id = "urn:holdtrue:" + kind + ':';
    for (const char c : name) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
                           c == '-' || c == '.' || c == '/';
        char escaped[4];
        std::snprintf(escaped, sizeof escaped, "%%%02X", static_cast<unsigned char>(c));
        id += plain ? std::string(1, c) : escaped;
    }
    return id;
}

} // namespace

std::string utc_text(Milliseconds at) {
    using namespace std::chrono;
    const sys_time<milliseconds> moment{milliseconds(at)};
    const auto day = floor<days>(moment);
    const year_month_day date(day);
    const hh_mm_ss clock(moment - day);
    char text[64];
    std::snprintf(text, sizeof text, "%04d-%02u-%02uT%02d:%02d:%02d.%03dZ", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                  static_cast<int>(clock.hours().count()), static_cast<int>(clock.minutes().count()),
                  static_cast<int>(clock.seconds().count()), static_cast<int>(clock.subseconds().count()));
    return text;
}

std::string duration_text(Milliseconds length) {
    char text[48];
    std::snprintf(text, sizeof text, "PT%.2fS", static_cast<double>(std::max<Milliseconds>(0, length)) / 1000);
    return text;
}

std::string attempts_csv(const Record& record, std::optional<std::int64_t> trainee) {
    const auto trainees = trainees_by_id(record);
    std::string csv = "trainee,exercise,title,variant,started,ended,minutes,mark,passed,settings,order_and_heat,gauges,"
                      "prediction,time_and_handling,hints,program,attempt_id\r\n";
    for (const Attempt& attempt : record.attempts(trainee)) {
        csv += cell(trainees.at(attempt.trainee).name) + ',' + cell(attempt.exercise) + ',' + cell(attempt.title) +
               ',' + std::to_string(attempt.variant) + ',' + utc_text(attempt.started_ms) + ',' +
               utc_text(attempt.ended_ms) + ',' +
               units::number_text(static_cast<double>(attempt.ended_ms - attempt.started_ms) / 60000, 1) + ',' +
               units::number_text(attempt.mark, 1) + (attempt.passed ? ",yes" : ",no");
        for (const double points : attempt.points)
            csv += ',' + units::number_text(points, 1);
        csv += ',' + std::to_string(attempt.hints) + ',' + cell(attempt.program) + ',' + attempt.uuid + "\r\n";
    }
    return csv;
}

std::string answers_csv(const Record& record, std::optional<std::int64_t> trainee) {
    const auto trainees = trainees_by_id(record);
    std::string csv = "trainee,question,answer,right,quality,answered,thinking_s,answer_id\r\n";
    for (const GivenAnswer& answer : record.answers(trainee))
        csv += cell(trainees.at(answer.trainee).name) + ',' + cell(answer.question) + ',' + cell(answer.given) +
               (answer.right ? ",yes," : ",no,") + std::to_string(answer.quality) + ',' + utc_text(answer.at_ms) + ',' +
               units::number_text(static_cast<double>(answer.thinking_ms) / 1000, 1) + ',' + answer.uuid + "\r\n";
    return csv;
}

std::string as_json(const Record& record, std::optional<std::int64_t> trainee) {
    json all{{"format", "holdtrue record"}, {"format_version", 1}, {"trainees", json::array()}};
    for (const Trainee& one : record.trainees()) {
        if (trainee && *trainee != one.id)
            continue;
        json person{{"id", one.uuid}, {"name", one.name}, {"since", utc_text(one.since_ms)}};
        person["attempts"] = json::array();
        for (const Attempt& attempt : record.attempts(one.id))
            person["attempts"].push_back({{"id", attempt.uuid},
                                          {"exercise", attempt.exercise},
                                          {"title", attempt.title},
                                          {"variant", attempt.variant},
                                          {"started", utc_text(attempt.started_ms)},
                                          {"ended", utc_text(attempt.ended_ms)},
                                          {"mark", attempt.mark},
                                          {"passed", attempt.passed},
                                          {"points",
                                           {{"settings", attempt.points[0]},
                                            {"order_and_heat", attempt.points[1]},
                                            {"gauges", attempt.points[2]},
                                            {"prediction", attempt.points[3]},
                                            {"time_and_handling", attempt.points[4]}}},
                                          {"hints", attempt.hints},
                                          {"program", attempt.program},
                                          {"plan", attempt.plan}});
        person["answers"] = json::array();
        for (const GivenAnswer& answer : record.answers(one.id))
            person["answers"].push_back({{"id", answer.uuid},
                                         {"question", answer.question},
                                         {"answer", answer.given},
                                         {"right", answer.right},
                                         {"quality", answer.quality},
                                         {"answered", utc_text(answer.at_ms)},
                                         {"thinking_s", static_cast<double>(answer.thinking_ms) / 1000}});
        all["trainees"].push_back(std::move(person));
    }
    return dumped(all);
}

bool is_home_of_accounts(std::string_view home) {
    const std::size_t scheme = std::min(home.find("://"), home.size());
    const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
    const auto in_scheme = [&](char c) {
        return letter(c) || (c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.';
    };
    const auto left_out = [](char c) {
        return (c >= 0 && c <= ' ') || c == 127 || std::string_view("<>\"{}|\\^`").find(c) != std::string_view::npos;
    };
    return scheme > 0 && letter(home.front()) && std::ranges::all_of(home.substr(0, scheme), in_scheme) &&
           home.size() > scheme + 3 && std::ranges::none_of(home, left_out);
}

std::string as_xapi(const Record& record, std::optional<std::int64_t> trainee, const std::string& home,
                    bool with_names) {
    const auto trainees = trainees_by_id(record);
    json statements = json::array();
    for (const Attempt& attempt : record.attempts(trainee))
        statements.push_back(
            {{"id", attempt.uuid},
             {"actor", actor(trainees.at(attempt.trainee), home, with_names)},
             {"verb", verb(attempt.passed ? "passed" : "failed")},
             {"object",
              {{"objectType", "Activity"},
               {"id", activity("exercise", attempt.exercise)},
               {"definition",
                {{"name", {{english, attempt.title}}}, {"type", "http://adlnet.gov/expapi/activities/assessment"}}}}},
             {"result",
              {{"score", {{"scaled", attempt.mark / 100}, {"raw", attempt.mark}, {"min", 0}, {"max", 100}}},
               {"success", attempt.passed},
               {"completion", true},
               {"duration", duration_text(attempt.ended_ms - attempt.started_ms)},
               {"extensions", {{"urn:holdtrue:hints", attempt.hints}}}}},
             {"context",
              {{"platform", "Holdtrue " + attempt.program},
               {"language", english},
               {"extensions", {{"urn:holdtrue:variant", attempt.variant}}}}},
             {"timestamp", utc_text(attempt.ended_ms)}});
    for (const GivenAnswer& answer : record.answers(trainee))
        statements.push_back(
            {{"id", answer.uuid},
             {"actor", actor(trainees.at(answer.trainee), home, with_names)},
             {"verb", verb("answered")},
             {"object",
              {{"objectType", "Activity"},
               {"id", activity("question", answer.question)},
               {"definition",
                {{"type", "http://adlnet.gov/expapi/activities/question"}, {"name", {{english, answer.question}}}}}}},
             {"result",
              {{"score", {{"scaled", answer.right ? 1 : 0}}},
               {"success", answer.right},
               {"completion", true},
               {"response", answer.given},
               {"duration", duration_text(answer.thinking_ms)}}},
             {"context", {{"platform", "Holdtrue"}, {"language", english}}},
             {"timestamp", utc_text(answer.at_ms)}});
    return dumped(statements);
}

} // namespace holdtrue::record
