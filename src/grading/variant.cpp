#include "grading/variant.h"

#include "grading/read_exercise.h"
#include "grading/read_variants.h"
#include "text/input_error.h"

#include <algorithm>
#include <cstdint>

namespace holdtrue::grading {
namespace {

// Lower case (of ASCII), words with one space between.
std::string plain(std::string_view name) {
    std::string words;
    bool space = false;
    for (const char c : name) {
        if (c == ' ' || c == '\t') {
            space = !words.empty();
            continue;
        }
        if (space)
            words += ' ';
        space = false;
        words += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return words;
}

std::uint64_t hash(std::string_view bytes) {
    std::uint64_t h = 0xcbf29ce484222325ull; // FNV-1a, 64 bit
    for (const char c : bytes)
        h = (h ^ static_cast<unsigned char>(c)) * 0x100000001b3ull;
    h = (h ^ (h >> 30)) * 0xbf58476d1ce4e5b9ull; // SplitMix64 (Steele, Lea & Flood 2014)
    h = (h ^ (h >> 27)) * 0x94d049bb133111ebull;
    return h ^ (h >> 31);
}

} // namespace

int count_variants(const std::vector<VariantAspect>& aspects) {
    int count = aspects.empty() ? 0 : 1;
    for (const VariantAspect& aspect : aspects)
        count = std::min(count * static_cast<int>(std::min<std::size_t>(aspect.choices.size(), most_variants + 1)),
                         most_variants + 1);
    return count;
}

std::vector<const VariantChoice*> choices_of(const std::vector<VariantAspect>& aspects, int number) {
    std::vector<const VariantChoice*> chosen;
    auto rest = static_cast<std::size_t>(number - 1);
    for (const VariantAspect& aspect : aspects) {
        chosen.push_back(&aspect.choices[rest % aspect.choices.size()]);
        rest /= aspect.choices.size();
    }
    return chosen;
}

int drawn_variant(const Exercise& exercise, std::string_view trainee) {
    const std::string name = plain(trainee);
    if (exercise.variant_count == 0 || name.empty())
        return 0;
    return 1 + static_cast<int>(hash(name + '\n' + exercise.name) % static_cast<unsigned>(exercise.variant_count));
}

int variant_of(const Exercise& exercise, const weld::PlanHeading& plan) {
    return plan.variant.value_or(drawn_variant(exercise, plan.trainee));
}

Exercise read_exercise_for(const std::filesystem::path& exercise_file, const weld::PlanHeading& plan,
                           std::optional<int> variant) {
    Exercise exercise = read_exercise(exercise_file);
    const int number = variant.value_or(variant_of(exercise, plan));
    if (number == 0)
        return exercise;
    if (number < 0 || number > exercise.variant_count) {
        const bool of_plan = !variant;
        throw text::InputError(
            of_plan ? plan.file.string() : std::string(), of_plan ? plan.variant_line : 0,
            {text::worded("there is no variant {0} of exercise {1}"), {std::to_string(number), exercise.name}},
            exercise.variant_count == 0
                ? text::Told(text::worded("it has no variants: leave the number out"))
                : text::Told(text::worded("it has variants 1 to {0}"), {std::to_string(exercise.variant_count)}));
    }
    return read_exercise(exercise_file, number);
}

namespace {

template <class Read>
weld::Plan told_with_variant(const Exercise& exercise, const Read& read) {
    try {
        return read();
    } catch (const text::InputError& error) {
        if (exercise.variant == 0)
            throw;
        std::vector<text::Problem> problems = error.problems();
        for (text::Problem& problem : problems)
            problem.fix = text::Sentence(text::worded("{0} ({1})"), {problem.fix, variant_text(exercise)});
        throw text::InputError(std::move(problems));
    }
}

} // namespace

weld::Plan parse_plan_for(const Exercise& exercise, std::string_view toml, const std::string& file_name) {
    return told_with_variant(exercise,
                             [&] { return weld::parse_plan(toml, file_name, *exercise.part, *exercise.shop); });
}

weld::Plan read_plan_for(const Exercise& exercise, const std::filesystem::path& file) {
    return told_with_variant(exercise, [&] { return weld::read_plan(file, *exercise.part, *exercise.shop); });
}

text::Sentence variant_text(const Exercise& exercise) {
    if (exercise.variant == 0)
        return {};
    text::Sentence differs;
    for (const std::string& words : exercise.variant_words) {
        text::Sentence told = text::Sentence::of_file(words);
        differs = differs.empty() ? told : text::Sentence(text::worded("{0}; {1}"), {differs, told});
    }
    return {text::worded("Variant {0}: {1}"), {std::to_string(exercise.variant), differs}};
}

text::Sentence foreign_variant(const Exercise& exercise, const weld::PlanHeading& plan) {
    const int drawn = drawn_variant(exercise, plan.trainee);
    if (!plan.variant || drawn == 0 || *plan.variant == drawn)
        return {};
    return {text::worded("answers variant {0}; the name {1} draws {2}"),
            {std::to_string(*plan.variant), plan.trainee, std::to_string(drawn)}};
}

} // namespace holdtrue::grading
