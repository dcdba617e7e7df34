#include "text/toml_data.h"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace holdtrue::text {
namespace {

std::string format_number(double value) {
    std::ostringstream out;
    out.precision(6);
    out << value;
    return out.str();
}

Sentence unit_keys(std::string_view key, const units::Dimension& dimension) {
    std::vector<std::string> names;
    for (const units::Unit& unit : dimension.units)
        names.push_back(std::string(key) + '_' + std::string(unit.suffix));
    return one_of(names);
}

// A hair of slack, so that a bound written in one unit is met by the same value written in another.
bool within(double value, Range range) {
    const auto slack = [](double bound) { return std::isfinite(bound) ? 1e-9 * std::abs(bound) : 0; };
    return std::isfinite(value) && value >= range.low - slack(range.low) && value <= range.high + slack(range.high);
}

} // namespace

Sentence range_words(Range range, const units::Unit* unit) {
    const auto shown = [&](double si) { return format_number(unit ? unit->from_si(si) : si); };
    const std::string label = unit ? " " + std::string(unit->label) : "";
    if (std::isinf(range.low) && std::isinf(range.high))
        return worded("any number");
    if (std::isinf(range.high))
        return {worded("at least {0}"), {shown(range.low) + label}};
    if (std::isinf(range.low))
        return {worded("at most {0}"), {shown(range.high) + label}};
    return {worded("{0} to {1}"), {shown(range.low), shown(range.high) + label}};
}

Table::Data::Found Table::Data::find_quantity(std::string_view key, const units::Dimension& dimension, bool required) {
    Found found;
    for (const units::Unit& unit : dimension.units) {
        const std::string full = std::string(key) + '_' + std::string(unit.suffix);
        const toml::node* node = find(full);
        if (!node)
            continue;
        if (found.node)
            problem(line_of(*node), {worded("{0} repeats {1} in another unit"), {full, found.key}},
                    worded("keep one of the two"));
        else
            found = {node, &unit, full};
    }
    if (found.node)
        return found;
    const std::string bare(key);
    for (const auto& [name, node] : *toml) {
        const std::string_view other = name.str();
        if (other == bare || (other.starts_with(bare + '_') && !asked.contains(other) && suffix_is_unit(other, bare))) {
            asked.emplace(other);
            problem(line_of(node),
                    {other == bare ? worded("{0} has no unit") : worded("{0} is not in a unit that is known here"),
                     {std::string(other)}},
                    {worded("write {0}"), {unit_keys(key, dimension)}});
            return found;
        }
    }
    if (required)
        problem(line_of(*toml), {worded("{0} is missing"), {unit_keys(key, dimension)}}, worded("add it"));
    return found;
}

bool Table::Data::suffix_is_unit(std::string_view full, std::string_view key) {
    static constexpr std::string_view known[] = {
        "m",          "cm",        "mm",        "um",  "in",  "ft",  "s",          "min",        "h",
        "c",          "f",         "k",         "v",   "a",   "pa",  "mpa",        "ksi",        "psi",
        "deg",        "rad",       "kv",        "ma",  "ms",  "cfh", "mm_per_s",   "mm_per_min", "m_per_s",
        "in_per_min", "m_per_min", "l_per_min", "mm2", "in2", "m2",  "cm_per_min", "ipm",        "degrees"};
    const std::string_view suffix = full.substr(key.size() + 1);
    return std::ranges::find(known, suffix) != std::end(known);
}

double Table::Data::checked(double value, Range range, const units::Unit* unit, const Sentence& name, int line,
                            bool& good) {
    good = within(value, range);
    if (!good)
        problem(
            line,
            {worded("{0} is {1}"), {name, format_number(unit && std::isfinite(value) ? unit->from_si(value) : value)}},
            {worded("give {0}"), {range_words(range, unit)}});
    return value;
}

std::vector<double> Table::Data::numbers(const toml::node& node, const Sentence& name, const units::Unit* unit,
                                         Range range, std::optional<std::size_t> count) {
    const toml::array* array = node.as_array();
    if (!array || (count && array->size() != *count)) {
        problem(line_of(node),
                array ? Told(worded("{0} has {1} entries"), {name, std::to_string(array->size())})
                      : Told(worded("{0} is not a list"), {name}),
                count ? Told(worded("give a list of {0} numbers in [ ]"), {std::to_string(*count)})
                      : Told(worded("give a list of numbers in [ ]")));
        return {};
    }
    std::vector<double> values;
    const Sentence one(worded("an entry of {0}"), {name});
    for (const toml::node& entry : *array) {
        const std::optional<double> value = entry.value<double>();
        bool good = false;
        if (value)
            values.push_back(checked(unit ? unit->to_si(*value) : *value, range, unit, one, line_of(entry), good));
        else
            problem(line_of(entry), {worded("{0} is not a number"), {one}},
                    {worded("give {0}"), {range_words(range, unit)}});
        if (!good)
            return {};
    }
    return values;
}

} // namespace holdtrue::text
