#include "arc/fusion.h"

#include "arc/bead.h"
#include "arc/moving_source.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {
namespace {

using part::JointType;

struct Shares {
    double a, b; // e_i of fusion.h
};

// a ends at the joint, b of a tee, lap or plug passes through it.
Shares heat_shares(JointType type, double aim, double ta, double tb) {
    const double passes_a = 1, passes_b = type == JointType::fillet || type == JointType::lap ? 2 : 1;
    const double weight_a = passes_a * ta, weight_b = passes_b * tb, weights = weight_a + weight_b;
    // A member that ends at the joint sees its heat doubled against an endless plate.
    const double double_a = 2 / passes_a, double_b = 2 / passes_b;
    const double conducted_a = double_a * weight_a / weights, conducted_b = double_b * weight_b / weights;
    const double whole = type == JointType::fillet || type == JointType::lap ? 4.0 / 3 : 2.0;
    return {(conducted_a + whole * aim) / 2, (conducted_b + whole * (1 - aim)) / 2};
}

BackFace from_rise(double rise_k, double start_k, const Melting& melting) {
    BackFace face;
    const double unmelted_k = start_k + rise_k;
    face.spare_k = melting.solidus_k - unmelted_k;
    face.molten_share = std::clamp(-face.spare_k / melting.latent_as_rise_k, 0.0, 1.0);
    face.peak_k =
        std::min(unmelted_k, melting.solidus_k) + face.molten_share * (melting.liquidus_k - melting.solidus_k);
    return face;
}

MemberFusion fusion_of(double penetration, double share, double warm, double own_m, double other_m) {
    MemberFusion fusion;
    fusion.penetration_m = penetration * std::pow(share, 2.0 / 3) * warm;
    fusion.low_m = (1 - penetration_scatter) * fusion.penetration_m;
    fusion.needed_m = std::min(0.1 * std::min(own_m, 2 * other_m), 0.8e-3);
    return fusion;
}

} // namespace

Melting melting_of(material::Metal metal) {
    switch (metal) {
    case material::Metal::mild_steel:
        return {units::celsius(1460), units::celsius(1520), 270e3 / 690};
    case material::Metal::stainless:
        return {units::celsius(1400), units::celsius(1450), 260e3 / 600};
    case material::Metal::aluminium:
        return {units::celsius(600), units::celsius(655), 390e3 / 1050};
    }
    return {units::celsius(1460), units::celsius(1520), 270e3 / 690};
}

BackFace burn_through_at(double peak_k, material::Metal metal) {
    const Melting melting = melting_of(metal);
    BackFace face;
    face.peak_k = peak_k;
    face.spare_k = melting.solidus_k - peak_k;
    face.molten_share = std::clamp(-face.spare_k / (melting.liquidus_k - melting.solidus_k), 0.0, 1.0);
    return face;
}

Members members(const SettingCard& card, const ArcFigures& figures, const Section& section) {
    Members result;
    const double ta = section.thickness_a_m, tb = section.thickness_b_m;
    const Melting melting = melting_of(section.metal);
    const double start_k = std::min(std::max(section.start_k, card.preheat_k), melting.solidus_k - 100);
    const double aim = std::clamp(card.aim, 0.0, 1.0);

    // Fusion.
    const double warm = std::sqrt((melting.solidus_k - 293.15) / (melting.solidus_k - start_k));
    const bool one_plate = section.type == JointType::butt || section.type == JointType::edge;
    const bool plug = section.type == JointType::plug;
    const double share_a = one_plate || plug ? 1 : aim, share_b = one_plate || plug ? 1 : 1 - aim;
    // A plug's arc goes round its hole once while it fills it.
    double penetration = figures.penetration_m;
    if (plug && figures.fill_s > 0)
        penetration = penetration_m(card.process, figures.current_a, card.volts_v,
                                    std::max(1e-4, 3.14159 * section.size_m / 2 / figures.fill_s));
    result.fusion_a = fusion_of(penetration, share_a, warm, ta, tb);
    result.fusion_b = fusion_of(penetration, share_b, warm, tb, ta);

    // Back faces.
    const PlateProperties plate = mean_properties(section.metal);
    const double q = figures.net_power_w, v = card.travel_m_per_s;
    if (q <= 0 || ta <= 0 || tb <= 0)
        return result;
    if (plug) {
        const double rest_s = card.plug_s > 0 ? card.plug_s : figures.fill_s;
        result.back_b =
            from_rise(back_face_resting_rise_k(plate, q, rest_s, tb + section.thickness_a_m / 2, section.size_m / 3),
                      start_k, melting);
        result.back_a = from_rise(0, start_k, melting); // its hole's wall is meant to melt
        return result;
    }
    if (v <= 0)
        return result;
    const Shares shares = heat_shares(section.type, aim, ta, tb);
    const double cover_m = figures.leg_m / 3;
    result.back_a = from_rise(back_face_peak_rise_k(plate, q * shares.a, v, ta + cover_m), start_k, melting);
    result.back_b = from_rise(back_face_peak_rise_k(plate, q * shares.b, v, tb + cover_m), start_k, melting);
    if (section.type == JointType::butt && result.back_a.molten_share >= 1)
        result.full_depth_width_m = 2 * thin_plate_half_width_m(plate, q, v, section.thinner_m(),
                                                                melting.solidus_k + melting.latent_as_rise_k - start_k);
    return result;
}

} // namespace holdtrue::arc
