#include "text/true_minus.h"

namespace holdtrue::text {

std::string true_minus(std::string_view words) {
    const auto is_digit = [&](std::size_t at) { return at < words.size() && words[at] >= '0' && words[at] <= '9'; };
    const auto opens = [&](std::size_t at) {
        return at == 0 || std::string_view(" \n(").find(words[at - 1]) != std::string_view::npos;
    };
    std::string set;
    for (std::size_t k = 0; k < words.size(); ++k)
        if (words[k] == '-' && opens(k) && is_digit(k + 1))
            set += "\u2212";
        else
            set += words[k];
    return set;
}

} // namespace holdtrue::text
