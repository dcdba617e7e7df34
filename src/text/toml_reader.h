// Reads the TOML files that people write, and says what is wrong with them by file and line.
//
// A reader asks a Table for each key it knows, with the range that makes sense; whatever is missing, of the wrong
// type, out of range or in the wrong unit becomes a Problem, and reading goes on with a harmless value, so that an
// author sees all mistakes of a file at once. Document::finish() adds the keys that nobody asked for (a misspelt key
// is one of those) and throws an InputError if there was any problem.
//
//     Document document = Document::read(path);
//     Table root = document.root();
//     part.name = root.text("name");
//     for (Table panel : root.tables("panel"))
//         thickness_m = panel.quantity("thickness", units::length, {0.5 * mm, 40 * mm}); // thickness_mm or _in
//     document.finish();
#pragma once

#include "text/input_error.h"
#include "text/words.h"
#include "units/units.h"

#include <Eigen/Core>

#include <filesystem>
#include <initializer_list>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace holdtrue::text {

struct Range {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity(); // both ends are allowed
};

// One table of a document; cheap to copy, valid as long as its Document.
class Table {
public:
    bool has(std::string_view key) const; // the bare key; for a quantity in any of its units see has_quantity
    bool has_quantity(std::string_view key, const units::Dimension& dimension) const;
    std::vector<std::string> keys() const; // all there are, by line
    int line() const;                      // of the table's heading
    int line(std::string_view key) const;  // of the key (in whichever unit), or of the table if it is not there
    const std::string& file() const;

    // A missing key is a problem unless there is a fallback.
    std::string text(std::string_view key, std::optional<std::string> fallback = {});
    bool flag(std::string_view key, std::optional<bool> fallback = {});
    int integer(std::string_view key, int low, int high, std::optional<int> fallback = {});
    double number(std::string_view key, Range range = {}, std::optional<double> fallback = {}); // no unit

    // The key is written with a unit of the dimension; range, fallback and result are SI.
    double quantity(std::string_view key, const units::Dimension& dimension, Range range = {},
                    std::optional<double> fallback = {});
    std::optional<double> optional_quantity(std::string_view key, const units::Dimension& dimension, Range range = {});
    // A list of numbers; `count` fixes its length when given.
    std::vector<double> quantities(std::string_view key, const units::Dimension& dimension, Range range = {},
                                   std::optional<std::size_t> count = {});
    std::vector<double> numbers(std::string_view key, Range range = {}, std::optional<std::size_t> count = {});
    std::vector<std::string> texts(std::string_view key, bool required = true);
    std::vector<std::string> one_or_more(std::string_view key); // "a" or ["a", "b"]; at least one
    // [x, y, z] or a list of such, in a unit of length: at_mm = [0, 0, 40], path_mm = [[0, 0, 0], [100, 0, 0]].
    Eigen::Vector3d point(std::string_view key);
    std::vector<Eigen::Vector3d> points(std::string_view key, std::size_t at_least);
    // Three numbers without a unit, not all zero; returned with length 1.
    Eigen::Vector3d direction(std::string_view key, std::optional<Eigen::Vector3d> fallback = {});

    // One of a fixed set of words.
    template <class E>
    E choice(std::string_view key, std::initializer_list<std::pair<std::string_view, E>> words,
             std::optional<E> fallback = {}) {
        std::vector<std::string> names;
        for (const auto& word : words)
            names.emplace_back(word.first);
        const std::size_t at = choice_index(key, names, fallback.has_value());
        return at < words.size() ? (words.begin() + at)->second : fallback.value_or(words.begin()->second);
    }

    // The word that decides what else the table holds. Where it cannot be read, nothing more of the table can be
    // judged: its keys are taken as known, or one slip would be told many times.
    template <class E>
    std::optional<E> kind(std::string_view key, std::initializer_list<std::pair<std::string_view, E>> words) {
        std::vector<std::string> names;
        for (const auto& word : words)
            names.emplace_back(word.first);
        const std::size_t at = choice_index(key, names, false);
        if (at < words.size())
            return (words.begin() + at)->second;
        know_all();
        return {};
    }

    std::optional<Table> table(std::string_view key); // [key]
    std::vector<Table> tables(std::string_view key);  // [[key]], in file order; empty if there is none
    std::vector<std::pair<std::string, Table>> named_tables(std::string_view key); // [key.NAME], in file order

    // Marks keys as known that are read later, or that do not matter because of a problem already told.
    void know(std::initializer_list<std::string_view> keys);

    // Records a problem that the reader itself found at a key (or at the table with key "").
    void problem(std::string_view key, Told what, Told fix) const;

private:
    friend class Document;
    struct Data;
    explicit Table(std::shared_ptr<Data> data) : data_(std::move(data)) {}
    void know_all();
    std::size_t choice_index(std::string_view key, const std::vector<std::string>& names, bool has_fallback);
    std::shared_ptr<Data> data_;
};

class Document {
public:
    // Throws InputError if the file cannot be read or is not TOML (at the offending line).
    static Document read(const std::filesystem::path& path);
    static Document parse(std::string_view toml, std::string file_name);

    Table root() const;
    const std::string& file() const;
    std::size_t problem_count() const; // so far
    // What was found otherwise to be wrong with the same file.
    void add(std::vector<Problem> found);
    // Reports keys that were never asked for, then throws InputError with all problems in line order, if any.
    void finish();
    // The same without a look at keys that nobody asked for: for reading a part of a document.
    void throw_problems();

private:
    friend class Table;
    struct State;
    explicit Document(std::shared_ptr<State> state) : state_(std::move(state)) {}
    std::shared_ptr<State> state_;
};

} // namespace holdtrue::text
