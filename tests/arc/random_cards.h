// Random cards and joints, sensible and silly.
#pragma once

#include "bench_card.h"

#include <cmath>
#include <random>
#include <vector>

namespace holdtrue::arc::bench {

struct Dice {
    std::mt19937 engine{20240607};
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine); }
    // Over decades, and now and then nothing at all.
    double size(double low, double high) { return chance(0.03) ? 0 : std::exp(between(std::log(low), std::log(high))); }
    bool chance(double share) { return between(0, 1) < share; }
    template <class T>
    const T& one_of(const std::vector<T>& all) {
        return all[static_cast<std::size_t>(between(0, static_cast<double>(all.size()) - 1e-9))];
    }
};

inline SettingCard random_card(Dice& dice, const Shop& shop) {
    SettingCard card;
    const Wire& wire = dice.one_of(shop.wires);
    card.wire = wire.id;
    card.process = dice.chance(0.9) ? wire.process : Process::tig_141;
    card.gas = dice.chance(0.1) ? "" : dice.one_of(shop.gases).id;
    card.volts_v = dice.size(1, 60);
    card.wire_feed_m_per_s = dice.size(0.001, 1);
    card.travel_m_per_s = dice.size(1e-4, 0.2);
    card.current_a = dice.size(1, 700);
    card.tip_distance_m = dice.size(1 * mm, 60 * mm);
    card.gas_flow_m3_per_s = dice.size(1e-6, 1e-3);
    card.aim = dice.between(0, 1);
    card.preheat_k = dice.chance(0.2) ? dice.between(200, 1500) : 0;
    card.plug_s = dice.chance(0.3) ? dice.size(0.1, 100) : 0;
    card.polarity = dice.chance(0.5) ? Polarity::electrode_positive : Polarity::electrode_negative;
    card.motion = dice.chance(0.5) ? TorchMotion::push : TorchMotion::drag;
    return card;
}

inline Section random_section(Dice& dice) {
    using part::JointType;
    Section section;
    section.type = dice.one_of(std::vector<JointType>{JointType::butt, JointType::fillet, JointType::lap,
                                                      JointType::corner, JointType::edge, JointType::plug});
    section.thickness_a_m = dice.size(0.3 * mm, 120 * mm) + 0.1 * mm;
    section.thickness_b_m = dice.chance(0.4) ? section.thickness_a_m : dice.size(0.3 * mm, 120 * mm) + 0.1 * mm;
    section.size_m = dice.chance(0.5) ? dice.size(0.5 * mm, 80 * mm) : 0;
    section.root_gap_m = dice.chance(0.4) ? dice.size(0.01 * mm, 30 * mm) : 0;
    section.start_k = dice.chance(0.7) ? 293.15 : dice.between(150, 1900);
    section.metal =
        dice.one_of(std::vector{material::Metal::mild_steel, material::Metal::stainless, material::Metal::aluminium});
    section.steel = dice.one_of(std::vector<std::string>{"S235", "S355", "A36", "DC01", "unknown"});
    section.coated_a = dice.chance(0.2);
    section.length_m = dice.size(1 * mm, 100);
    section.passes = dice.chance(0.2) ? static_cast<int>(dice.between(1, 40)) : 0;
    if (dice.chance(0.3))
        section.groove_angle_rad = dice.between(0.01, 3.0);
    if (dice.chance(0.3))
        section.root_face_m = dice.size(0.1 * mm, 20 * mm);
    if (dice.chance(0.3))
        section.tack_length_m = dice.size(1 * mm, 300 * mm);
    if (dice.chance(0.3))
        section.tack_spacing_m = dice.size(1 * mm, 900 * mm);
    if (dice.chance(0.3))
        section.plug_spacing_m = dice.size(1 * mm, 900 * mm);
    section.backing = dice.chance(0.1);
    section.both_sides = dice.chance(0.1);
    return section;
}

} // namespace holdtrue::arc::bench
