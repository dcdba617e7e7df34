// What stands behind a Table and a Document (toml_reader.h): the parsed TOML, the keys asked for, the problems so far.
#pragma once

#include "text/toml_reader.h"

#include <toml++/toml.h>

#include <map>
#include <set>

namespace holdtrue::text {

Sentence range_words(Range range, const units::Unit* unit); // "1 to 40 mm"

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

    void problem(int line, Told what, Told fix) {
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
    Found find_quantity(std::string_view key, const units::Dimension& dimension, bool required);

    // Whether what follows "key_" looks like a unit rather than another key: short, or a unit of any dimension.
    static bool suffix_is_unit(std::string_view full, std::string_view key);

    double checked(double value, Range range, const units::Unit* unit, const Sentence& name, int line, bool& good);

    // All numbers of an array in SI; a problem and an empty list when one is wrong.
    std::vector<double> numbers(const toml::node& node, const Sentence& name, const units::Unit* unit, Range range,
                                std::optional<std::size_t> count);
};

} // namespace holdtrue::text
