// A small shop and a card that suits 3 mm steel, for tests to change one thing of.
#pragma once

#include "arc/arc.h"
#include "units/units.h"

#include <string>

namespace holdtrue::arc::bench {

using units::mm;

inline Gas named(const std::string& id, const std::string& words) {
    Gas gas;
    static_cast<material::GasMixture&>(gas) = material::parse_gas(words);
    gas.id = id;
    return gas;
}

inline Shop shop() {
    Shop shop;
    shop.wires = {
        {"s06", "ER70S-6", 0.6 * mm, Process::mag_135},     {"s08", "ER70S-6", 0.8 * mm, Process::mag_135},
        {"s09", "ER70S-6", 0.9 * mm, Process::mag_135},     {"s10", "ER70S-6", 1.0 * mm, Process::mag_135},
        {"s12", "ER70S-6", 1.2 * mm, Process::mag_135},     {"gs", "E71T-GS", 0.8 * mm, Process::fcaw_self_114},
        {"t1", "E71T-1M", 1.2 * mm, Process::fcaw_gas_136}, {"t11", "E71T-11", 0.9 * mm, Process::fcaw_self_114},
        {"al", "ER5356", 1.2 * mm, Process::mig_131},       {"ss", "ER308LSi", 0.8 * mm, Process::mag_135}};
    shop.gases = {named("mix", "75Ar 25CO2"), named("m20", "92Ar 8CO2"), named("m21", "82Ar 18CO2"),
                  named("co2", "CO2"),        named("ar", "Ar"),         named("m12", "98Ar 2CO2")};
    return shop;
}

inline SettingCard card() {
    SettingCard card;
    card.name = "seams";
    card.wire = "s08";
    card.gas = "mix";
    card.gas_flow_m3_per_s = 10 * units::litre_per_minute;
    card.volts_v = 18.5;
    card.wire_feed_m_per_s = 6.4 / 60;
    card.travel_m_per_s = 5.5 * mm;
    card.tip_distance_m = 12 * mm;
    return card;
}

inline Section section(double a_mm, double b_mm, part::JointType type = part::JointType::fillet) {
    Section section;
    section.type = type;
    section.thickness_a_m = a_mm * mm;
    section.thickness_b_m = b_mm * mm;
    return section;
}

} // namespace holdtrue::arc::bench
