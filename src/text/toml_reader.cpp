#include "text/toml_reader.h"

#include "text/verify.h"

#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

namespace holdtrue::text {
namespace {

std::string format_number(double value) {
    std::ostringstream out;
    out.precision(6);
    out << value;
    return out.str();
}

std::string range_words(Range range, const units::Unit* unit) {
    const auto shown = [&](double si) { return format_number(unit ? unit->from_si(si) : si); };
    const std::string label = unit ? " " + std::string(unit->label) : "";
    if (std::isinf(range.low) && std::isinf(range.high))
        return "any number";
    if (std::isinf(range.high))
        return "at least " + shown(range.low) + label;
    if (std::isinf(range.low))
        return "at most " + shown(range.high) + label;
    return shown(range.low) + " to " + shown(range.high) + label;
}

std::string unit_keys(std::string_view key, const units::Dimension& dimension) {
    std::vector<std::string> names;
    for (const units::Unit& unit : dimension.units)
        names.push_back(std::string(key) + '_' + std::string(unit.suffix));
    return listed(names);
}

// A hair of slack, so that a bound written in one unit is met by the same value written in another.
bool within(double value, Range range) {
    const double slack = 1e-9 * std::max(std::abs(range.low), std::abs(range.high));
    return std::isfinite(value) && value >= range.low - (std::isfinite(slack) ? slack : 0) &&
           value <= range.high + (std::isfinite(slack) ? slack : 0);
}

} // namespace

struct Document::State {
    std::string file;
    toml::table root;
    std::vector<Problem> problems;
    std::map<const toml::table*, std::shared_ptr<Table::Data>> tables; // one Data per TOML table, however often asked
};

struct Table::Data {
    Document::State* state = nullptr; // outlives every Table of its Document
    const toml::table* toml = nullptr;
    std::set<std::string, std::less<>> asked;

    int line_of(const toml::node& node) const { return static_cast<int>(node.source().begin.line); }

    void problem(int line, std::string what, std::string fix) {
        state->problems.push_back({state->file, line, std::move(what), std::move(fix)});
    }

    static std::shared_ptr<Data> of(Document::State& state, const toml::table& table) {
        auto& data = state.tables[&table];
        if (!data) {
            data = std::make_shared<Data>();
            data->state = &state;
            data->toml = &table;
        }
        return data;
    }

    // The node of a key and marks the key as known; null when missing.
    const toml::node* find(std::string_view key) {
        asked.emplace(key);
        return toml->get(key);
    }

    struct Found {
        const toml::node* node = nullptr;
        const units::Unit* unit = nullptr;
        std::string key;
    };

    // The node of key_UNIT for a unit of the dimension. A bare key, an unknown unit or two units are problems.
    Found find_quantity(std::string_view key, const units::Dimension& dimension, bool required) {
        Found found;
        for (const units::Unit& unit : dimension.units) {
            const std::string full = std::string(key) + '_' + std::string(unit.suffix);
            const toml::node* node = find(full);
            if (!node)
                continue;
            if (found.node)
                problem(line_of(*node), full + " repeats " + found.key + " in another unit", "keep one of the two");
            else
                found = {node, &unit, full};
        }
        if (found.node)
            return found;
        const std::string bare(key);
        for (const auto& [name, node] : *toml) {
            const std::string_view other = name.str();
            if (other == bare ||
                (other.starts_with(bare + '_') && !asked.contains(other) && suffix_is_unit(other, bare))) {
                asked.emplace(other);
                problem(line_of(node),
                        std::string(other) + (other == bare
                                                  ? " has no unit"
                                                  : " is not in a known unit of " + std::string(dimension.name)),
                        "write " + unit_keys(key, dimension));
                return found;
            }
        }
        if (required)
            problem(line_of(*toml), unit_keys(key, dimension) + " is missing", "add it");
        return found;
    }

    // Whether what follows "key_" looks like a unit rather than another key: short, or a unit of any dimension.
    static bool suffix_is_unit(std::string_view full, std::string_view key) {
        static constexpr std::string_view known[] = {
            "m",          "cm",        "mm",        "um",  "in",  "ft",  "s",          "min",        "h",
            "c",          "f",         "k",         "v",   "a",   "pa",  "mpa",        "ksi",        "psi",
            "deg",        "rad",       "kv",        "ma",  "ms",  "cfh", "mm_per_s",   "mm_per_min", "m_per_s",
            "in_per_min", "m_per_min", "l_per_min", "mm2", "in2", "m2",  "cm_per_min", "ipm",        "degrees"};
        const std::string_view suffix = full.substr(key.size() + 1);
        return std::ranges::find(known, suffix) != std::end(known);
    }

    double checked(double value, Range range, const units::Unit* unit, const std::string& key, int line, bool& good) {
        good = within(value, range);
        if (!good)
            problem(line, key + " is " + format_number(unit && std::isfinite(value) ? unit->from_si(value) : value),
                    "give " + range_words(range, unit));
        return value;
    }

    // All numbers of an array in SI; a problem and an empty list when one is wrong.
    std::vector<double> numbers(const toml::node& node, const std::string& key, const units::Unit* unit, Range range,
                                std::optional<std::size_t> count) {
        const toml::array* array = node.as_array();
        if (!array || (count && array->size() != *count)) {
            problem(line_of(node),
                    key + (array ? " has " + std::to_string(array->size()) + " entries" : " is not a list"),
                    "give a list of " + (count ? std::to_string(*count) + " " : std::string()) + "numbers in [ ]");
            return {};
        }
        std::vector<double> values;
        for (const toml::node& entry : *array) {
            const std::optional<double> value = entry.value<double>();
            bool good = false;
            if (value)
                values.push_back(checked(unit ? unit->to_si(*value) : *value, range, unit, "an entry of " + key,
                                         line_of(entry), good));
            else
                problem(line_of(entry), "an entry of " + key + " is not a number", "give " + range_words(range, unit));
            if (!good)
                return {};
        }
        return values;
    }
};

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
    return **node->as_string();
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

std::vector<double> Table::quantities(std::string_view key, const units::Dimension& dimension, Range range,
                                      std::optional<std::size_t> count) {
    const Data::Found found = data_->find_quantity(key, dimension, true);
    return found.node ? data_->numbers(*found.node, found.key, found.unit, range, count) : std::vector<double>{};
}

std::vector<double> Table::numbers(std::string_view key, Range range, std::optional<std::size_t> count) {
    const toml::node* node = data_->find(key);
    if (!node) {
        problem("", std::string(key) + " is missing", "give a list of numbers in [ ]");
        return {};
    }
    return data_->numbers(*node, std::string(key), nullptr, range, count);
}

std::vector<std::string> Table::texts(std::string_view key, bool required) {
    const toml::node* node = data_->find(key);
    std::vector<std::string> words;
    if (!node) {
        if (required)
            problem("", std::string(key) + " is missing", "add " + std::string(key) + " = [\"...\"]");
        return words;
    }
    const toml::array* array = node->as_array();
    if (!array) {
        problem(key, std::string(key) + " is not a list", "write [\"...\", \"...\"]");
        return words;
    }
    for (const toml::node& entry : *array) {
        if (const auto* word = entry.as_string())
            words.push_back(**word);
        else
            data_->problem(data_->line_of(entry), "an entry of " + std::string(key) + " is not text",
                           "put it in quotes");
    }
    return words;
}

std::vector<std::string> Table::one_or_more(std::string_view key) {
    const toml::node* node = data_->find(key);
    if (node && node->is_string())
        return {**node->as_string()};
    std::vector<std::string> words = texts(key);
    if (node && node->is_array() && node->as_array()->empty())
        problem(key, std::string(key) + " is an empty list", "name at least one");
    return words;
}

Eigen::Vector3d Table::point(std::string_view key) {
    const std::vector<double> xyz = quantities(key, units::length, {-100, 100}, 3);
    return xyz.size() == 3 ? Eigen::Vector3d(xyz[0], xyz[1], xyz[2]) : Eigen::Vector3d(0, 0, 0);
}

std::vector<Eigen::Vector3d> Table::points(std::string_view key, std::size_t at_least) {
    const Data::Found found = data_->find_quantity(key, units::length, true);
    std::vector<Eigen::Vector3d> result;
    const toml::array* list = found.node ? found.node->as_array() : nullptr;
    if (list)
        for (const toml::node& entry : *list) {
            const std::vector<double> xyz =
                data_->numbers(entry, "a point of " + found.key, found.unit, {-100, 100}, 3);
            if (xyz.size() != 3)
                return std::vector<Eigen::Vector3d>(at_least, Eigen::Vector3d::Zero());
            result.emplace_back(xyz[0], xyz[1], xyz[2]);
        }
    if (found.node && (!list || result.size() < at_least))
        data_->problem(data_->line_of(*found.node), found.key + " has " + std::to_string(result.size()) + " points",
                       "give at least " + std::to_string(at_least) + " points, each [x, y, z]");
    if (result.size() < at_least)
        result.resize(at_least, Eigen::Vector3d::Zero());
    return result;
}

Eigen::Vector3d Table::direction(std::string_view key, std::optional<Eigen::Vector3d> fallback) {
    if (!has(key) && fallback) {
        data_->find(key);
        return *fallback;
    }
    const std::vector<double> xyz = numbers(key, {-1e6, 1e6}, 3);
    const Eigen::Vector3d vector = xyz.size() == 3 ? Eigen::Vector3d(xyz[0], xyz[1], xyz[2]) : Eigen::Vector3d(0, 0, 1);
    if (vector.norm() > 0)
        return vector.normalized();
    problem(key, std::string(key) + " points nowhere", "give three numbers that are not all 0, for example [0, 0, 1]");
    return {0, 0, 1};
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

std::optional<Table> Table::table(std::string_view key) {
    const toml::node* node = data_->find(key);
    if (!node)
        return std::nullopt;
    if (const toml::table* table = node->as_table())
        return Table(Data::of(*data_->state, *table));
    problem(key, std::string(key) + " is not a table", "write [" + std::string(key) + "] on a line of its own");
    return std::nullopt;
}

std::vector<Table> Table::tables(std::string_view key) {
    std::vector<Table> result;
    const toml::node* node = data_->find(key);
    if (!node)
        return result;
    const toml::array* array = node->as_array();
    bool all_tables = array != nullptr;
    for (std::size_t i = 0; array && i < array->size(); ++i) {
        if (const toml::table* table = array->get(i)->as_table())
            result.push_back(Table(Data::of(*data_->state, *table)));
        else
            all_tables = false;
    }
    if (!all_tables)
        problem(key, std::string(key) + " is not a list of tables",
                "write [[" + std::string(key) + "]] above each entry");
    return result;
}

std::vector<std::pair<std::string, Table>> Table::named_tables(std::string_view key) {
    std::vector<std::pair<std::string, Table>> result;
    std::optional<Table> parent = table(key);
    if (!parent)
        return result;
    for (const auto& [name, node] : *parent->data_->toml) {
        parent->data_->asked.emplace(name.str());
        if (const toml::table* child = node.as_table())
            result.emplace_back(std::string(name.str()), Table(Data::of(*data_->state, *child)));
        else
            parent->problem(name.str(), std::string(key) + "." + std::string(name.str()) + " is not a table",
                            "write [" + std::string(key) + "." + std::string(name.str()) + "] on a line of its own");
    }
    std::ranges::stable_sort(result, {}, [](const auto& entry) { return entry.second.line(); });
    return result;
}

Document Document::read(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::error_code ignored;
    if (!in || std::filesystem::is_directory(path, ignored))
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
