#include "arc/rule_book.h"
#include "command_line/commands.h"
#include "command_line/named_choice.h"
#include "text/input_error.h"
#include "text/toml_reader.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <string>
#include <vector>

namespace holdtrue::command_line {
namespace {

using arc::Rule;
using arc::RuleRow;

struct RulesFlags {
    std::string about, units = "metric";
    bool json = false;
};

class Numbers {
public:
    Numbers(const Rule& rule, units::System system)
        : rule_(rule), dimension_(arc::dimension_of(rule.unit)), system_(system) {}

    std::string say(double value) const {
        if (dimension_)
            return units::quantity_text(value, *dimension_, system_);
        return units::significant_text(value) + (rule_.unit == "-"   ? ""
                                                 : rule_.unit == "x" ? " times"
                                                                     : " " + rule_.unit);
    }
    // "8 mm to 13 mm"; a formula where the bound is one.
    std::string words() const {
        std::string text;
        const auto add = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
        if (rule_.low && rule_.high)
            add(say(*rule_.low) + " to " + say(*rule_.high));
        else if (rule_.low)
            add("at least " + say(*rule_.low));
        else if (rule_.high)
            add("at most " + say(*rule_.high));
        if (rule_.caution_above)
            add("caution above " + say(*rule_.caution_above));
        if (rule_.base)
            add("fixed part " + say(*rule_.base));
        if (rule_.share)
            add("share " + units::significant_text(*rule_.share));
        return text;
    }
    std::string row(const RuleRow& row) const {
        return std::isfinite(row.high) ? say(row.low) + " to " + say(row.high) : "at least " + say(row.low);
    }

private:
    const Rule& rule_;
    const units::Dimension* dimension_;
    units::System system_;
};

// A row's key in the unit that its rule names in brackets.
std::string key_words(const Rule& rule, const RuleRow& row, units::System system) {
    const std::size_t open = rule.by.find('[');
    const std::string unit = open == std::string::npos ? "" : rule.by.substr(open + 1, rule.by.find(']') - open - 1);
    const units::Dimension* dimension = arc::dimension_of(unit);
    const std::string key =
        dimension ? units::quantity_text(row.key, *dimension, system) : units::significant_text(row.key);
    return (rule.interpolated ? "at " : "up to ") + key;
}

std::string rule_text(const Rule& rule, units::System system) {
    const Numbers numbers(rule, system);
    std::string text = rule.id + "  [" + std::string(arc::in_words(rule.severity)) + "; " + in_words(rule.mark) + "]\n";
    text += "    " + rule.says + "\n";
    text += "    applies to: " + rule.applies + "; valid: " + rule.valid + "\n";
    if (const std::string words = numbers.words(); !words.empty())
        text += "    number: " + words + "\n";
    for (const RuleRow& row : rule.rows)
        text += "    " + rule.by.substr(0, rule.by.find(" [")) + " " + key_words(rule, row, system) + ": " +
                numbers.row(row) + "\n";
    return text + "    source: " + rule.source + "\n";
}

nlohmann::json rule_json(const Rule& rule) {
    using nlohmann::json;
    const auto number = [](const std::optional<double>& value) { return value ? json(*value) : json(nullptr); };
    json rows = json::array();
    for (const RuleRow& row : rule.rows)
        rows.push_back({{rule.interpolated ? "at" : "upto", row.key},
                        {"low", row.low},
                        {"high", std::isfinite(row.high) ? json(row.high) : json(nullptr)}});
    return {{"id", rule.id},
            {"about", rule.about},
            {"applies", rule.applies},
            {"says", rule.says},
            {"unit", rule.unit},
            {"low", number(rule.low)},
            {"high", number(rule.high)},
            {"caution_above", number(rule.caution_above)},
            {"base", number(rule.base)},
            {"share", number(rule.share)},
            {"by", rule.by},
            {"rows", rows},
            {"source", rule.source},
            {"valid", rule.valid},
            {"mark", in_words(rule.mark)},
            {"severity", arc::in_words(rule.severity)}};
}

int list_rules(const RulesFlags& flags) {
    if (flags.units != "metric" && flags.units != "imperial")
        throw text::InputError("", 0, text::in_english("--units \"" + flags.units + "\" is not known"),
                               text::in_english("it can be metric or imperial"));
    const units::System system = flags.units == "metric" ? units::System::metric : units::System::imperial;
    const arc::RuleBook book = arc::RuleBook::read();

    // A topic, or a word of an id: "gas", "plug", "volts.usual_line".
    std::vector<std::string> topics;
    std::vector<const Rule*> wanted;
    for (const Rule& rule : book.rules()) {
        if (std::ranges::find(topics, rule.about) == topics.end())
            topics.push_back(rule.about);
        if (flags.about.empty() || rule.about == flags.about || rule.id == flags.about ||
            rule.id.starts_with(flags.about + "."))
            wanted.push_back(&rule);
    }
    std::ranges::sort(topics);
    if (wanted.empty()) {
        const std::string near = text::nearest(flags.about, topics);
        throw text::InputError("", 0, text::in_english("no rule is about \"" + flags.about + "\""),
                               text::in_english((near.empty() ? "" : "did you mean \"" + near + "\"? ") +
                                                std::string("Topics: ") + text::listed(topics)));
    }
    if (flags.json) {
        nlohmann::json list = nlohmann::json::array();
        for (const Rule* rule : wanted)
            list.push_back(rule_json(*rule));
        std::printf("%s\n", list.dump(2).c_str());
        return 0;
    }
    for (const Rule* rule : wanted)
        std::fputs((rule_text(*rule, system) + "\n").c_str(), stdout);
    std::printf("%zu of %zu rules; units: %s. Local codes and licensed practice come first.\n", wanted.size(),
                book.rules().size(), flags.units.c_str());
    return 0;
}

} // namespace

void add_rules(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("rules", "The rule book: every number with its source and validity");
    auto flags = std::make_shared<RulesFlags>();
    command->add_option("--about", flags->about, "a topic (gas, fillet, preheat ...) or a rule's id");
    command->add_option("--units", flags->units, "metric or imperial")->type_name(one_of_type({"metric", "imperial"}));
    command->add_flag("--json", flags->json, "as JSON, SI units");
    command->footer("Examples:\n"
                    "  holdtrue rules --about gas\n"
                    "  holdtrue rules --about plug.spacing --units imperial");
    command->callback([flags, &exit_code] { exit_code = list_rules(*flags); });
}

} // namespace holdtrue::command_line
