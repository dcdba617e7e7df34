#include "text/regular_file.h"
#include "text/toml_data.h"
#include "text/toml_mistake.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
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

void Table::problem(std::string_view key, Told what, Told fix) const {
    data_->problem(key.empty() ? line() : line(key), std::move(what), std::move(fix));
}

void Table::know(std::initializer_list<std::string_view> keys) {
    for (const std::string_view key : keys)
        data_->asked.emplace(key);
}

void Table::know_all() {
    for (const auto& [key, node] : *data_->toml)
        data_->asked.emplace(key.str());
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
            problem("", {worded("{0} is missing"), {std::string(key)}},
                    {worded("add {0} = \"...\""), {std::string(key)}});
        return fallback.value_or("");
    }
    if (!node->is_string()) {
        problem(key, {worded("{0} is not text"), {std::string(key)}}, worded("put it in quotes"));
        return fallback.value_or("");
    }
    const std::string& words = **node->as_string();
    // Lines and tabs are for paragraphs; anything else would steer a terminal or a table that shows it.
    if (std::ranges::any_of(words, [](unsigned char c) { return (c < 0x20 && c != '\n' && c != '\t') || c == 0x7f; })) {
        problem(key, {worded("{0} holds a control character"), {std::string(key)}}, worded("write it without"));
        return fallback.value_or("");
    }
    if (words.empty() && !fallback)
        problem(key, {worded("{0} is empty"), {std::string(key)}}, worded("write something between the quotes"));
    return words;
}

bool Table::flag(std::string_view key, std::optional<bool> fallback) {
    const toml::node* node = data_->find(key);
    if (node && node->is_boolean())
        return **node->as_boolean();
    if (node)
        problem(key, {worded("{0} is neither true nor false"), {std::string(key)}},
                worded("write true or false, without quotes"));
    else if (!fallback)
        problem("", {worded("{0} is missing"), {std::string(key)}},
                {worded("add {0} = true or false"), {std::string(key)}});
    return fallback.value_or(false);
}

int Table::integer(std::string_view key, int low, int high, std::optional<int> fallback) {
    const toml::node* node = data_->find(key);
    const Told fix{worded("give a whole number from {0} to {1}"), {std::to_string(low), std::to_string(high)}};
    if (!node) {
        if (!fallback)
            problem("", {worded("{0} is missing"), {std::string(key)}}, fix);
        return fallback.value_or(low);
    }
    if (!node->is_integer()) {
        problem(key, {worded("{0} is not a whole number"), {std::string(key)}}, fix);
        return fallback.value_or(low);
    }
    const std::int64_t value = **node->as_integer();
    if (value < low || value > high) {
        problem(key, {worded("{0} is {1}"), {std::string(key), std::to_string(value)}}, fix);
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
            problem("", {worded("{0} is missing"), {std::string(key)}},
                    {worded("give {0}"), {range_words(range, nullptr)}});
        return fallback.value_or(harmless(range));
    }
    const std::optional<double> value = node->value<double>();
    bool good = false;
    if (!value || node->is_boolean())
        problem(key, {worded("{0} is not a number"), {std::string(key)}},
                {worded("give {0}"), {range_words(range, nullptr)}});
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
        data_->problem(data_->line_of(*found.node), {worded("{0} is not a number"), {found.key}},
                       {worded("give {0}"), {range_words(range, found.unit)}});
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
            problem("", {worded("{0} is missing"), {std::string(key)}}, {worded("write {0}"), {one_of(names)}});
        return names.size();
    }
    const auto* word = node->as_string();
    const auto at = word ? std::ranges::find(names, **word) : names.end();
    if (at == names.end()) {
        const std::string near = word ? nearest(**word, names) : "";
        problem(key,
                word ? Told(worded("{0} is \"{1}\""), {std::string(key), **word})
                     : Told(worded("{0} is not text"), {std::string(key)}),
                near.empty() ? Told(worded("write {0}"), {one_of(names)})
                             : Told(worded("did you mean \"{0}\"? It can be {1}"), {near, one_of(names)}));
    }
    return static_cast<std::size_t>(at - names.begin());
}

Document Document::read(const std::filesystem::path& path) {
    require_regular_file(path);
    std::ifstream in(path, std::ios::binary);
    std::error_code ignored;
    if (!in)
        throw InputError(path.string(), 0, worded("cannot be read"), worded("check the name and that you may read it"));
    if (std::filesystem::file_size(path, ignored) > 8u << 20)
        throw InputError(path.string(), 0, worded("is larger than 8 MiB"),
                         worded("this is not a file a person wrote for holdtrue"));
    std::ostringstream content;
    content << in.rdbuf();
    return parse(content.str(), path.string());
}

Document Document::parse(std::string_view toml, std::string file_name) {
    auto state = std::make_shared<State>();
    state->file = std::move(file_name);
    if (const int line = line_of_deep_key(toml); line > 0)
        throw InputError(state->file, line, worded("a name has too many parts joined by points"),
                         worded("join two or three at most, as [power_source.feed_dial]"));
    try {
        state->root = toml::parse(toml, std::string_view(state->file));
    } catch (const toml::parse_error& error) {
        const int line = static_cast<int>(error.source().begin.line);
        auto [what, fix] = toml_mistake(toml, line, error.description());
        throw InputError(state->file, line, {worded("is not valid TOML: {0}"), {std::move(what)}}, std::move(fix));
    }
    return Document(std::move(state));
}

Table Document::root() const { return Table(Table::Data::of(*state_, state_->root)); }
const std::string& Document::file() const { return state_->file; }
std::size_t Document::problem_count() const { return state_->problems.size(); }

void Document::add(std::vector<Problem> found) { std::ranges::move(found, std::back_inserter(state_->problems)); }

void Document::finish() {
    for (const auto& [toml, data] : state_->tables)
        for (const auto& [name, node] : *toml) {
            if (data->asked.contains(name.str()))
                continue;
            const std::vector<std::string> known(data->asked.begin(), data->asked.end());
            data->problem(
                static_cast<int>(name.source().begin.line), {worded("unknown key {0}"), {std::string(name.str())}},
                known.empty() ? Told(worded("remove it"))
                              : did_you_mean(name.str(), known, {worded("known here: {0}"), {one_of(known)}}));
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
