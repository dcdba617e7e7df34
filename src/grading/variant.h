// Variants of an exercise: what differs from trainee to trainee, so that neighbours cannot copy. Each aspect (the
// sheet, the gas on hand, a limit, a broken dial) has some choices; a variant takes one choice of each. Variants are
// numbered 1 to the product of the numbers of choices; 0 is the exercise as it is written.
//   number - 1 = c0 + n0 (c1 + n1 (c2 + ...)),  ck the choice of aspect k, nk how many it has
#pragma once

#include "arc/dial_fault.h"
#include "grading/exercise.h"
#include "part/read_part.h"
#include "weld/read_plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::grading {

struct VariantChoice {
    std::string title;              // "the volts dial is stuck at mark 6"
    std::vector<std::string> brief; // paragraphs for the one who has it
    std::vector<part::SheetChange> sheets;
    std::vector<std::string> without_wires, without_gases;
    arc::DialFault volts_fault, feed_fault;
    std::vector<std::pair<std::size_t, part::Gauge>> limits; // index of a gauge, and the gauge with its other limit
    std::vector<std::string> must_pass; // besides those of the exercise
    std::optional<double> interpass_max_k;
    std::optional<double> time_factor; // of both time limits
};
struct VariantAspect {
    std::string name;
    std::vector<VariantChoice> choices; // at least two
};

// Product of the numbers of choices; 0 without aspects.
int count_variants(const std::vector<VariantAspect>& aspects);
// The choice of each aspect, 0 <= number - 1 < count.
std::vector<const VariantChoice*> choices_of(const std::vector<VariantAspect>& aspects, int number);

// The variant that a name draws: a hash of name and exercise (FNV-1a, then the mixer of SplitMix64), the same on every
// machine. Upper and lower case and the spaces about and between words make no difference; an empty name draws 0.
// Two names can draw the same variant: with n variants, one pair of neighbours in n does.
int drawn_variant(const Exercise& exercise, std::string_view trainee);

// The variant that a plan answers: the one its file names, or the one that its trainee's name draws.
int variant_of(const Exercise& exercise, const weld::PlanHeading& plan);

// Reads the exercise in the variant that the plan answers, or in the one asked for. Throws InputError, told for the
// plan's file, when there is no such variant.
Exercise read_exercise_for(const std::filesystem::path& exercise_file, const weld::PlanHeading& plan,
                           std::optional<int> variant = {});

// Reads a plan for an exercise in its variant; what does not fit is told with what the variant changes.
weld::Plan parse_plan_for(const Exercise& exercise, std::string_view toml, const std::string& file_name);
weld::Plan read_plan_for(const Exercise& exercise, const std::filesystem::path& file);

// Why a plan answers another variant than its trainee's name draws; empty if it does not, or names no trainee.
text::Sentence foreign_variant(const Exercise& exercise, const weld::PlanHeading& plan);

// "Variant 5: no mix_75 gas; the volts dial is stuck at mark 6"; empty for the exercise as written.
text::Sentence variant_text(const Exercise& exercise);

} // namespace holdtrue::grading
