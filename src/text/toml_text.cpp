#include "text/toml_text.h"

namespace holdtrue::text {

std::string in_quotes(std::string_view words) {
    std::string text = "\"";
    for (const char c : words) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            text += {'\\', c};
        else if (byte < 0x20 || byte == 0x7f) {
            constexpr std::string_view hex = "0123456789ABCDEF";
            text += "\\u00";
            text += hex[byte / 16];
            text += hex[byte % 16];
        } else
            text += c;
    }
    return text + '"';
}

} // namespace holdtrue::text
