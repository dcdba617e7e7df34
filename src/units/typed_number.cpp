#include "units/typed_number.h"

#include <charconv>
#include <cmath>

namespace holdtrue::units {
namespace {

std::size_t blanks(std::string_view text, std::size_t at) {
    const std::size_t end = text.find_first_not_of(" \t\n\r", at);
    return end == std::string_view::npos ? text.size() : end;
}

// The number at a place; moves the place behind it.
template <class Number>
std::optional<Number> number_at(std::string_view text, std::size_t& at) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data() + at, text.data() + text.size(), value);
    if (error != std::errc())
        return std::nullopt;
    at = static_cast<std::size_t>(end - text.data());
    return value;
}

// "/ 4" behind a counter; moves the place behind it.
std::optional<int> divisor_at(std::string_view text, std::size_t& at) {
    std::size_t next = blanks(text, at);
    if (next >= text.size() || text[next] != '/')
        return std::nullopt;
    next = blanks(text, next + 1);
    const std::optional<int> divisor = number_at<int>(text, next);
    if (!divisor || *divisor <= 0)
        return std::nullopt;
    at = next;
    return divisor;
}

} // namespace

std::optional<TypedNumber> typed_number(std::string_view text) {
    std::size_t at = blanks(text, 0);
    if (at < text.size() && text[at] == '+')
        ++at;
    const std::optional<double> first = number_at<double>(text, at);
    if (!first || !std::isfinite(*first))
        return std::nullopt;
    const bool whole = *first == std::floor(*first) && *first >= 0;
    if (const std::optional<int> divisor = whole ? divisor_at(text, at) : std::nullopt)
        return TypedNumber{*first / *divisor, at};
    // A fraction behind a whole number.
    std::size_t next = blanks(text, at);
    if (whole && next > at)
        if (const std::optional<int> counter = number_at<int>(text, next); counter && *counter >= 0)
            if (const std::optional<int> divisor = divisor_at(text, next))
                return TypedNumber{*first + static_cast<double>(*counter) / *divisor, next};
    return TypedNumber{*first, at};
}

} // namespace holdtrue::units
