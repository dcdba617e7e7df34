// A quantity on the command line: "18.5", "18.5V", "300mm/min", "12 in/min", "5/16in". A bare number is in the unit
// that goes with --units. Errors are told as problems, one line each, and reading goes on.
#pragma once

#include "text/input_error.h"
#include "text/toml_reader.h"
#include "units/quantity_text.h"

#include <optional>
#include <string>
#include <vector>

namespace holdtrue::command_line {

class QuantityArguments {
public:
    explicit QuantityArguments(units::System system) : system_(system) {}

    // Empty words: not given. Range is SI. Returns nullopt when not given or wrong.
    std::optional<double> quantity(const std::string& option, const std::string& words,
                                   const units::Dimension& dimension, const units::Unit& bare, text::Range range);
    // A number without unit.
    std::optional<double> number(const std::string& option, const std::string& words, text::Range range);
    void problem(std::string what, std::string fix) {
        problems_.push_back({"", 0, text::in_english(std::move(what)), text::in_english(std::move(fix))});
    }
    // Takes over what was wrong elsewhere.
    void problems_of(const text::InputError& error);

    units::System system() const { return system_; }
    // Throws text::InputError with all problems, if any.
    void finish() const;

private:
    units::System system_;
    std::vector<text::Problem> problems_;
};

} // namespace holdtrue::command_line
