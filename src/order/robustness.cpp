#include "order/robustness.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace holdtrue::order {

namespace {

double normal(Random& random) { // Box & Muller 1958
    const double u = 1 - random.unit(), v = random.unit();
    return std::sqrt(-2 * std::log(u)) * std::cos(2 * std::numbers::pi * v);
}

// A factor about 1 that stays positive whatever is drawn.
double factor(Random& random, double deviation) { return std::exp(deviation * normal(random)); }

weld::Scatter draw(const part::Part& part, const weld::Plan& plan, const ScatterSpan& span, Random random) {
    weld::Scatter scatter;
    std::vector<double> of_card;
    for (std::size_t c = 0; c < plan.cards.size(); ++c)
        of_card.push_back(factor(random, span.settings));
    std::vector<int> card_of_pass(part.passes.size(), 0);
    for (const weld::Move& move : plan.moves)
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what))
            card_of_pass[static_cast<std::size_t>(weld->pass)] = weld->card;
    // Drawn for passes as the part lists them, so that every order meets the same hand.
    for (std::size_t p = 0; p < part.passes.size(); ++p) {
        scatter.heat.push_back(of_card[static_cast<std::size_t>(card_of_pass[p])] / factor(random, span.travel));
        scatter.across.push_back(factor(random, span.fit_up));
        const bool cracks = random.coin(span.tack_cracks);
        scatter.cracked.push_back(cracks && part.passes[p].kind == part::PassKind::tack);
    }
    return scatter;
}

} // namespace

double Robustness::standard_error() const { return trials > 0 ? std::sqrt(chance() * (1 - chance()) / trials) : 0; }

std::vector<Robustness> robustness(const grading::Exercise& exercise, const OrderSpace& space,
                                   const weld::Rehearsal& rehearsal, const std::vector<Order>& orders, int trials,
                                   const parallel::Workers& workers, std::uint64_t seed, const ScatterSpan& span,
                                   SearchProgress* progress, std::stop_token stop) {
    const part::Part& part = *exercise.part;
    // [order * trials + trial][gauge]; no gauges where a stop came first
    const auto run = [&](int k) {
        std::vector<double> deviation;
        if (stop.stop_requested())
            return deviation;
        const weld::Plan plan = space.plan(orders[static_cast<std::size_t>(k / trials)]);
        const weld::Scatter scatter =
            draw(part, plan, span, Random(seed, 0x0b570000ull + static_cast<std::uint64_t>(k % trials)));
        const auto outcome = rehearsal.weld(plan, &scatter);
        for (const weld::GaugeOutcome& gauge : outcome->gauges)
            deviation.push_back(gauge.value - gauge.nominal);
        if (progress)
            ++progress->tries;
        return deviation;
    };
    const auto deviation = parallel::gather(workers, static_cast<int>(orders.size()) * trials, run);
    std::vector<Robustness> all;
    for (std::size_t o = 0; o < orders.size(); ++o) {
        Robustness found;
        found.mean.assign(part.gauges.size(), 0);
        found.spread.assign(part.gauges.size(), 0);
        for (int t = 0; t < trials; ++t) {
            const std::vector<double>& trial =
                deviation[o * static_cast<std::size_t>(trials) + static_cast<std::size_t>(t)];
            if (trial.empty())
                continue;
            ++found.trials;
            bool within = true;
            for (std::size_t g = 0; g < trial.size(); ++g) {
                within = within && std::abs(trial[g]) <= part.gauges[g].tolerance;
                found.mean[g] += trial[g];
                found.spread[g] += trial[g] * trial[g];
            }
            found.within += within;
        }
        for (std::size_t g = 0; g < part.gauges.size() && found.trials > 0; ++g) {
            found.mean[g] /= found.trials;
            found.spread[g] = std::sqrt(std::max(0.0, found.spread[g] / found.trials - found.mean[g] * found.mean[g]));
        }
        all.push_back(std::move(found));
    }
    return all;
}

} // namespace holdtrue::order
