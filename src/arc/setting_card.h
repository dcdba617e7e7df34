// The setting card: everything the welder sets for a group of joints. Part of a plan; read by weld/read_plan.h.
#pragma once

#include <string>
#include <vector>

namespace holdtrue::arc {

enum class Process { mag_135, mig_131, fcaw_gas_136, fcaw_self_114, tig_141 }; // ISO 4063 numbers
enum class Polarity { electrode_positive, electrode_negative };
enum class TorchMotion { push, drag };

struct SettingCard {
    std::string name;
    std::vector<std::string> groups; // joint card groups it serves; "tacks" and "plugs" may be split off by name
    Process process = Process::mag_135;
    std::string wire; // id of a wire of the shop
    std::string gas;  // id of a gas of the shop; empty for self-shielded wire
    double gas_flow_m3_per_s = 0;
    Polarity polarity = Polarity::electrode_positive;
    double volts_v = 0;
    double wire_feed_m_per_s = 0;
    double current_a = 0; // TIG only; with a fed wire the feed decides the current
    double travel_m_per_s = 0;
    double tip_distance_m = 0; // contact tip to work
    TorchMotion motion = TorchMotion::push;
    double aim = 0.5;     // share of the arc on the joint's panel_a, 0 to 1
    double preheat_k = 0; // 0: none
    double plug_s = 0;    // time the arc burns in one plug; 0: as long as filling the hole takes
    int line = 0;
};

} // namespace holdtrue::arc
