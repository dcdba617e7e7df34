// Reads the [[variant]] tables of a .exercise.toml.
#pragma once

#include "grading/variant.h"
#include "text/toml_reader.h"

namespace holdtrue::grading {

inline constexpr int most_variants = weld::highest_variant; // so that each of them can be checked

// Part, shop and rules are those the exercise is written for. What is wrong becomes a problem of the document.
std::vector<VariantAspect> read_variants(text::Table& root, const part::Part& part, const arc::Shop& shop,
                                         const arc::RuleBook& rules);

// Changes an exercise that was read as written into its variant `number`, 1 to count_variants(aspects). The part is
// read again where its sheets change, because more follows from a thickness. Throws text::InputError when the choices
// do not go together.
void take_variant(Exercise& exercise, const std::vector<VariantAspect>& aspects, int number);

} // namespace holdtrue::grading
