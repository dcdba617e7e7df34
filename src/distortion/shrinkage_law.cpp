#include "distortion/shrinkage_law.h"

#include "text/verify.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace holdtrue::distortion {

namespace {

using part::Point;

constexpr double heat_ratio = 1.03;

double rounded_heat(int step) { return std::pow(heat_ratio, step); }

// How far the sheet goes on from a place in its own plane, up to its edge or a fold.
double width_towards(const part::Mesh& mesh, int panel, const part::Attachment& from, const Point& direction) {
    constexpr double step_m = 0.005, most_m = 0.2, off_m = 0.0015;
    double width = 0;
    while (width < most_m) {
        const part::Attachment next = part::attach(mesh, panel, from.position + (width + step_m) * direction);
        if (next.distance_m > off_m)
            break;
        width += step_m;
    }
    return width;
}

double wrong(const Figure& figure, double by) {
    return figure.value + (by > 0 ? by * (figure.most - figure.value) : by * (figure.value - figure.least));
}

} // namespace

ShrinkageLaw::Kind ShrinkageLaw::kind_of(const Step& step) const {
    return {part_->passes[static_cast<std::size_t>(step.pass)].joint,
            static_cast<int>(std::lround(std::log(step.heat_input_j_per_m) / std::log(heat_ratio))),
            static_cast<int>(std::lround(step.travel_m_per_s * 1e4)),
            static_cast<int>(std::lround(step.deposit_area_m2 * 1e7))};
}

ShrinkageLaw::Sides ShrinkageLaw::find_sides(int index) const {
    const part::Joint& joint = part_->joints[static_cast<std::size_t>(index)];
    const double middle = 0.5 * part::path_length_m(joint);
    const Point place = part::path_point(joint, middle), tangent = part::path_tangent(joint, middle);
    Sides sides;
    Point across[2];
    for (const bool on_a : {true, false}) {
        const int panel = on_a ? joint.panel_a : joint.panel_b;
        const part::Panel& sheet = part_->panels[static_cast<std::size_t>(panel)];
        const part::Attachment at = part::attach(*mesh_, panel, place);
        const Point normal = part::at(at, mesh_->normal).normalized();
        const Point direction = normal.cross(tangent).normalized();
        const double one = width_towards(*mesh_, panel, at, direction);
        const double other = width_towards(*mesh_, panel, at, -direction);
        Member& member = on_a ? sides.a : sides.b;
        member.thickness_m = sheet.thickness_m;
        member.yield_pa = sheet.yield_pa;
        member.both_sides = std::min(one, other) > 3 * sheet.thickness_m;
        member.width_m = std::max(0.010, member.both_sides ? 0.5 * (one + other) : std::max(one, other));
        across[on_a ? 0 : 1] = direction;
    }
    sides.b_across = std::abs(across[0].dot(across[1])) < 0.7;
    return sides;
}

void ShrinkageLaw::prepare(const std::vector<Step>& steps) {
    for (const Step& step : steps) {
        if (step.kind != Step::Kind::weld || step.heat_input_j_per_m <= 0)
            continue;
        const part::Pass& pass = part_->passes[static_cast<std::size_t>(step.pass)];
        const Kind kind = kind_of(step);
        if (pass.kind == part::PassKind::plug || tables_.contains(kind))
            continue;
        const part::Joint& joint = part_->joints[static_cast<std::size_t>(pass.joint)];
        if (!sides_.contains(pass.joint))
            sides_.emplace(pass.joint, find_sides(pass.joint));
        const Sides& sides = sides_.at(pass.joint);
        PassSite site;
        site.type = joint.type;
        site.local.a = sides.a;
        site.local.b = sides.b;
        site.local.b_across = sides.b_across;
        site.local.heat_j_per_m = rounded_heat(std::get<1>(kind));
        site.local.travel_m_per_s = std::max(1e-3, step.travel_m_per_s);
        site.deposit_area_m2 = step.deposit_area_m2;
        site.leg_m = std::numbers::sqrt2 * step.throat_m;
        site.root_gap_m = joint.root_gap_m;
        tables_.emplace(kind, ShrinkageTable(site, tendon_tables_->of(site.local)));
    }
}

GroupShrinkage ShrinkageLaw::of(const WeldGroup& group, const Step& step, double prior_stress_pa,
                                const ShrinkageError& error) const {
    GroupShrinkage shrinkage;
    if (group.kind == part::PassKind::plug) {
        // A spot shrinks alike in all directions: 0.18 N per J/m (Okerblom, from memory) of a line through it, split
        // over the two directions where it acts; across the line nothing is added.
        const part::Joint& joint = part_->joints[static_cast<std::size_t>(group.joint)];
        const double t_a = part_->panels[static_cast<std::size_t>(joint.panel_a)].thickness_m;
        const double t_b = part_->panels[static_cast<std::size_t>(joint.panel_b)].thickness_m;
        shrinkage.tendon_n = {0.18 * step.heat_j * t_a / (t_a + t_b), 0.18 * step.heat_j * t_b / (t_a + t_b)};
        shrinkage.half_width_m = group.length_m;
        return shrinkage;
    }
    if (step.heat_input_j_per_m <= 0)
        return shrinkage;
    const Kind kind = kind_of(step);
    const auto found = tables_.find(kind);
    VERIFY(found != tables_.end(), "every kind of pass is prepared");
    const Shrinkage cold = found->second.at(step.interpass_k, prior_stress_pa);
    const double scale = step.along_factor * step.heat_input_j_per_m / rounded_heat(std::get<1>(kind));
    const double all = cold.tendon.force_n[0] + cold.tendon.force_n[1];
    const double off = all > 0 ? 1 + error.tendon * cold.tendon.band_n / all : 1;
    const Sides& sides = sides_.at(group.joint);
    double strips = 0;
    for (std::size_t side = 0; side < 2; ++side) {
        const Member& member = side == 0 ? sides.a : sides.b;
        const double wings = member.both_sides ? 2 : 1;
        shrinkage.tendon_n[side] = off * scale * cold.tendon.force_n[side];
        shrinkage.strip_area_m2 += wings * scale * cold.tendon.strip_m[side] * member.thickness_m;
        shrinkage.half_width_m += scale * cold.tendon.strip_m[side] * member.thickness_m * wings;
        strips += member.thickness_m * wings;
        shrinkage.across_m[side] = step.across_factor * wrong(cold.across_m[side], error.rules);
        shrinkage.angle_rad[side] = step.across_factor * wrong(cold.angle_rad[side], error.rules);
    }
    shrinkage.half_width_m /= strips;
    return shrinkage;
}

} // namespace holdtrue::distortion
