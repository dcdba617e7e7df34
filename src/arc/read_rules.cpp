#include "arc/rule.h"
#include "text/verify.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace holdtrue::arc {
namespace {

struct UnitFound {
    const units::Dimension* dimension = nullptr;
    const units::Unit* unit = nullptr;
};

UnitFound find_unit(const std::string& label) {
    static constexpr std::array dimensions{&units::length,    &units::time, &units::temperature, &units::travel,
                                           &units::wire_feed, &units::flow, &units::voltage,     &units::current,
                                           &units::speed,     &units::angle};
    for (const units::Dimension* dimension : dimensions)
        for (const units::Unit& unit : dimension->units)
            if (unit.label == label)
                return {dimension, &unit};
    return {};
}

double to_si(const UnitFound& unit, double value) { return unit.unit ? unit.unit->to_si(value) : value; }

std::optional<double> optional_number(text::Table& table, const char* key, const UnitFound& unit) {
    if (!table.has(key))
        return std::nullopt;
    return to_si(unit, table.number(key));
}

// "thickness [mm]": the unit stands in brackets.
UnitFound unit_in_brackets(const std::string& by) {
    const std::size_t open = by.find('['), close = by.find(']');
    if (open == std::string::npos || close == std::string::npos)
        return {};
    return find_unit(by.substr(open + 1, close - open - 1));
}

void read_rows(text::Table& table, Rule& rule, const UnitFound& unit) {
    if (!table.has("rows"))
        return;
    rule.by = table.text("by");
    const UnitFound by = unit_in_brackets(rule.by);
    for (text::Table entry : table.tables("rows")) {
        RuleRow row;
        rule.interpolated = entry.has("at");
        row.key = to_si(by, entry.number(rule.interpolated ? "at" : "upto"));
        row.low = to_si(unit, entry.number("low", {}, unit.unit ? unit.unit->from_si(0) : 0));
        row.high = entry.has("high") ? to_si(unit, entry.number("high")) : std::numeric_limits<double>::infinity();
        row.usual = entry.has("usual") ? to_si(unit, entry.number("usual")) : row.low;
        if (!rule.rows.empty() && row.key <= rule.rows.back().key)
            entry.problem(rule.interpolated ? "at" : "upto", text::worded("does not rise"),
                          text::worded("order the rows"));
        rule.rows.push_back(row);
    }
}

Rule read_rule(text::Table& table) {
    Rule rule;
    rule.file = table.file();
    rule.line = table.line();
    rule.id = table.text("id");
    rule.about = table.text("about");
    rule.applies = table.text("applies");
    rule.says = table.text("says");
    rule.unit = table.text("unit");
    rule.source = table.text("source");
    rule.valid = table.text("valid");
    rule.mark = table.choice<Mark>("mark", {{"standard", Mark::standard},
                                            {"handbook", Mark::handbook},
                                            {"common practice, no source", Mark::common_practice}});
    rule.severity = table.choice<Severity>(
        "severity", {{"caution", Severity::caution}, {"fail", Severity::fail}, {"scrap", Severity::scrap}});
    for (const auto& [key, value] : {std::pair{"id", &rule.id}, {"source", &rule.source}, {"says", &rule.says}})
        if (value->empty())
            table.problem(key, {text::worded("{0} is empty"), {std::string(key)}},
                          text::worded("a rule without it helps nobody"));

    const UnitFound unit = find_unit(rule.unit);
    rule.low = optional_number(table, "low", unit);
    rule.high = optional_number(table, "high", unit);
    rule.caution_above = optional_number(table, "caution_above", unit);
    rule.base = optional_number(table, "base", unit);
    rule.share = optional_number(table, "share", {});
    read_rows(table, rule, unit);
    if (!rule.low && !rule.high && rule.rows.empty() && !rule.base && !rule.share)
        table.problem("id", {text::worded("rule {0} has no number"), {rule.id}},
                      text::worded("give low, high, base, share or rows"));
    if (rule.low && rule.high && *rule.low > *rule.high)
        table.problem("high", text::worded("high is below low"), text::worded("exchange the two"));
    return rule;
}

} // namespace

RuleRow Rule::at(double key) const {
    VERIFY(!rows.empty(), id.c_str());
    constexpr double hair = 1e-9;
    if (!interpolated) {
        for (const RuleRow& row : rows)
            if (key <= row.key + hair)
                return row;
        return rows.back();
    }
    if (key <= rows.front().key)
        return rows.front();
    for (std::size_t i = 1; i < rows.size(); ++i)
        if (key <= rows[i].key) {
            const double t = (key - rows[i - 1].key) / (rows[i].key - rows[i - 1].key);
            return {key, std::lerp(rows[i - 1].low, rows[i].low, t), std::lerp(rows[i - 1].high, rows[i].high, t),
                    std::lerp(rows[i - 1].usual, rows[i].usual, t)};
        }
    return rows.back();
}

double Rule::low_or_stop() const {
    VERIFY(low, id.c_str());
    return *low;
}
double Rule::high_or_stop() const {
    VERIFY(high, id.c_str());
    return *high;
}

bool Rule::stands_for(const Rule& other) const {
    const auto has = [](const auto& needed, const auto& given) { return given || !needed; };
    return find_unit(unit).dimension == find_unit(other.unit).dimension && has(other.low, low) &&
           has(other.high, high) && has(other.base, base) && has(other.share, share) &&
           (other.rows.empty() ||
            (!rows.empty() && unit_in_brackets(by).dimension == unit_in_brackets(other.by).dimension));
}

const char* in_words(Severity severity) {
    switch (severity) {
    case Severity::caution:
        return "caution";
    case Severity::fail:
        return "fail";
    case Severity::scrap:
        return "scrap";
    }
    return "";
}

const char* in_words(Mark mark) {
    switch (mark) {
    case Mark::standard:
        return "standard";
    case Mark::handbook:
        return "handbook";
    case Mark::common_practice:
        return "common practice, no source";
    }
    return "";
}

const units::Dimension* dimension_of(const std::string& unit) { return find_unit(unit).dimension; }

std::vector<Rule> read_rules(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    std::error_code ignored;
    for (const auto& entry : std::filesystem::directory_iterator(folder, ignored))
        if (entry.path().extension() == ".toml")
            files.push_back(entry.path());
    std::ranges::sort(files);
    if (files.empty())
        throw text::InputError(folder.string(), 0, text::worded("holds no rules"),
                               text::worded("restore the *.toml files that ship with the program"));

    std::vector<Rule> rules;
    std::map<std::string, std::string> place; // of each id
    for (const auto& file : files) {
        text::Document document = text::Document::read(file);
        text::Table root = document.root();
        for (text::Table table : root.tables("rule")) {
            Rule rule = read_rule(table);
            const auto [seen, is_new] = place.emplace(rule.id, rule.file + ":" + std::to_string(rule.line));
            if (!is_new)
                table.problem("id", {text::worded("rule {0} is given twice"), {rule.id}},
                              {text::worded("the first is at {0}"), {seen->second}});
            rules.push_back(std::move(rule));
        }
        document.finish();
    }
    return rules;
}

} // namespace holdtrue::arc
