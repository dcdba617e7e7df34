#include "weld/rehearsal.h"

#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "part/gauge.h"
#include "weld/job_step.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::weld {

Rehearsal::Rehearsal(std::shared_ptr<const part::Part> part, std::shared_ptr<const arc::Shop> shop, const Plan& like,
                     std::shared_ptr<const distortion::CondensedPart> condensed, int threads, const Options& options,
                     std::stop_token stop)
    : part_(std::move(part)), shop_(std::move(shop)),
      mesh_(std::make_shared<const part::Mesh>(condensed->model().mesh())), condensed_(std::move(condensed)),
      options_(options), figures_(part_->passes.size()),
      law_(std::make_unique<distortion::ShrinkageLaw>(*part_, *mesh_, condensed_->tendon_tables())) {
    std::vector<heat::Arc> arcs;
    std::vector<distortion::Step> steps;
    for (const Move& move : like.moves) {
        const auto* weld = std::get_if<WeldPass>(&move.what);
        if (!weld)
            continue;
        const arc::SettingCard& card = like.cards[static_cast<std::size_t>(weld->card)];
        const part::Pass& pass = part_->passes[static_cast<std::size_t>(weld->pass)];
        arc::Section section = arc::section_of(*part_, part_->joints[static_cast<std::size_t>(pass.joint)]);
        section.start_k = part_->ambient_k;
        arc::ArcFigures& figures = figures_[static_cast<std::size_t>(weld->pass)];
        figures = arc::arc_figures(card, *shop_, section);
        arcs.push_back(arc_of({weld->pass, false, weld->card}, card, figures));
    }
    table_ = std::make_unique<HeatTable>(part_, mesh_, *condensed_, arcs, threads, stop);
    if (!table_->ok())
        return;
    for (const Move& move : like.moves)
        if (const auto* weld = std::get_if<WeldPass>(&move.what))
            steps.push_back(step_of(*weld, like.cards[static_cast<std::size_t>(weld->card)],
                                    figures_[static_cast<std::size_t>(weld->pass)], table_->heat_j(weld->pass),
                                    table_->arc_s(weld->pass), part_->ambient_k));
    law_->prepare(steps);
}

// One plan under way.
class Rehearsal::Run {
public:
    Run(const Rehearsal& all, const Plan& plan, const Scatter* scatter)
        : all_(all), scatter_(scatter), outcome_(std::make_shared<Outcome>()), response_(*all.condensed_),
          job_(all.condensed_->model(), response_, *all.law_), heat_(plan.moves.size()) {
        outcome_->program_version = HOLDTRUE_VERSION;
        outcome_->part = all.part_;
        outcome_->shop = all.shop_;
        outcome_->plan = plan;
        outcome_->mesh = all.mesh_;
        outcome_->distortion_model = "condensed shell, heat as the sum of single passes";
    }

    std::shared_ptr<const Outcome> play() {
        for (const Move& move : outcome_->plan.moves)
            play(move);
        outcome_->total_s = wait_until(options().cool_to_k);
        job_.finish();
        const std::vector<double> readings = job_.gauges();
        for (std::size_t g = 0; g < readings.size(); ++g) {
            GaugeOutcome& gauge = outcome_->gauges.emplace_back();
            gauge.nominal = part::nominal(all_.part_->gauges[g]);
            gauge.value = readings[g];
        }
        return outcome_;
    }

private:
    const Options& options() const { return all_.options_; }
    const HeatTable& table() const { return *all_.table_; }

    void play(const Move& move) {
        MoveOutcome done;
        distortion::Step step;
        done.start_s = clock_s_;
        if (const auto* weld = std::get_if<WeldPass>(&move.what)) {
            const std::size_t pass = static_cast<std::size_t>(weld->pass);
            clock_s_ += options().reposition_s;
            done.welded = true;
            done.arc = all_.figures_[pass];
            const double share = scatter_ ? scatter_->heat[pass] : 1;
            done.heat_j = share * table().heat_j(weld->pass);
            done.interpass_k = table().hottest_k(clock_s_, welded_, weld->pass);
            const Eigen::Vector3d halves_k = table().halves_k(clock_s_, welded_);
            std::ranges::copy(halves_k, done.halves_k.begin());
            clock_s_ += table().arc_s(weld->pass);
            outcome_->arc_s += table().arc_s(weld->pass);
            welded_.push_back({weld->pass, weld->reversed, clock_s_, share});
            step = step_of(*weld, outcome_->plan.cards[static_cast<std::size_t>(weld->card)], done.arc, done.heat_j,
                           table().arc_s(weld->pass), done.interpass_k);
            step.along_factor = share;
            step.across_factor = scatter_ ? share * scatter_->across[pass] : 1;
            if (scatter_ && scatter_->cracked[pass])
                step.kind = distortion::Step::Kind::wait;
        } else if (const auto* wait = std::get_if<Wait>(&move.what)) {
            clock_s_ += wait->time_s;
            if (wait->until_below_k)
                clock_s_ = wait_until(*wait->until_below_k);
        } else if (std::holds_alternative<Turn>(move.what)) {
            step.kind = distortion::Step::Kind::turn;
            clock_s_ += all_.part_->fixture.turn_s;
        } else if (const auto* clamp = std::get_if<ClampMove>(&move.what)) {
            step.kind = clamp->fix ? distortion::Step::Kind::fix_clamp : distortion::Step::Kind::free_clamp;
            step.clamp = clamp->clamp;
            clock_s_ += all_.part_->fixture.clamp_s;
        }
        done.end_s = step.end_s = clock_s_;
        table().at(clock_s_, welded_, state_);
        distortion::StepHeat& heat = heat_[outcome_->moves.size()];
        heat.of_rows = state_.of_rows;
        for (const double j_per_kg : state_.group_j_per_kg)
            heat.group_k.push_back(table().temperature_k(j_per_kg));
        job_.play(step, &heat);
        outcome_->moves.push_back(std::move(done));
    }

    double hottest_k(double time_s) const { return table().hottest_k(time_s, welded_, -1); }

    // The time from now on at which no weld is hotter, to 0.01 K; at most a day. False position, Illinois variant
    // (Dowell & Jarratt 1971), after doubling.
    double wait_until(double kelvin) const {
        const auto excess_k = [&](double time_s) { return hottest_k(time_s) - kelvin; };
        double early_s = clock_s_, early_k = excess_k(early_s);
        if (early_k <= 0)
            return clock_s_;
        double late_s = clock_s_ + 10, late_k = excess_k(late_s);
        while (late_k > 0 && late_s < clock_s_ + 86400) {
            early_s = late_s, early_k = late_k;
            late_s = clock_s_ + 2 * (late_s - clock_s_);
            late_k = excess_k(late_s);
        }
        double time_s = late_s;
        int last_side = 0;
        for (int round = 0; round < 20 && early_k > 0 && late_k < 0; ++round) {
            time_s = (early_s * late_k - late_s * early_k) / (late_k - early_k);
            const double at_k = excess_k(time_s);
            if (std::abs(at_k) < 0.01)
                break;
            const int side = at_k > 0 ? 1 : -1;
            if (side > 0) {
                early_s = time_s, early_k = at_k;
                late_k *= side == last_side ? 0.5 : 1;
            } else {
                late_s = time_s, late_k = at_k;
                early_k *= side == last_side ? 0.5 : 1;
            }
            last_side = side;
        }
        return time_s;
    }

    const Rehearsal& all_;
    const Scatter* scatter_;
    std::shared_ptr<Outcome> outcome_;
    distortion::CondensedResponse response_;
    distortion::JobRun job_;
    std::vector<distortion::StepHeat> heat_; // per move
    std::vector<HeatTable::Welded> welded_;
    HeatState state_;
    double clock_s_ = 0;
};

std::shared_ptr<const Outcome> Rehearsal::weld(const Plan& plan, const Scatter* scatter) const {
    return Run(*this, plan, scatter).play();
}

} // namespace holdtrue::weld
