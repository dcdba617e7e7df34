#include "distortion/shrinkage.h"

#include "material/steel.h"

#include <algorithm>

namespace holdtrue::distortion {
namespace {

// Part of the heat that member a takes where nobody says: as the cross-sections that lead it away compare.
double share_of_a(const TendonCase& local) {
    if (local.share_a >= 0)
        return local.share_a;
    auto ways_out = [](const Member& member) { return member.thickness_m * (member.both_sides ? 2 : 1); };
    return ways_out(local.a) / (ways_out(local.a) + ways_out(local.b));
}

} // namespace

ShrinkageTable::ShrinkageTable(const PassSite& site, std::shared_ptr<const TendonTable> tendon)
    : tendon_(std::move(tendon)) {
    const double share = share_of_a(site.local);
    for (int side : {0, 1}) {
        const Member& member = side == 0 ? site.local.a : site.local.b;
        PassOnMember pass;
        pass.type = site.type;
        pass.thickness_m = member.thickness_m;
        pass.deposit_area_m2 = site.deposit_area_m2 / 2;
        pass.leg_m = site.leg_m;
        pass.root_gap_m = site.root_gap_m;
        pass.pass_heat_j_per_m = site.local.heat_j_per_m;
        pass.travel_m_per_s = site.local.travel_m_per_s;
        pass.through = member.both_sides;
        pass.heat_j_per_m = site.local.heat_j_per_m * (side == 0 ? share : 1 - share);
        across_m_[side] = across(pass, site.across_rule.value_or(usual_across_rule(site.type)));
        angle_rad_[side] = angle(pass, site.angle_rule.value_or(usual_angle_rule(pass)));
        // A fillet bends what it is laid on; the member that stands on it is turned with the bead, not bent.
        if (side == 0 && (site.type == part::JointType::fillet))
            angle_rad_[side] = {};
        if (site.local.heat_j_per_m <= 0)
            across_m_[side] = angle_rad_[side] = {};
    }
}

Shrinkage ShrinkageTable::at(double start_k, double prior_stress_pa) const {
    return {tendon_->at(start_k, prior_stress_pa),
            across_m_,
            {warmed(angle_rad_[0], start_k), warmed(angle_rad_[1], start_k)}};
}

double carried_strain(const StripMetal& metal, double temperature_k, double yield_pa) {
    return metal.mechanical(temperature_k).yield_ratio * yield_pa / material::steel_modulus_20c_pa;
}

PairEffect pair_effect(const Bar& bar, const TorchPass& first, const TorchPass& second, const StripMetal& metal) {
    const double cold_k = HeatSettings{}.ambient_k + 10;
    const std::vector<BarWeld> both{{first, 0, 0}, {second, 0, cold_k}};
    const BarOutcome one = weld_bar(bar, std::span(both).first(1), metal);
    const BarOutcome other = weld_bar(bar, std::span(both).last(1), metal);
    const BarOutcome two = weld_bar(bar, both, metal);
    return {two.force_n[0] / one.force_n[0], two.force_n[1] / other.force_n[0]};
}

} // namespace holdtrue::distortion
