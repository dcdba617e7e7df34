// One entry of the rule book: a number with its unit, source and validity. Read from assets/rules/*.toml;
// what it is compared with, and in which words, is code (rule_book.h).
//
//     [[rule]]
//     id = "plug.spacing"
//     about = "plug"
//     applies = "plug welds in a row"
//     says = "Centres of plugs lie at least four hole diameters apart."
//     unit = "x"
//     low = 4
//     source = "AISC 360 J2.3b, AWS D1.1, from memory"
//     mark = "handbook"
//     valid = "any thickness"
//     severity = "fail"
#pragma once

#include "text/toml_reader.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::arc {

enum class Mark { standard, handbook, common_practice }; // the last is shown as "common practice, no source"
// A part whose weld breaks a rule of the last is scrap, whatever its other marks.
enum class Severity { caution, fail, scrap };

struct RuleRow {
    double key = 0; // upto: the row holds up to and with this value; at: a point to interpolate between
    double low = 0, high = 0, usual = 0;
};

// Numbers are SI where the unit has a dimension ("mm", "A", "V", "m/min", "mm/s", "L/min", "°C", "m/s", "s"), else as
// written.
struct Rule {
    std::string id, about, applies, says, unit, source, valid;
    Mark mark = Mark::common_practice;
    Severity severity = Severity::caution;
    std::optional<double> low, high;     // bounds of what is right
    std::optional<double> caution_above; // within the bounds, but worth a word from here on
    std::optional<double> base, share;   // bound = base + share * (something the rule names); base in the unit
    std::vector<RuleRow> rows;
    std::string by; // what the rows go by: "thickness [mm]"
    bool interpolated = false;
    std::string file;
    int line = 0;

    // Limits that hold at a key (SI). Before the first and beyond the last row the end row holds.
    RuleRow at(double key) const;
    double low_or_stop() const; // aborts if the rule has none: an evaluator and its entry disagree
    double high_or_stop() const;
    // Has every number that `other` has, and in the same dimensions: what judges by the one can judge by this.
    bool stands_for(const Rule& other) const;
};

const char* in_words(Mark mark);
const char* in_words(Severity severity);

// Dimension of a rule's unit; null for numbers without one.
const units::Dimension* dimension_of(const std::string& unit);

// Every entry of a folder's *.toml files, in the order of file name and place. Throws text::InputError with file and
// line: unknown key, number missing, id twice, empty source, rows that do not rise.
std::vector<Rule> read_rules(const std::filesystem::path& folder);

} // namespace holdtrue::arc
