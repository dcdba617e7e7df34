// A number as people type it, with fractions as an inch rule is read: "18.5", "+3", "1/4", "1 1/2".
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace holdtrue::units {

struct TypedNumber {
    double value = 0;       // finite
    std::size_t length = 0; // of the text that it took, from the start, blanks before it included
};
// Nothing if the text does not begin with a number.
std::optional<TypedNumber> typed_number(std::string_view text);

} // namespace holdtrue::units
