#include "text/toml_data.h"

#include <algorithm>

namespace holdtrue::text {

std::vector<double> Table::quantities(std::string_view key, const units::Dimension& dimension, Range range,
                                      std::optional<std::size_t> count) {
    const Data::Found found = data_->find_quantity(key, dimension, true);
    return found.node ? data_->numbers(*found.node, found.key, found.unit, range, count) : std::vector<double>{};
}

std::vector<double> Table::numbers(std::string_view key, Range range, std::optional<std::size_t> count) {
    const toml::node* node = data_->find(key);
    if (!node) {
        problem("", {worded("{0} is missing"), {std::string(key)}}, worded("give a list of numbers in [ ]"));
        return {};
    }
    return data_->numbers(*node, std::string(key), nullptr, range, count);
}

std::vector<std::string> Table::texts(std::string_view key, bool required) {
    const toml::node* node = data_->find(key);
    std::vector<std::string> words;
    if (!node) {
        if (required)
            problem("", {worded("{0} is missing"), {std::string(key)}},
                    {worded("add {0} = [\"...\"]"), {std::string(key)}});
        return words;
    }
    const toml::array* array = node->as_array();
    if (!array) {
        problem(key, {worded("{0} is not a list"), {std::string(key)}}, worded("write [\"...\", \"...\"]"));
        return words;
    }
    for (const toml::node& entry : *array) {
        if (const auto* word = entry.as_string())
            words.push_back(**word);
        else
            data_->problem(data_->line_of(entry), {worded("an entry of {0} is not text"), {std::string(key)}},
                           worded("put it in quotes"));
    }
    return words;
}

std::vector<std::string> Table::one_or_more(std::string_view key) {
    const toml::node* node = data_->find(key);
    if (node && node->is_string())
        return {**node->as_string()};
    std::vector<std::string> words = texts(key);
    if (node && node->is_array() && node->as_array()->empty())
        problem(key, {worded("{0} is an empty list"), {std::string(key)}}, worded("name at least one"));
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
                data_->numbers(entry, {worded("a point of {0}"), {found.key}}, found.unit, {-100, 100}, 3);
            if (xyz.size() != 3)
                return std::vector<Eigen::Vector3d>(at_least, Eigen::Vector3d::Zero());
            result.emplace_back(xyz[0], xyz[1], xyz[2]);
        }
    if (found.node && (!list || result.size() < at_least))
        data_->problem(data_->line_of(*found.node),
                       {worded("{0} has {1} points"), {found.key, std::to_string(result.size())}},
                       {worded("give at least {0} points, each [x, y, z]"), {std::to_string(at_least)}});
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
    problem(key, {worded("{0} points nowhere"), {std::string(key)}},
            worded("give three numbers that are not all 0, for example [0, 0, 1]"));
    return {0, 0, 1};
}

std::optional<Table> Table::table(std::string_view key) {
    const toml::node* node = data_->find(key);
    if (!node)
        return std::nullopt;
    if (const toml::table* table = node->as_table())
        return Table(Data::of(*data_->state, *table));
    problem(key, {worded("{0} is not a table"), {std::string(key)}},
            {worded("write [{0}] on a line of its own"), {std::string(key)}});
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
        problem(key, {worded("{0} is not a list of tables"), {std::string(key)}},
                {worded("write [[{0}]] above each entry"), {std::string(key)}});
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
            parent->problem(
                name.str(), {worded("{0}.{1} is not a table"), {std::string(key), std::string(name.str())}},
                {worded("write [{0}.{1}] on a line of its own"), {std::string(key), std::string(name.str())}});
    }
    std::ranges::stable_sort(result, {}, [](const auto& entry) { return entry.second.line(); });
    return result;
}

} // namespace holdtrue::text
