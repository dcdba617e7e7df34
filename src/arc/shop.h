// The shop: what is on hand. Read from a .shop.toml by arc/read_shop.h.
#pragma once

#include "arc/setting_card.h"
#include "material/shielding_gas.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::arc {

// A dial has unitless marks; the user measured what some of them give (wire feed by the 6-second check, volts under
// load). Between measured marks the value is interpolated; outside them it is refused.
struct DialPoint {
    double mark;
    double value; // volts [V] or wire feed [m/s]
};
struct Dial {
    std::string name;
    std::vector<DialPoint> points; // marks strictly rising, >= 2
};

// What a broken dial cannot be set to: nothing strictly between the two [V] or [m/s]. An end may be infinite.
struct DeadRange {
    double low, high;
    bool holds(double value) const { return value > low + 1e-9 && value < high - 1e-9; }
};

struct PowerSource {
    std::string name;
    double volts_low_v = 0, volts_high_v = 0;
    double feed_low_m_per_s = 0, feed_high_m_per_s = 0;
    double rated_current_a = 0;
    double rated_duty = 0; // share of a 10 min period at rated current, 0 to 1
    std::optional<Dial> volts_dial, feed_dial;
    std::vector<DeadRange> volts_dead, feed_dead;
};

struct Wire {
    std::string id;             // as cards name it
    std::string classification; // "ER70S-6", "G 42 4 M21 3Si1"
    double diameter_m = 0;
    Process process = Process::mag_135;
};

struct Gas : material::GasMixture { // argon, helium, co2, oxygen, hydrogen: volume shares, sum 1
    std::string id;
};

struct Shop {
    std::string name, title;
    std::filesystem::path file;
    std::vector<PowerSource> sources; // the first is the one in use
    std::vector<Wire> wires;
    std::vector<Gas> gases;
    double draught_m_per_s = 0;
    int helmet_shade = 0; // 0: not stated
    // What setting another card takes (arc/setup_change.h). Common practice, no source: dials are turned and tried on
    // scrap, wire comes off and goes on through liner, rolls and tip, gas is changed over and flushed.
    double change_dials_s = 25, change_wire_s = 300, change_gas_s = 120;
    double cost_per_hour = 0, gas_cost_per_m3 = 0, wire_cost_per_kg = 0;
    std::string currency;
};

} // namespace holdtrue::arc
