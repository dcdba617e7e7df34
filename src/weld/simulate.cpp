#include "weld/simulate.h"

#include "distortion/condensed_part.h"
#include "heat/pass_record.h"
#include "part/gauge.h"
#include "text/verify.h"
#include "weld/choose_card.h"
#include "weld/halves.h"
#include "weld/job_step.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>

namespace holdtrue::weld {
namespace {

// Rough cost of a move in seconds of arc, for the progress bar only.
double expected_work(const part::Part& part, const Plan& plan, const Move& move) {
    return std::visit(OfMove{[&](const WeldPass& weld) {
                                 const part::Pass& pass = part.passes[static_cast<std::size_t>(weld.pass)];
                                 const arc::SettingCard& card = plan.cards[static_cast<std::size_t>(weld.card)];
                                 return pass.kind == part::PassKind::plug
                                            ? 10.0
                                            : (pass.to_m - pass.from_m) / card.travel_m_per_s;
                             },
                             [](const Wait&) { return 5.0; }, [](const auto&) { return 1.0; }},
                      move.what);
}

// One simulation under way: the plan's moves played on the heat of the part, and what they did written down.
class Run {
public:
    Run(std::shared_ptr<const part::Part> part, std::shared_ptr<const arc::Shop> shop, const Plan& plan,
        const Options& options, std::stop_token stop)
        : options_(options), stop_(std::move(stop)), outcome_(std::make_shared<Outcome>()),
          mesh_(std::make_shared<const part::Mesh>(part::build_mesh(*part, options.element_scale))), halves_(*mesh_),
          heat_(part, mesh_, heat::Surroundings{.ambient_k = part->ambient_k}),
          record_(heat_, options.fields ? std::optional(options.frame_interval_s) : std::nullopt, options.sections) {
        outcome_->program_version = HOLDTRUE_VERSION;
        outcome_->part = std::move(part);
        outcome_->shop = std::move(shop);
        outcome_->plan = plan;
        outcome_->mesh = mesh_;
    }

    bool stopped() const { return stop_.stop_requested(); }

    void play(const Move& move) {
        MoveOutcome done;
        distortion::Step step;
        done.start_s = heat_.time_s();
        std::visit(OfMove{[&](const WeldPass& weld) { play_weld(weld, done, step); },
                          [&](const Wait& wait) {
                              step.kind = distortion::Step::Kind::wait;
                              record_.wait(wait.time_s, wait.until_below_k.value_or(0), stop_);
                          },
                          [&](const Turn&) {
                              step.kind = distortion::Step::Kind::turn;
                              record_.wait(part().fixture.turn_s, 0, stop_);
                          },
                          [&](const ClampMove& clamp) {
                              step.kind =
                                  clamp.fix ? distortion::Step::Kind::fix_clamp : distortion::Step::Kind::free_clamp;
                              step.clamp = clamp.clamp;
                              record_.wait(part().fixture.clamp_s, 0, stop_);
                              heat_.set_clamp(clamp.clamp, clamp.fix);
                          }},
                   move.what);
        done.end_s = step.end_s = heat_.time_s();
        outcome_->moves.push_back(std::move(done));
        steps_.push_back(step);
        store_temperature();
        collect_frames();
    }

    // Lets the part go cold, when it is measured.
    void cool() {
        record_.wait(0, std::max(options_.cool_to_k, part().ambient_k + 10), stop_);
        collect_frames();
    }

    std::shared_ptr<Outcome> finish() {
        const std::vector<double> peak_k = heat_.peak_k();
        outcome_->peak_k.assign(peak_k.begin(), peak_k.end());
        outcome_->total_s = heat_.time_s();
        const heat::Energy energy = heat_.energy();
        outcome_->energy = {energy.brought_j, energy.stored_j, energy.lost_to_air_j, energy.lost_to_clamps_j};
        outcome_->heat_steps = heat_.steps();
        find_distortion();
        if (stopped())
            outcome_->status = Status::cancelled;
        return outcome_;
    }

private:
    const part::Part& part() const { return *outcome_->part; }

    void play_weld(const WeldPass& weld, MoveOutcome& done, distortion::Step& step) {
        const part::Pass& pass = part().passes[static_cast<std::size_t>(weld.pass)];
        const part::Joint& joint = part().joints[static_cast<std::size_t>(pass.joint)];
        const arc::SettingCard& card = outcome_->plan.cards[static_cast<std::size_t>(weld.card)];

        done.setup_change = setup_change_before(outcome_->plan, outcome_->moves.size());
        done.setup_change_s = arc::time_s(done.setup_change, *outcome_->shop);
        record_.wait(options_.reposition_s + done.setup_change_s, 0, stop_);
        if (card.preheat_k > 0)
            preheat(card.preheat_k);

        arc::Section section = arc::section_of(part(), joint);
        section.start_k = heat_.hottest_along_k(weld.pass);
        const arc::ArcFigures figures = arc::arc_figures(card, *outcome_->shop, section);
        done.halves_k = halves_.difference_k(heat_.temperature_k());
        const heat::PassFigures& seen = record_.weld(arc_of(weld, card, figures), stop_);

        done.welded = true;
        done.arc = figures;
        done.heat_j = seen.heat_j;
        done.interpass_k = seen.interpass_k;
        done.peak_k = seen.peak_k;
        done.t85_s = seen.t85_s;
        done.width_500_m = seen.width_500_m;
        done.width_800_m = seen.width_800_m;
        outcome_->arc_s += seen.end_s - seen.start_s;

        step = step_of(weld, card, figures, seen.heat_j, seen.end_s - seen.start_s, seen.interpass_k);
    }

    // Burners bring the whole part to temperature at a fixed power; the time that takes passes before the arc.
    void preheat(double kelvin) {
        double missing_j = 0;
        for (const part::PanelGrid& grid : mesh_->panels)
            for (int cell = grid.first_cell; cell < grid.first_cell + grid.cells_u() * grid.cells_v(); ++cell) {
                if (!mesh_->cell_alive[static_cast<std::size_t>(cell)])
                    continue;
                const auto& nodes = mesh_->cell_nodes[static_cast<std::size_t>(cell)];
                std::array<part::Point, 4> corner;
                double mean_k = 0;
                for (std::size_t k = 0; k < 4; ++k) {
                    corner[k] = mesh_->position_m[static_cast<std::size_t>(nodes[k])];
                    mean_k += 0.25 * heat_.temperature_k()[static_cast<std::size_t>(nodes[k])];
                }
                const double area = 0.5 * (corner[2] - corner[0]).cross(corner[3] - corner[1]).norm();
                missing_j += area * grid.thickness_m * volume_heat_j_per_m3k * std::max(0.0, kelvin - mean_k);
            }
        if (missing_j <= 0)
            return;
        record_.wait(missing_j / options_.preheat_power_w, 0, stop_);
        heat_.preheat(kelvin);
    }

    void store_temperature() { temperature_.emplace_back(heat_.temperature_k().begin(), heat_.temperature_k().end()); }

    void collect_frames() {
        const int move = static_cast<int>(outcome_->moves.size()) - 1;
        for (heat::TemperatureFrame& frame : record_.take_frames())
            outcome_->frames.push_back(
                {frame.time_s, std::max(0, move), std::move(frame.temperature_k), frame.arc_on, frame.torch});
    }

    void find_distortion() {
        const std::size_t count = part().gauges.size();
        const std::vector<double> peak_k = heat_.peak_k();
        for (std::size_t g = 0; g < count; ++g) {
            GaugeOutcome& gauge = outcome_->gauges.emplace_back();
            gauge.nominal = gauge.value = part::nominal(part().gauges[g]);
            for (std::size_t k = 0; k < part().gauges[g].point.size(); ++k) {
                const part::Attachment place =
                    part::attach(*mesh_, part().gauges[g].panel[k], part().gauges[g].point[k]);
                gauge.peak_k = std::max(gauge.peak_k, part::at(place, peak_k));
            }
        }
        if (!options_.distortion || stopped())
            return;

        for (std::size_t k = 0; k < steps_.size(); ++k)
            steps_[k].temperature_end_k = temperature_[k];
        distortion::Result result = distortion::evaluate(part(), *mesh_, steps_, stop_, options_.condensed.get(),
                                                         {.fields = options_.fields, .bands = options_.bands});

        if (stopped())
            return;
        VERIFY(result.gauge_after.size() == steps_.size() + 1, "one reading after every step and one of the cold part");
        VERIFY(result.bands.size() == (options_.bands ? count : 0), "one band for every gauge");
        outcome_->distortion_model = result.model;
        outcome_->displacement_m = std::move(result.displacement_m);
        for (std::size_t g = 0; g < count; ++g) {
            GaugeOutcome& gauge = outcome_->gauges[g];
            if (options_.bands) {
                gauge.band = result.bands[g].band;
                gauge.band_source = result.bands[g].source;
                gauge.assumed = result.bands[g].assumed;
            }
            gauge.value = result.gauge_after.back()[g];
            double before = gauge.nominal;
            for (std::size_t k = 0; k < steps_.size(); ++k) {
                const double now = result.gauge_after[k][g];
                gauge.after_move.push_back(now);
                outcome_->moves[k].gauge_contribution.push_back(now - before);
                before = now;
            }
        }
    }

    // Steel near room temperature, 7850 kg/m3 times 500 J/(kg K): how long the burners stand there need not be closer.
    static constexpr double volume_heat_j_per_m3k = 7850.0 * 500.0;

    Options options_;
    std::stop_token stop_;
    std::shared_ptr<Outcome> outcome_;
    std::shared_ptr<const part::Mesh> mesh_;
    Halves halves_;
    heat::WeldHeat heat_;
    heat::PassRecord record_;
    std::vector<distortion::Step> steps_;         // one per move
    std::vector<std::vector<float>> temperature_; // after every move
};

} // namespace

Options for_marks(Options options) {
    options.fields = options.bands = options.sections = options.until_cold = false;
    return options;
}

std::shared_ptr<const distortion::CondensedPart> condense(const part::Part& part, double element_scale,
                                                          std::stop_token stop, const std::filesystem::path& store,
                                                          std::optional<int> groups_per_pass) {
    distortion::PartModelSettings settings;
    settings.groups.groups_per_pass = groups_per_pass.value_or(settings.groups.groups_per_pass);
    auto condensed = std::make_shared<const distortion::CondensedPart>(
        part, part::build_mesh(part, element_scale), settings, std::move(stop), distortion::CondensedStore(store));
    return condensed->ok() ? condensed : nullptr;
}

std::shared_ptr<const Outcome> simulate(std::shared_ptr<const part::Part> part, std::shared_ptr<const arc::Shop> shop,
                                        const Plan& plan, const Options& options, Progress* progress,
                                        std::stop_token stop) {
    // Shares of the bar: the moves by their arc time, then cooling, then distortion.
    std::vector<double> work;
    double all_work = 0;
    for (const Move& move : plan.moves) {
        work.push_back(expected_work(*part, plan, move));
        all_work += work.back();
    }
    const auto report = [&](double share, std::size_t move) {
        if (progress) {
            progress->share = share;
            progress->move = static_cast<int>(move);
        }
    };

    Run run(std::move(part), std::move(shop), plan, options, stop);
    double work_done = 0;
    for (std::size_t k = 0; k < plan.moves.size() && !run.stopped(); ++k) {
        report(0.7 * work_done / all_work, k);
        run.play(plan.moves[k]);
        work_done += work[k];
    }
    report(0.7, plan.moves.size());
    if (options.until_cold && !run.stopped())
        run.cool();
    report(0.8, plan.moves.size());
    std::shared_ptr<const Outcome> outcome = run.finish();
    report(1, plan.moves.size());
    return outcome;
}

} // namespace holdtrue::weld
