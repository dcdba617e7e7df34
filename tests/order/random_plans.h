// Random plans for a shipped exercise: a valid random order, with random cards from a set of good and bad ones.
#pragma once

#include "arc/dial_fault.h"
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "order/order_space.h"
#include "text/input_error.h"
#include "weld/check_plan.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

namespace holdtrue::test {

inline std::filesystem::path exercises_folder() {
    return std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises";
}

inline std::vector<std::string> exercise_names() {
    std::vector<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(exercises_folder())) {
        const std::string file = entry.path().filename().string(), ending = ".exercise.toml";
        if (file.ends_with(ending))
            names.push_back(file.substr(0, file.size() - ending.size()));
    }
    std::ranges::sort(names);
    return names;
}

class RandomPlans {
public:
    RandomPlans(const std::string& name, double element_scale)
        : exercise(grading::read_exercise(exercises_folder() / (name + ".exercise.toml"))),
          model(weld::read_plan(exercises_folder() / (name + ".model.plan.toml"), *exercise.part, *exercise.shop)),
          space_(exercise.part, model) {
        options_.element_scale = element_scale;
        options_.frame_interval_s = 20; // evenness is judged on the frames before an arc, which are always kept
        options_.condensed = weld::condense(*exercise.part, element_scale);
    }

    // One in three keeps the model's cards, so that orders are tried on their own as well.
    weld::Plan random(order::Random& random) const {
        weld::Plan plan = space_.plan(space_.random(random));
        if (random.below(3) > 0)
            for (arc::SettingCard& card : plan.cards)
                change(card, random);
        for (weld::Prediction& prediction : plan.predictions)
            prediction.sense = static_cast<weld::Sense>(random.below(3));
        return plan;
    }

    std::shared_ptr<const weld::Outcome> weld(const weld::Plan& plan) const {
        return weld::simulate(exercise.part, exercise.shop, plan, options_);
    }
    grading::Mark mark(const weld::Plan& plan) const { return grading::grade(exercise, *weld(plan)); }

    const grading::Exercise exercise;
    const weld::Plan model;

private:
    void change(arc::SettingCard& card, order::Random& random) const {
        static constexpr std::array factors{0.7, 0.85, 0.95, 1.0, 1.0, 1.05, 1.2, 1.5};
        const auto factor = [&] { return factors[static_cast<std::size_t>(random.below(factors.size()))]; };
        const arc::PowerSource& source = exercise.shop->sources.front();
        card.volts_v = arc::settable_volts_v(source, card.volts_v * (1 + 0.5 * (factor() - 1)));
        card.wire_feed_m_per_s = arc::settable_feed_m_per_s(source, card.wire_feed_m_per_s * factor());
        card.travel_m_per_s = std::clamp(card.travel_m_per_s * factor(), 0.002, 0.04);
        card.aim = std::clamp(card.aim * factor(), 0.0, 1.0);
        if (random.below(4) == 0 && !exercise.shop->gases.empty())
            card.gas =
                exercise.shop
                    ->gases[static_cast<std::size_t>(random.below(static_cast<int>(exercise.shop->gases.size())))]
                    .id;
    }

    order::OrderSpace space_;
    weld::Options options_;
};

// The exercise without its rule book: settings do not hang on gauges, and are judged anew in every mark.
inline grading::Exercise without_rules(grading::Exercise exercise) {
    exercise.rules = std::make_shared<const arc::RuleBook>();
    return exercise;
}

// The mark without its prediction, where a gauge that moves further can make a wrong answer right.
inline double total_without_prediction(const grading::Exercise& exercise, const weld::Outcome& outcome) {
    const grading::Mark mark = grading::grade(exercise, outcome);
    return mark.total - mark.reached[static_cast<std::size_t>(grading::Aspect::prediction)];
}

// The largest rise of the mark when the error of one gauge grows and all else stays, from its own error to three
// tolerances more, and from none to three on either side: never above 0 if the mark is monotone.
inline double largest_rise(const grading::Exercise& with_rules, const weld::Outcome& outcome) {
    const grading::Exercise exercise = without_rules(with_rules);
    double largest = -100;
    for (std::size_t g = 0; g < outcome.gauges.size(); ++g) {
        const double tolerance = outcome.part->gauges[g].tolerance;
        const double nominal = outcome.gauges[g].nominal, own = outcome.gauges[g].value;
        for (const auto& [from, side] : {std::pair{own, own < nominal ? -1.0 : 1.0}, {nominal, -1.0}, {nominal, 1.0}}) {
            weld::Outcome worse = outcome;
            weld::GaugeOutcome& gauge = worse.gauges[g];
            gauge.value = from;
            double before = total_without_prediction(exercise, worse);
            for (int k = 0; k < 12; ++k) {
                gauge.value += side * 0.25 * tolerance;
                const double now = total_without_prediction(exercise, worse);
                largest = std::max(largest, now - before);
                before = now;
            }
        }
    }
    return largest;
}

// What the mark loses at least when one gauge goes from its nominal reading to three tolerances off.
inline double least_loss_of_a_gauge(const grading::Exercise& with_rules, const weld::Outcome& outcome) {
    const grading::Exercise exercise = without_rules(with_rules);
    double least = 100;
    for (std::size_t g = 0; g < outcome.gauges.size(); ++g) {
        weld::Outcome changed = outcome;
        changed.gauges[g].value = changed.gauges[g].nominal;
        const double right = total_without_prediction(exercise, changed);
        changed.gauges[g].value += 3 * outcome.part->gauges[g].tolerance;
        least = std::min(least, right - total_without_prediction(exercise, changed));
    }
    return least;
}

// Share of the time's points that no other aspect backs: above 0 where speed pays on work that is not right.
inline double unearned_time(const grading::Mark& mark) {
    using grading::Aspect;
    const auto share = [&](Aspect aspect) {
        const auto a = static_cast<std::size_t>(aspect);
        return mark.possible[a] > 0 ? mark.reached[a] / mark.possible[a] : 1;
    };
    return share(Aspect::time_and_handling) -
           std::min({share(Aspect::settings), share(Aspect::order_and_heat), share(Aspect::gauges)});
}

// The model in a hurry: no tack where the seam comes anyway, no wait, half as fast again.
inline weld::Plan hurried(const weld::Plan& model, const part::Part& part) {
    weld::Plan plan = model;
    std::erase_if(plan.moves, [&](const weld::Move& move) {
        const auto* pass = std::get_if<weld::WeldPass>(&move.what);
        return std::holds_alternative<weld::Wait>(move.what) ||
               (pass && part.passes[static_cast<std::size_t>(pass->pass)].kind == part::PassKind::tack);
    });
    for (arc::SettingCard& card : plan.cards)
        card.travel_m_per_s *= 1.5;
    return plan;
}

} // namespace holdtrue::test
