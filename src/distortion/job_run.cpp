#include "distortion/job_run.h"

#include "part/gauge.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {

JobRun::JobRun(const PartModel& model, Response& response, const JobSettings& settings)
    : model_(model), response_(response), settings_(settings), tied_(model.groups().size(), 0),
      contact_(model.groups().size(), 0), clamped_(model.part().clamps.size(), 0) {
    const Eigen::VectorXd cold = Eigen::VectorXd::Zero(model.node_count());
    heat_start_ = response_.add_thermal(cold);
    heat_end_ = response_.add_thermal(cold);
    for (std::size_t g = 0; g < model.groups().size(); ++g)
        if (model.groups()[g].pass < 0)
            fix_tie(static_cast<int>(g));
    for (std::size_t c = 0; c < clamped_.size(); ++c)
        if (model.part().clamps[c].fixed_at_start) {
            clamped_[c] = 1;
            for (const int row : model.clamp_rows(static_cast<int>(c)))
                response_.fix(row, 0);
        }
}

void JobRun::fix_tie(int group) {
    const WeldGroup& g = model_.groups()[static_cast<std::size_t>(group)];
    std::vector<double> at;
    for (int k = 0; k < g.tie_count; ++k)
        at.push_back(response_.value(g.first_tie + k));
    for (int k = 0; k < g.tie_count; ++k) {
        const int row = g.first_tie + k;
        if (row == g.opening() && contact_[static_cast<std::size_t>(group)]) {
            // The faces still press on each other: the weld takes that over.
            response_.set_offset(row, at[static_cast<std::size_t>(k)] - response_.force(row) / model_.spring(row));
            contact_[static_cast<std::size_t>(group)] = 0;
        } else
            response_.fix(row, at[static_cast<std::size_t>(k)]);
    }
    tied_[static_cast<std::size_t>(group)] = 1;
}

double JobRun::temperature_at(int group, std::span<const float> temperature_k) const {
    double sum = 0, count = 0;
    for (const WeldPoint& at : model_.groups()[static_cast<std::size_t>(group)].points)
        for (const part::Attachment* place : {&at.on_a, &at.on_b}) {
            for (std::size_t k = 0; k < 4; ++k)
                sum += place->weight[k] * static_cast<double>(temperature_k[static_cast<std::size_t>(place->node[k])]);
            count += 1;
        }
    return sum / count;
}

double JobRun::grown_at(double kelvin) const {
    return std::clamp((settings_.hot_k - kelvin) / (settings_.hot_k - settings_.cold_k), 0.0, 1.0);
}

void JobRun::begin_heat(const Step& step) {
    std::swap(heat_start_, heat_end_); // the end of the last step is the start of this one
    response_.replace_thermal(heat_start_,
                              heat_strain(model_.part(), model_.mesh(), step.temperature_start_k, settings_.curve));
    response_.replace_thermal(heat_end_,
                              heat_strain(model_.part(), model_.mesh(), step.temperature_end_k, settings_.curve));
    for (Laid& laid : laid_) {
        laid.born = -1;
        laid.grown_at_start = laid.grown;
        laid.grown_at_end = std::max(laid.grown, grown_at(temperature_at(laid.group, step.temperature_end_k)));
    }
}

void JobRun::heat_to(double share) {
    response_.set_level(heat_start_, 1 - share);
    response_.set_level(heat_end_, share);
    for (Laid& laid : laid_) {
        const double of_its_time = laid.born < 0 ? share : (share - laid.born) / (1 - laid.born);
        laid.grown = laid.grown_at_start + of_its_time * (laid.grown_at_end - laid.grown_at_start);
        response_.set_level(laid.shrink, laid.grown);
    }
    settle();
}

double JobRun::prior_stress_pa(int group) {
    const WeldGroup& g = model_.groups()[static_cast<std::size_t>(group)];
    const auto& strips = model_.strips(group);
    return model_.shell().elastic().young_pa *
           (strips[0].share * response_.value(g.strain_a) + strips[1].share * response_.value(g.strain_b));
}

void JobRun::weld(const Step& step) {
    std::vector<int> groups = model_.groups_of_pass(step.pass);
    if (step.reversed)
        std::reverse(groups.begin(), groups.end());
    heat_to(0);
    std::vector<double> prior;
    for (const int group : groups)
        prior.push_back(prior_stress_pa(group));
    for (std::size_t k = 0; k < groups.size(); ++k) {
        const double share = (static_cast<double>(k) + 0.5) / static_cast<double>(groups.size());
        heat_to(share);
        lay(groups[k], step, prior[k], share);
    }
}

void JobRun::remelt_tacks(int group) {
    const WeldGroup& over = model_.groups()[static_cast<std::size_t>(group)];
    if (over.kind != part::PassKind::run)
        return;
    bool any = false;
    for (std::size_t t = 0; t < tied_.size(); ++t) {
        const WeldGroup& tack = model_.groups()[t];
        const double middle = 0.5 * (tack.from_m + tack.to_m);
        if (!tied_[t] || tack.kind != part::PassKind::tack || tack.joint != over.joint || middle < over.from_m ||
            middle > over.to_m)
            continue;
        for (int k = 0; k < tack.tie_count; ++k)
            response_.release(tack.first_tie + k);
        tied_[t] = 0;
        for (auto laid = laid_.begin(); laid != laid_.end(); ++laid)
            if (laid->group == static_cast<int>(t)) {
                response_.set_level(laid->shrink, 0);
                laid_.erase(laid);
                break;
            }
        any = true;
    }
    if (any)
        settle();
}

void JobRun::lay(int group, const Step& step, double prior_stress_pa, double share) {
    remelt_tacks(group);
    if (!tied_[static_cast<std::size_t>(group)])
        fix_tie(group);

    const GroupShrinkage shrinkage =
        group_shrinkage(model_.part(), model_.groups()[static_cast<std::size_t>(group)], step, prior_stress_pa);
    const GroupLoads& loads = model_.loads_of(group);
    const double wide =
        std::clamp((shrinkage.half_width_m - narrow_strip_m) / (wide_strip_m - narrow_strip_m), 0.0, 1.0);
    std::vector<std::pair<int, double>> sum;
    for (std::size_t side = 0; side < 2; ++side) {
        const double tendon = shrinkage.tendon_n * model_.strips(group)[side].share;
        sum.emplace_back(loads.along_narrow[side], tendon * (1 - wide));
        sum.emplace_back(loads.along_wide[side], tendon * wide);
        sum.emplace_back(loads.across[side], shrinkage.across_m[side]);
        sum.emplace_back(loads.bend[side], shrinkage.bend_rad[side]);
    }
    Laid laid;
    laid.group = group;
    laid.shrink = response_.add_loads(sum);
    laid.born = share;
    laid.grown_at_end = grown_at(temperature_at(group, step.temperature_end_k));
    laid_.push_back(laid);
}

// Closes and opens contacts until none crosses and none pulls.
void JobRun::settle() {
    if (!settings_.contact)
        return;
    constexpr double slack_m = 1e-7, slack_n = 1e-3;
    for (int round = 0; round < 40; ++round) {
        std::vector<int> open, close;
        for (std::size_t g = 0; g < tied_.size(); ++g) {
            if (tied_[g])
                continue;
            const WeldGroup& group = model_.groups()[g];
            const double gap = model_.part().joints[static_cast<std::size_t>(group.joint)].root_gap_m;
            if (contact_[g]) {
                if (response_.force(group.opening()) > slack_n)
                    open.push_back(static_cast<int>(g));
            } else if (response_.value(group.opening()) < -gap - slack_m)
                close.push_back(static_cast<int>(g));
        }
        if (open.empty() && close.empty())
            return;
        // Newest last in the factor: released from the back.
        for (const int g : open) {
            response_.release(model_.groups()[static_cast<std::size_t>(g)].opening());
            contact_[static_cast<std::size_t>(g)] = 0;
        }
        for (const int g : close) {
            const WeldGroup& group = model_.groups()[static_cast<std::size_t>(g)];
            response_.fix(group.opening(), -model_.part().joints[static_cast<std::size_t>(group.joint)].root_gap_m);
            contact_[static_cast<std::size_t>(g)] = 1;
        }
    }
    settled_ = false;
}

void JobRun::play(const Step& step) {
    begin_heat(step);
    if (step.kind == Step::Kind::weld)
        weld(step);
    heat_to(1);
    if (step.kind == Step::Kind::fix_clamp && !clamped_[static_cast<std::size_t>(step.clamp)]) {
        std::vector<double> at;
        for (const int row : model_.clamp_rows(step.clamp))
            at.push_back(response_.value(row));
        std::size_t k = 0;
        for (const int row : model_.clamp_rows(step.clamp))
            response_.fix(row, at[k++]);
        clamped_[static_cast<std::size_t>(step.clamp)] = 1;
    }
    if (step.kind == Step::Kind::free_clamp && clamped_[static_cast<std::size_t>(step.clamp)]) {
        for (const int row : model_.clamp_rows(step.clamp))
            response_.release(row);
        clamped_[static_cast<std::size_t>(step.clamp)] = 0;
        settle();
    }
}

void JobRun::finish() {
    response_.set_level(heat_start_, 0);
    response_.set_level(heat_end_, 0);
    for (Laid& laid : laid_) {
        laid.grown = laid.grown_at_start = laid.grown_at_end = 1;
        response_.set_level(laid.shrink, 1);
    }
    for (std::size_t c = 0; c < clamped_.size(); ++c)
        if (clamped_[c]) {
            for (const int row : model_.clamp_rows(static_cast<int>(c)))
                response_.release(row);
            clamped_[c] = 0;
        }
    settle();
}

Eigen::Matrix<double, 6, 1> JobRun::frame() {
    Eigen::Matrix<double, 6, 1> motion;
    for (int k = 0; k < 6; ++k)
        motion[k] = response_.value(model_.frame_row() + k);
    return motion;
}

std::vector<double> JobRun::gauges() {
    const Eigen::Matrix<double, 6, 1> motion = frame();
    std::vector<double> readings;
    for (std::size_t g = 0; g < model_.part().gauges.size(); ++g) {
        const part::Gauge& gauge = model_.part().gauges[g];
        std::vector<part::Point> places = gauge.point;
        for (std::size_t k = 0; k < places.size(); ++k) {
            const int row = model_.gauge_row(static_cast<int>(g), static_cast<int>(k));
            const part::Point arm = gauge.point[k] - model_.middle();
            for (int axis = 0; axis < 3; ++axis)
                places[k][axis] += response_.value(row + axis);
            places[k] -= motion.head<3>() + motion.tail<3>().cross(arm);
        }
        readings.push_back(part::read_gauge(gauge, places));
    }
    return readings;
}

double JobRun::deepest_overlap_m() {
    double deepest = 0;
    for (std::size_t g = 0; g < tied_.size(); ++g)
        if (!tied_[g]) {
            const WeldGroup& group = model_.groups()[g];
            const double gap = model_.part().joints[static_cast<std::size_t>(group.joint)].root_gap_m;
            deepest = std::max(deepest, -gap - response_.value(group.opening()));
        }
    return deepest;
}

} // namespace holdtrue::distortion
