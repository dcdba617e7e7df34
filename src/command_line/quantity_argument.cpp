#include "command_line/quantity_argument.h"

#include "units/typed_number.h"

#include <cctype>
#include <cmath>

namespace holdtrue::command_line {
namespace {

std::string squeezed(std::string_view text) {
    std::string out;
    for (const char letter : text)
        if (!std::isspace(static_cast<unsigned char>(letter)))
            out += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
    return out;
}

struct Split {
    bool is_number = false;
    double value = 0;
    std::string unit; // squeezed; empty: none
};

Split split(const std::string& words) {
    const auto number = units::typed_number(words);
    return number ? Split{true, number->value, squeezed(std::string_view(words).substr(number->length))} : Split{};
}

bool comma_for_point(const Split& parts) {
    return parts.unit.size() > 1 && parts.unit[0] == ',' && std::isdigit(static_cast<unsigned char>(parts.unit[1]));
}

const units::Unit* find_unit(const units::Dimension& dimension, const std::string& written) {
    // Ways that workshops write what the tables call otherwise.
    const std::string name = written == "ipm"   ? "in/min"
                             : written == "\""  ? "in"
                             : written == "lpm" ? "l/min"
                                                : written;
    for (const units::Unit& unit : dimension.units)
        if (squeezed(unit.label) == name || unit.suffix == name || squeezed(unit.label) == "°" + name)
            return &unit;
    return nullptr;
}

std::string range_words(text::Range range, const units::Unit& unit) {
    const auto shown = [&](double si) { return units::significant_text(unit.from_si(si)); };
    return shown(range.low) + " to " + shown(range.high) + " " + std::string(unit.label);
}

} // namespace

std::optional<double> QuantityArguments::quantity(const std::string& option, const std::string& words,
                                                  const units::Dimension& dimension, const units::Unit& bare,
                                                  text::Range range) {
    if (words.empty())
        return std::nullopt;
    const Split parts = split(words);
    if (!parts.is_number) {
        problem(option + " \"" + words + "\" is not a number", "give " + range_words(range, bare));
        return std::nullopt;
    }
    if (comma_for_point(parts)) {
        problem(option + " \"" + words + "\" has a comma", "write a point in its place, as in 3.5");
        return std::nullopt;
    }
    const units::Unit* unit = parts.unit.empty() ? &bare : find_unit(dimension, parts.unit);
    if (!unit) {
        std::vector<std::string> known;
        for (const units::Unit& one : dimension.units)
            known.emplace_back(one.label);
        problem(option + " \"" + words + "\" is in no unit of " + std::string(dimension.name),
                "use " + text::listed(known) + ", or a bare number in " + std::string(bare.label));
        return std::nullopt;
    }
    const double si = unit->to_si(parts.value);
    const double slack = 1e-9 * std::max(std::abs(range.low), std::abs(range.high));
    if (si < range.low - slack || si > range.high + slack) {
        problem(option + " is " + units::significant_text(parts.value) + " " + std::string(unit->label) +
                    ", out of range",
                "give " + range_words(range, *unit));
        return std::nullopt;
    }
    return si;
}

std::optional<double> QuantityArguments::number(const std::string& option, const std::string& words,
                                                text::Range range) {
    if (words.empty())
        return std::nullopt;
    const Split parts = split(words);
    const std::string give =
        "give " + units::significant_text(range.low) + " to " + units::significant_text(range.high);
    if (comma_for_point(parts)) {
        problem(option + " \"" + words + "\" has a comma", "write a point in its place, as in 3.5");
        return std::nullopt;
    }
    if (!parts.is_number || !parts.unit.empty()) {
        problem(option + " \"" + words + "\" is not a number", give);
        return std::nullopt;
    }
    if (parts.value < range.low || parts.value > range.high) {
        problem(option + " is " + units::significant_text(parts.value) + ", out of range", give);
        return std::nullopt;
    }
    return parts.value;
}

void QuantityArguments::problems_of(const text::InputError& error) {
    problems_.insert(problems_.end(), error.problems().begin(), error.problems().end());
}

void QuantityArguments::finish() const {
    if (!problems_.empty())
        throw text::InputError(problems_);
}

} // namespace holdtrue::command_line
