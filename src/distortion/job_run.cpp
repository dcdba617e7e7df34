#include "distortion/job_run.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace holdtrue::distortion {

JobRun::JobRun(const PartModel& model, Response& response, const ShrinkageLaw& law, const JobSettings& settings)
    : model_(model), response_(response), law_(law), settings_(settings) {
    now_.faces.assign(model.groups().size(), Faces::apart);
    now_.clamped.assign(model.part().clamps.size(), 0);
    now_.ties_of_panel.assign(model.part().panels.size(), 0);
    for (std::size_t p = 0; p < now_.ties_of_panel.size(); ++p)
        response_.fix(model.panel_rows(static_cast<int>(p)), std::array<double, 6>{});
    now_.heat_start = response_.add_heat();
    now_.heat_end = response_.add_heat();
    for (std::size_t g = 0; g < model.groups().size(); ++g)
        if (model.groups()[g].pass < 0)
            fix_tie(static_cast<int>(g));
    for (std::size_t c = 0; c < now_.clamped.size(); ++c)
        if (model.part().clamps[c].fixed_at_start) {
            now_.clamped[c] = 1;
            const std::vector<int>& rows = model.clamp_rows(static_cast<int>(c));
            response_.fix(rows, std::vector<double>(rows.size(), 0.0));
        }
}

JobRun::JobRun(const PartModel& model, Response& response, const ShrinkageLaw& law, const JobSettings& settings,
               const State& state)
    : model_(model), response_(response), law_(law), settings_(settings), now_(state) {}

void JobRun::fix_tie(int group) {
    const WeldGroup& g = model_.groups()[static_cast<std::size_t>(group)];
    const std::vector<int> rows = g.tie_rows();
    std::vector<double> at = response_.values(rows);
    Faces& faces = now_.faces[static_cast<std::size_t>(group)];
    if (faces == Faces::touching) {
        // The faces still press on each other: the weld takes that over.
        at[1] -= response_.force(g.opening()) / model_.spring(g.opening());
        response_.release(std::array{g.opening()});
    }
    if (g.kind == part::PassKind::tack)
        response_.fix(rows, at);
    else
        response_.tie(rows, at);
    faces = Faces::tied;
    const part::Joint& joint = model_.part().joints[static_cast<std::size_t>(g.joint)];
    for (const int panel : {joint.panel_a, joint.panel_b})
        if (++now_.ties_of_panel[static_cast<std::size_t>(panel)] == settings_.tied_groups)
            response_.release(model_.panel_rows(panel));
}

double JobRun::grown_at(int group) const {
    const double kelvin = heat_ ? heat_->group_k[static_cast<std::size_t>(group)] : model_.part().ambient_k;
    return std::clamp((settings_.hot_k - kelvin) / (settings_.hot_k - settings_.cold_k), 0.0, 1.0);
}

void JobRun::begin_heat(const StepHeat* heat) {
    heat_ = heat;
    std::vector<std::pair<int, double>> steps;
    if (heat) {
        std::swap(now_.heat_start, now_.heat_end); // the end of the last step is the start of this one
        response_.replace_heat(now_.heat_end, *heat);
        steps = {{now_.heat_start, -1}, {now_.heat_end, 1}};
    }
    for (Laid& laid : now_.laid) {
        laid.born = -1;
        laid.off_ramp = false;
        laid.grown_at_start = laid.grown;
        laid.grown_at_end = std::max(laid.grown, grown_at(laid.group));
        const double growth = laid.grown_at_end - laid.grown_at_start;
        steps.emplace_back(laid.tendon, growth * laid.left);
        steps.emplace_back(laid.other, growth);
    }
    response_.begin_ramp(steps);
}

void JobRun::heat_to(double share) {
    response_.ramp_to(share);
    for (Laid& laid : now_.laid) {
        const double of_its_time = laid.born < 0 ? share : (share - laid.born) / (1 - laid.born);
        laid.grown = laid.grown_at_start + of_its_time * (laid.grown_at_end - laid.grown_at_start);
        if (laid.off_ramp)
            response_.set_level(laid.tendon, laid.grown * laid.left);
        if (laid.born >= 0)
            response_.set_level(laid.other, laid.grown);
    }
}

// Where faces touch, and which strips yield.
void JobRun::look() {
    settle();
    if (relax() && settings_.watch.closely)
        settle();
}

// Returns whether any strip has yielded.
bool JobRun::relax() {
    std::vector<Laid*> may_yield;
    std::vector<int> rows;
    for (Laid& laid : now_.laid)
        if (laid.strip_area_m2 > 0 && laid.left > 0 && laid.born < 0) {
            may_yield.push_back(&laid);
            rows.push_back(model_.groups()[static_cast<std::size_t>(laid.group)].strain);
        }
    const std::vector<double> strain = response_.values(rows);
    bool any = false;
    for (std::size_t k = 0; k < rows.size(); ++k) {
        Laid& laid = *may_yield[k];
        if (strain[k] <= laid.strain)
            continue;
        const double given = model_.shell().elastic().young_pa * laid.strip_area_m2 * (strain[k] - laid.strain);
        laid.strain = strain[k];
        laid.left = std::max(0.0, laid.left - given / laid.tendon_n);
        response_.set_level(laid.tendon, laid.grown * laid.left);
        laid.off_ramp = true;
        any = true;
    }
    return any;
}

void JobRun::weld(const Step& step) {
    std::vector<int> groups = model_.groups_of_pass(step.pass);
    if (step.reversed)
        std::reverse(groups.begin(), groups.end());
    // The ties' rows are asked for too, though only when they are born: what is known of many rows at once costs a
    // condensed response little more than of one.
    std::vector<int> rows;
    for (const int group : groups)
        rows.push_back(model_.groups()[static_cast<std::size_t>(group)].strain);
    for (const int group : groups)
        std::ranges::copy(model_.groups()[static_cast<std::size_t>(group)].tie_rows(), std::back_inserter(rows));
    const std::vector<double> prior = response_.values(rows);
    for (std::size_t k = 0; k < groups.size(); ++k) {
        const double share = (static_cast<double>(k) + 0.5) / static_cast<double>(groups.size());
        heat_to(share);
        remelt_tacks(groups[k]);
        if (k == 0 || settings_.watch.closely)
            look();
        else
            settle();
        lay(groups[k], step, prior[k], share);
    }
}

void JobRun::remelt_tacks(int group) {
    const WeldGroup& over = model_.groups()[static_cast<std::size_t>(group)];
    if (over.kind != part::PassKind::run)
        return;
    for (std::size_t t = 0; t < now_.faces.size(); ++t) {
        const WeldGroup& tack = model_.groups()[t];
        const double middle = 0.5 * (tack.from_m + tack.to_m);
        if (now_.faces[t] != Faces::tied || tack.kind != part::PassKind::tack || tack.joint != over.joint ||
            middle < over.from_m || middle > over.to_m)
            continue;
        response_.release(tack.tie_rows());
        now_.faces[t] = Faces::remelted;
        for (auto laid = now_.laid.begin(); laid != now_.laid.end(); ++laid)
            if (laid->group == static_cast<int>(t)) {
                response_.set_level(laid->tendon, 0);
                response_.set_level(laid->other, 0);
                now_.laid.erase(laid);
                break;
            }
    }
}

// The new pass heats what its own strips will be beyond any memory of earlier ones.
void JobRun::anneal(int group, double half_width_m) {
    const WeldGroup& over = model_.groups()[static_cast<std::size_t>(group)];
    const part::Joint& over_joint = model_.part().joints[static_cast<std::size_t>(over.joint)];
    for (Laid& laid : now_.laid) {
        const WeldGroup& under = model_.groups()[static_cast<std::size_t>(laid.group)];
        const part::Joint& under_joint = model_.part().joints[static_cast<std::size_t>(under.joint)];
        double shared = 0; // of the earlier group's metal, that is in panels which the new one heats too
        for (const int side : {0, 1}) {
            const int panel = side == 0 ? under_joint.panel_a : under_joint.panel_b;
            if (panel == over_joint.panel_a || panel == over_joint.panel_b)
                shared += model_.strips(laid.group)[static_cast<std::size_t>(side)].share;
        }
        if (shared == 0 || laid.half_width_m == 0)
            continue;
        const double covered = covered_share(under, laid.half_width_m, over, half_width_m);
        if (covered == 0)
            continue;
        laid.left *= 1 - shared * covered;
        laid.off_ramp = true;
    }
}

void JobRun::lay(int group, const Step& step, double prior_strain, double share) {
    if (now_.faces[static_cast<std::size_t>(group)] != Faces::tied)
        fix_tie(group);

    const WeldGroup& laid_group = model_.groups()[static_cast<std::size_t>(group)];
    const GroupShrinkage cold =
        law_.of(laid_group, step, model_.shell().elastic().young_pa * prior_strain, settings_.error);
    anneal(group, cold.half_width_m);
    const GroupLoads& loads = model_.loads_of(group);
    const double wide = std::clamp((cold.half_width_m - narrow_strip_m) / (wide_strip_m - narrow_strip_m), 0.0, 1.0);
    const auto [first_n, second_n] = cold.tendon_n;
    Laid laid;
    laid.group = group;
    laid.tendon_n = first_n + second_n;
    laid.tendon = response_.add_loads(std::array{
        std::pair{loads.along_narrow[0], first_n * (1 - wide)}, std::pair{loads.along_wide[0], first_n * wide},
        std::pair{loads.along_narrow[1], second_n * (1 - wide)}, std::pair{loads.along_wide[1], second_n * wide}});
    laid.other = response_.add_loads(
        std::array{std::pair{loads.across[0], cold.across_m[0]}, std::pair{loads.bend[0], cold.angle_rad[0]},
                   std::pair{loads.across[1], cold.across_m[1]}, std::pair{loads.bend[1], cold.angle_rad[1]}});
    laid.strain = prior_strain;
    laid.strip_area_m2 = laid.tendon_n > 0 ? cold.strip_area_m2 : 0;
    laid.half_width_m = cold.half_width_m;
    laid.born = share;
    laid.off_ramp = true;
    laid.grown_at_end = grown_at(group);
    now_.laid.push_back(laid);
}

void JobRun::play(const Step& step, const StepHeat* heat) {
    begin_heat(heat);
    if (step.kind == Step::Kind::weld)
        weld(step);
    heat_to(1);
    if (settings_.watch.closely)
        look();
    if (step.kind == Step::Kind::fix_clamp && !now_.clamped[static_cast<std::size_t>(step.clamp)]) {
        const std::vector<int>& rows = model_.clamp_rows(step.clamp);
        response_.fix(rows, response_.values(rows));
        now_.clamped[static_cast<std::size_t>(step.clamp)] = 1;
    }
    if (step.kind == Step::Kind::free_clamp && now_.clamped[static_cast<std::size_t>(step.clamp)]) {
        response_.release(model_.clamp_rows(step.clamp));
        now_.clamped[static_cast<std::size_t>(step.clamp)] = 0;
        look();
    }
}

void JobRun::finish() {
    response_.begin_ramp({});
    response_.set_level(now_.heat_start, 0);
    response_.set_level(now_.heat_end, 0);
    for (Laid& laid : now_.laid) {
        laid.grown = laid.grown_at_start = laid.grown_at_end = 1;
        laid.born = -1;
        response_.set_level(laid.tendon, laid.left);
        response_.set_level(laid.other, 1);
    }
    for (std::size_t c = 0; c < now_.clamped.size(); ++c)
        if (now_.clamped[c]) {
            response_.release(model_.clamp_rows(static_cast<int>(c)));
            now_.clamped[c] = 0;
        }
    settle();
    if (relax())
        settle();
}

} // namespace holdtrue::distortion
