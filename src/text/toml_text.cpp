#include "text/toml_text.h"

#include "text/toml_reader.h"

#include <algorithm>

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

std::string with_root_key(const std::string& toml, const std::string& key, const std::string& value,
                          const std::string& file_name) {
    const Document before = Document::parse(toml, file_name);
    const Table root = before.root();
    const std::string line = key + " = " + value + '\n';
    constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";
    std::size_t from = toml.starts_with(byte_order_mark) ? byte_order_mark.size() : 0, to = from;
    std::vector<std::string> expected = root.keys();
    if (root.has(key)) {
        from = 0;
        for (int k = 1; k < root.line(key); ++k)
            from = toml.find('\n', from) + 1;
        to = std::min(toml.find('\n', from), toml.size() - 1) + 1;
    } else
        expected.insert(expected.begin(), key);
    std::string edited = toml;
    edited.replace(from, to - from, line);

    // A value that went on over more lines would leave its rest behind.
    std::vector<std::string> found;
    try {
        found = Document::parse(edited, file_name).root().keys();
    } catch (const InputError&) {
    }
    std::ranges::sort(found);
    std::ranges::sort(expected);
    if (found != expected)
        throw InputError(file_name, root.line(key), {worded("{0} is not written on one line"), {key}},
                         worded("write it on a line of its own"));
    return edited;
}

} // namespace holdtrue::text
