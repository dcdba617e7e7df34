#include "text/printable.h"

#include <algorithm>
#include <cstdint>

namespace holdtrue::text {
namespace {

// Length of the UTF-8 sequence at the front of `text`, which is not empty; 0 if it is none (RFC 3629: no overlong
// forms, no surrogates, nothing beyond U+10FFFF).
std::size_t sequence_length(std::string_view text, std::uint32_t& character) {
    const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
    const unsigned char first = byte(0);
    if (first < 0x80) {
        character = first;
        return 1;
    }
    const std::size_t length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4 || text.size() < length)
        return 0;
    character = first & (0x7fu >> length);
    for (std::size_t k = 1; k < length; ++k) {
        if ((byte(k) & 0xc0) != 0x80)
            return 0;
        character = character << 6 | (byte(k) & 0x3fu);
    }
    const bool overlong = (length == 3 && character < 0x800) || (length == 4 && character < 0x10000);
    const bool surrogate = character >= 0xd800 && character <= 0xdfff;
    return overlong || surrogate || character > 0x10ffff ? 0 : length;
}

} // namespace

std::string printable(std::string_view text) {
    std::string shown;
    while (!text.empty()) {
        std::uint32_t character = 0;
        const std::size_t length = sequence_length(text, character);
        const bool control = character < 0x20 || (character >= 0x7f && character <= 0x9f);
        if (length == 0 || control)
            shown += '?';
        else
            shown += text.substr(0, length);
        text.remove_prefix(std::max<std::size_t>(length, 1));
    }
    return shown;
}

} // namespace holdtrue::text
