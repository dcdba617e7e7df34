#include "grading/read_variants.h"
#include "text/input_error.h"

#include <algorithm>

namespace holdtrue::grading {
namespace {

void change_shop(arc::Shop& shop, const VariantChoice& choice) {
    std::erase_if(shop.wires, [&](const arc::Wire& wire) {
        return std::ranges::find(choice.without_wires, wire.id) != choice.without_wires.end();
    });
    std::erase_if(shop.gases, [&](const arc::Gas& gas) {
        return std::ranges::find(choice.without_gases, gas.id) != choice.without_gases.end();
    });
    if (shop.sources.empty())
        return;
    arc::break_volts_dial(shop.sources.front(), choice.volts_fault);
    arc::break_feed_dial(shop.sources.front(), choice.feed_fault);
}

// What two choices together leave nothing of.
void check_shop(const Exercise& exercise, bool had_gases) {
    const arc::Shop& shop = *exercise.shop;
    const auto refuse = [&](text::Wording what) {
        throw text::InputError(exercise.file.string(), 0,
                               {text::worded("variant {0}: {1}"), {std::to_string(exercise.variant), what}},
                               text::worded("choices of different aspects meet: take something off one of them"));
    };
    if (shop.wires.empty())
        refuse(text::worded("no wire is left"));
    if (shop.gases.empty() && had_gases)
        refuse(text::worded("no gas is left"));
    for (const arc::PowerSource& source : shop.sources)
        if (source.volts_low_v > source.volts_high_v || source.feed_low_m_per_s > source.feed_high_m_per_s)
            refuse(text::worded("no setting of the power source is left"));
}

std::shared_ptr<const part::Part> read_changed_part(const Exercise& exercise,
                                                    const std::vector<part::SheetChange>& sheets) {
    if (sheets.empty())
        return exercise.part;
    try {
        return part::read_part(exercise.part->file, sheets);
    } catch (const text::InputError& error) {
        std::vector<text::Problem> problems = error.problems();
        for (text::Problem& problem : problems)
            problem.what = text::Sentence(text::worded("with the sheets of variant {0} of exercise {1}: {2}"),
                                          {std::to_string(exercise.variant), exercise.name, problem.what});
        throw text::InputError(std::move(problems));
    }
}

} // namespace

void take_variant(Exercise& exercise, const std::vector<VariantAspect>& aspects, int number) {
    exercise.variant = number;
    const std::vector<const VariantChoice*> choices = choices_of(aspects, number);
    std::vector<part::SheetChange> sheets;
    for (const VariantChoice* choice : choices)
        sheets.insert(sheets.end(), choice->sheets.begin(), choice->sheets.end());
    auto part = std::make_shared<part::Part>(*read_changed_part(exercise, sheets));
    part->clamps = exercise.part->clamps;
    for (std::size_t g = 0; g < part->gauges.size(); ++g) {
        part->gauges[g].tolerance = exercise.part->gauges[g].tolerance;
        part->gauges[g].tolerance_source = exercise.part->gauges[g].tolerance_source;
    }
    auto shop = std::make_shared<arc::Shop>(*exercise.shop);
    for (const VariantChoice* choice : choices) {
        exercise.variant_words.push_back(choice->title);
        exercise.brief.push_back({text::worded("Yours: {0}."), {text::Sentence::of_file(choice->title)}});
        for (const std::string& paragraph : choice->brief)
            exercise.brief.push_back(text::Sentence::of_file(paragraph));
        change_shop(*shop, *choice);
        for (const auto& [gauge, changed] : choice->limits) {
            part->gauges[gauge].tolerance = changed.tolerance;
            part->gauges[gauge].tolerance_source = changed.tolerance_source;
        }
        for (const std::string& item : choice->must_pass)
            if (!must_be_met(exercise, item))
                exercise.must_pass.push_back(item);
        if (choice->interpass_max_k)
            exercise.heat.interpass_max_k = *choice->interpass_max_k;
        if (choice->time_factor) {
            exercise.time.good_s *= *choice->time_factor;
            exercise.time.slow_s *= *choice->time_factor;
        }
    }
    const bool had_gases = !exercise.shop->gases.empty();
    exercise.part = std::move(part);
    exercise.shop = std::move(shop);
    check_shop(exercise, had_gases);
}

} // namespace holdtrue::grading
