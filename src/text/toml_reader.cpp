#include "text/regular_file.h"
#include "text/toml_data.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

namespace holdtrue::text {

bool Table::has(std::string_view key) const { return data_->toml->contains(key); }

bool Table::has_quantity(std::string_view key, const units::Dimension& dimension) const {
    return std::ranges::any_of(dimension.units, [&](const units::Unit& unit) {
        return data_->toml->contains(std::string(key) + '_' + std::string(unit.suffix));
    });
}

int Table::line() const { return std::max(1, data_->line_of(*data_->toml)); }

int Table::line(std::string_view key) const {
    if (const toml::node* node = data_->toml->get(key))
        return data_->line_of(*node);
    for (const auto& [name, node] : *data_->toml)
        if (name.str().starts_with(key) && name.str().size() > key.size() && name.str()[key.size()] == '_')
            return data_->line_of(node);
    return line();
}

const std::string& Table::file() const { return data_->state->file; }

void Table::problem(std::string_view key, std::string what, std::string fix) const {
    data_->problem(key.empty() ? line() : line(key), std::move(what), std::move(fix));
}

void Table::know(std::initializer_list<std::string_view> keys) {
    for (const std::string_view key : keys)
        data_->asked.emplace(key);
}

std::vector<std::string> Table::keys() const {
    std::vector<std::pair<int, std::string>> found;
    for (const auto& [key, node] : *data_->toml)
        found.emplace_back(data_->line_of(node), std::string(key.str()));
    std::ranges::sort(found);
    std::vector<std::string> names;
    for (auto& [line, name] : found)
        names.push_back(std::move(name));
    return names;
}

std::string Table::text(std::string_view key, std::optional<std::string> fallback) {
    const toml::node* node = data_->find(key);
    if (!node) {
        if (!fallback)
            problem("", std::string(key) + " is missing", "add " + std::string(key) + " = \"...\"");
        return fallback.value_or("");
    }
    if (!node->is_string()) {
        problem(key, std::string(key) + " is not text", "put it in quotes");
        return fallback.value_or("");
    }
    const std::string& words = **node->as_string();
    // Lines and tabs are for paragraphs; anything else would steer a terminal or a table that shows it.
    if (std::ranges::any_of(words, [](unsigned char c) { return (c < 0x20 && c != '\n' && c != '\t') || c == 0x7f; })) {
        problem(key, std::string(key) + " holds a control character", "write it without");
        return fallback.value_or("");
    }
    if (words.empty() && !fallback)
        problem(key, std::string(key) + " is empty", "write something between the quotes");
    return words;
}

bool Table::flag(std::string_view key, std::optional<bool> fallback) {
    const toml::node* node = data_->find(key);
    if (node && node->is_boolean())
        return **node->as_boolean();
    if (node)
        problem(key, std::string(key) + " is neither true nor false", "write true or false, without quotes");
    else if (!fallback)
        problem("", std::string(key) + " is missing", "add " + std::string(key) + " = true or false");
    return fallback.value_or(false);
}

int Table::integer(std::string_view key, int low, int high, std::optional<int> fallback) {
    const toml::node* node = data_->find(key);
    const std::string fix = "give a whole number from " + std::to_string(low) + " to " + std::to_string(high);
    if (!node) {
        if (!fallback)
            problem("", std::string(key) + " is missing", fix);
        return fallback.value_or(low);
    }
    if (!node->is_integer()) {
        problem(key, std::string(key) + " is not a whole number", fix);
        return fallback.value_or(low);
    }
    const std::int64_t value = **node->as_integer();
    if (value < low || value > high) {
        problem(key, std::string(key) + " is " + std::to_string(value), fix);
        return fallback.value_or(low);
    }
    return static_cast<int>(value);
}

namespace {
double harmless(Range range) {
    return std::isfinite(range.low) ? range.low : std::isfinite(range.high) ? range.high : 1.0;
}
} // namespace

double Table::number(std::string_view key, Range range, std::optional<double> fallback) {
    const toml::node* node = data_->find(key);
    if (!node) {
        if (!fallback)
            problem("", std::string(key) + " is missing", "give " + range_words(range, nullptr));
        return fallback.value_or(harmless(range));
    }
    const std::optional<double> value = node->value<double>();
    bool good = false;
    if (!value || node->is_boolean())
        problem(key, std::string(key) + " is not a number", "give " + range_words(range, nullptr));
    else
        data_->checked(*value, range, nullptr, std::string(key), data_->line_of(*node), good);
    return good ? *value : fallback.value_or(harmless(range));
}

double Table::quantity(std::string_view key, const units::Dimension& dimension, Range range,
                       std::optional<double> fallback) {
    const Data::Found found = data_->find_quantity(key, dimension, !fallback);
    if (!found.node)
        return fallback.value_or(harmless(range));
    const std::optional<double> value = found.node->value<double>();
    bool good = false;
    double si = 0;
    if (!value || found.node->is_boolean())
        data_->problem(data_->line_of(*found.node), found.key + " is not a number",
                       "give " + range_words(range, found.unit));
    else
        si = data_->checked(found.unit->to_si(*value), range, found.unit, found.key, data_->line_of(*found.node), good);
    return good ? si : fallback.value_or(harmless(range));
}

std::optional<double> Table::optional_quantity(std::string_view key, const units::Dimension& dimension, Range range) {
    if (has_quantity(key, dimension))
        return quantity(key, dimension, range);
    data_->find_quantity(key, dimension, false); // still catches a missing or wrong unit
    return std::nullopt;
}

std::size_t Table::choice_index(std::string_view key, const std::vector<std::string>& names, bool has_fallback) {
    const toml::node* node = data_->find(key);
    if (!node) {
        if (!has_fallback)
            problem("", std::string(key) + " is missing", "write " + listed(names));
        return names.size();
    }
    const auto* word = node->as_string();
    const auto at = word ? std::ranges::find(names, **word) : names.end();
    if (at == names.end()) {
        const std::string near = word ? nearest(**word, names) : "";
        problem(key, std::string(key) + (word ? " is \"" + **word + "\"" : " is not text"),
                near.empty() ? "write " + listed(names) : "did you mean \"" + near + "\"? It can be " + listed(names));
    }
    return static_cast<std::size_t>(at - names.begin());
}

Document Document::read(const std::filesystem::path& path) {
    require_regular_file(path);
    std::ifstream in(path, std::ios::binary);
    std::error_code ignored;
    if (!in)
        throw InputError(path.string(), 0, "cannot be read", "check the name and that you may read it");
    if (std::filesystem::file_size(path, ignored) > 8u << 20)
        throw InputError(path.string(), 0, "is larger than 8 MiB", "this is not a file a person wrote for holdtrue");
    std::ostringstream content;
    content << in.rdbuf();
    return parse(content.str(), path.string());
}

Document Document::parse(std::string_view toml, std::string file_name) {
    auto state = std::make_shared<State>();
    state->file = std::move(file_name);
    try {
        state->root = toml::parse(toml, std::string_view(state->file));
    } catch (const toml::parse_error& error) {
        throw InputError(state->file, static_cast<int>(error.source().begin.line),
                         "is not valid TOML: " + std::string(error.description()), "correct the line");
    }
    return Document(std::move(state));
}

Table Document::root() const { return Table(Table::Data::of(*state_, state_->root)); }
const std::string& Document::file() const { return state_->file; }
bool Document::has_problems() const { return !state_->problems.empty(); }

void Document::finish() {
    for (const auto& [toml, data] : state_->tables)
        for (const auto& [name, node] : *toml) {
            if (data->asked.contains(name.str()))
                continue;
            const std::vector<std::string> known(data->asked.begin(), data->asked.end());
            const std::string near = nearest(name.str(), known);
            data->problem(static_cast<int>(name.source().begin.line), "unknown key " + std::string(name.str()),
                          near.empty() ? (known.empty() ? "remove it" : "known here: " + listed(known))
                                       : "did you mean " + near + "?");
        }
    throw_problems();
}

void Document::throw_problems() {
    if (state_->problems.empty())
        return;
    std::ranges::stable_sort(state_->problems, {}, &Problem::line);
    throw InputError(std::move(state_->problems));
}

} // namespace holdtrue::text
