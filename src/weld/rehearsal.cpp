#include "weld/rehearsal.h"

#include "part/gauge.h"
#include "text/verify.h"
#include "weld/choose_card.h"
#include "weld/job_step.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::weld {

namespace {
constexpr distortion::JobSettings settings{.watch = distortion::brief_watch};
}

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
    auto start = std::make_unique<RehearsalPoint>(*condensed_);
    start->job = distortion::JobRun(condensed_->model(), start->response, *law_, settings).state();
    start_ = std::move(start);
}

// One plan under way.
class Rehearsal::Run {
public:
    // From a point of a job with the same moves so far.
    Run(const Rehearsal& all, const Plan& plan, const Scatter* scatter, const RehearsalPoint& point)
        : all_(all), scatter_(scatter), outcome_(std::make_shared<Outcome>()), now_(point),
          job_(all.condensed_->model(), now_.response, *all.law_, settings, point.job) {
        outcome_->program_version = HOLDTRUE_VERSION;
        outcome_->part = all.part_;
        outcome_->shop = all.shop_;
        outcome_->plan = plan;
        outcome_->mesh = all.mesh_;
        outcome_->distortion_model = text::worded("condensed shell, heat as the sum of single passes");
    }

    std::shared_ptr<const Outcome> play(RehearsalMemory* memory) {
        const std::vector<Move>& moves = outcome_->plan.moves;
        now_.moves.reserve(moves.size());
        for (std::size_t k = now_.moves.size(); k < moves.size(); ++k) {
            play(k);
            if (memory && !only_cools(moves[k]) && memory->worth_keeping(k + 1)) {
                now_.job = job_.state();
                memory->keep(now_);
            }
        }
        outcome_->total_s = now_.time.clock_s;
        outcome_->arc_s = now_.time.arc_s;
        outcome_->moves = std::move(now_.moves);
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
    const HeatTable& table() const { return *all_.table_; }

    static bool only_cools(const Move& move) {
        return std::holds_alternative<Wait>(move.what) || std::holds_alternative<Turn>(move.what);
    }

    void play(std::size_t number) {
        const std::vector<Move>& moves = outcome_->plan.moves;
        const Move& move = moves[number];
        distortion::Step step;
        MoveOutcome done = all_.advance(now_.time, moment_, outcome_->plan, now_.moves.size(), scatter_);
        if (const auto* weld = std::get_if<WeldPass>(&move.what)) {
            const std::size_t pass = static_cast<std::size_t>(weld->pass);
            const double share = now_.time.welded.back().share;
            step = step_of(*weld, outcome_->plan.cards[static_cast<std::size_t>(weld->card)], done.arc, done.heat_j,
                           table().arc_s(weld->pass), done.interpass_k);
            step.along_factor = share;
            step.across_factor = scatter_ ? share * scatter_->across[pass] : 1;
            if (scatter_ && scatter_->cracked[pass])
                step.kind = distortion::Step::Kind::wait;
        } else if (std::holds_alternative<Turn>(move.what)) {
            step.kind = distortion::Step::Kind::turn;
        } else if (const auto* clamp = std::get_if<ClampMove>(&move.what)) {
            step.kind = clamp->fix ? distortion::Step::Kind::fix_clamp : distortion::Step::Kind::free_clamp;
            step.clamp = clamp->clamp;
        }
        now_.moves.push_back(std::move(done));
        // Nobody looks at a job that cools (distortion::brief_watch): over several moves it does so in one step.
        if (only_cools(move) && number + 1 < moves.size() && only_cools(moves[number + 1]))
            return;
        step.end_s = now_.time.clock_s;
        table().go_to(now_.time.clock_s, now_.time.welded, moment_);
        table().at(moment_, state_);
        distortion::StepHeat heat;
        heat.of_rows = state_.of_rows;
        heat.group_k.reserve(static_cast<std::size_t>(state_.group_j_per_kg.size()));
        for (const double j_per_kg : state_.group_j_per_kg)
            heat.group_k.push_back(table().temperature_k(j_per_kg));
        job_.play(step, &heat);
    }

    const Rehearsal& all_;
    const Scatter* scatter_;
    std::shared_ptr<Outcome> outcome_;
    RehearsalPoint now_;
    distortion::JobRun job_;
    HeatTable::Moment moment_; // scratch
    HeatState state_;
};

MoveOutcome Rehearsal::advance(JobTime& now, HeatTable::Moment& moment, const Plan& plan, std::size_t move,
                               const Scatter* scatter) const {
    MoveOutcome done;
    double& clock_s = now.clock_s;
    done.start_s = clock_s;
    const auto& what = plan.moves[move].what;
    if (const auto* weld = std::get_if<WeldPass>(&what)) {
        const std::size_t pass = static_cast<std::size_t>(weld->pass);
        done.setup_change = setup_change_before(plan, move);
        done.setup_change_s = arc::time_s(done.setup_change, *shop_);
        clock_s += before_arc_s(done.setup_change);
        done.welded = true;
        done.arc = figures_[pass];
        const double share = scatter ? scatter->heat[pass] : 1;
        done.heat_j = share * table_->heat_j(weld->pass);
        table_->go_to(clock_s, now.welded, moment);
        done.interpass_k = table_->hottest_k(moment, weld->pass);
        const Eigen::Vector3d halves_k = table_->halves_k(moment);
        std::ranges::copy(halves_k, done.halves_k.begin());
        clock_s += table_->arc_s(weld->pass);
        now.arc_s += table_->arc_s(weld->pass);
        now.welded.push_back({weld->pass, weld->reversed, clock_s, share});
    } else if (const auto* wait = std::get_if<Wait>(&what)) {
        clock_s += wait->time_s;
        if (wait->until_below_k)
            clock_s = wait_until(now, *wait->until_below_k);
    } else if (std::holds_alternative<Turn>(what)) {
        clock_s += part_->fixture.turn_s;
    } else {
        clock_s += part_->fixture.clamp_s;
    }
    done.end_s = clock_s;
    return done;
}

// Until the arc of a pass strikes.
double Rehearsal::before_arc_s(const arc::SetupChange& change) const {
    return options_.reposition_s + arc::time_s(change, *shop_);
}

// The time from now on at which no weld is hotter, to 0.01 K; at most a day. False position, Illinois variant
// (Dowell & Jarratt 1971), after doubling.
double Rehearsal::wait_until(const JobTime& now, double kelvin) const {
    HeatTable::Moment moment;
    const auto excess_k = [&](double time_s) {
        table_->go_to(time_s, now.welded, moment);
        return table_->hottest_k(moment, -1) - kelvin;
    };
    double early_s = now.clock_s, early_k = excess_k(early_s);
    if (early_k <= 0)
        return now.clock_s;
    double late_s = now.clock_s + 10, late_k = excess_k(late_s);
    while (late_k > 0 && late_s < now.clock_s + 86400) {
        early_s = late_s, early_k = late_k;
        late_s = now.clock_s + 2 * (late_s - now.clock_s);
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

std::vector<double> Rehearsal::waits_to_stay_below(const Plan& plan, std::span<const double> limit_k,
                                                   std::span<const double> waits_s) const {
    VERIFY(!waits_s.empty() && limit_k.size() == part_->passes.size(), "a wait to choose and a limit for every pass");
    std::vector<double> waits;
    JobTime now;
    HeatTable::Moment moment;
    double waited_s = 0; // by the plan, since the last pass
    for (std::size_t move = 0; move < plan.moves.size(); ++move) {
        if (const auto* weld = std::get_if<WeldPass>(&plan.moves[move].what)) {
            const double ready_s = now.clock_s - waited_s;
            const double strike_s = ready_s + before_arc_s(setup_change_before(plan, move));
            const auto is_cool_after = [&](double wait_s) {
                table_->go_to(strike_s + wait_s, now.welded, moment);
                return table_->hottest_k(moment, weld->pass) <= limit_k[static_cast<std::size_t>(weld->pass)];
            };
            const auto least =
                std::ranges::lower_bound(waits_s, waited_s - 1e-6); // s: what rounding of the clock leaves
            const auto enough = std::find_if(least, waits_s.end(), is_cool_after);
            waits.push_back(enough == waits_s.end() ? waits_s.back() : *enough);
            now.clock_s = ready_s + waits.back();
            waited_s = 0;
        }
        const MoveOutcome done = advance(now, moment, plan, move);
        if (std::holds_alternative<Wait>(plan.moves[move].what))
            waited_s += done.end_s - done.start_s;
    }
    return waits;
}

std::shared_ptr<const Outcome> Rehearsal::weld(const Plan& plan, const Scatter* scatter,
                                               RehearsalMemory* memory) const {
    VERIFY(!scatter || !memory, "what is remembered is the plan as written");
    const RehearsalPoint* known = memory ? memory->recall(plan.moves) : nullptr;
    return Run(*this, plan, scatter, known ? *known : *start_).play(memory);
}

} // namespace holdtrue::weld
