// What state an arc is in: how its volts stand to the usual line of its current and gas, how metal crosses it, and
// how evenly it short-circuits.
//
// Usual volts (common practice, no source: a line through the practice bands of 0.8 mm wire under 75/25, 0.8-6 mm
// plate; CO2 asks about 2 V more than 75/25 for the same arc length):
//   short-circuit, globular   U = 12.3 + 0.0525 I + 2.67 (share of CO2 - 0.25)         30-250 A
//   spray                     U = 24 + 0.046 (I - I_spray), at least the line above
//   gas-shielded flux-cored   U = 14.5 + 0.05 I;   self-shielded U = 11 + 0.05 I       from memory, +-1.5 V
//   TIG                       U = 10 + 0.013 I     from memory, argon
// The load line of IEC 60974-1 (load_volts_v) rates power sources; it is not a setting.
//
// Current from which metal crosses in a spray, 98 % Ar: AWS Welding Handbook, from memory. CO2 raises it by
// 1 + 6.25 x^2 (x = share of CO2; from memory, +-10 %), and above 20 % there is no true spray (sources say 15-20 %).
#pragma once

#include "arc/setting_card.h"
#include "material/filler_wire.h"
#include "material/shielding_gas.h"

#include <optional>

namespace holdtrue::arc {

enum class Transfer { short_circuit, globular, spray, tig };
enum class Condition { stubbing, short_side, steady, long_side, too_long };

// All that decides how an arc behaves, gathered from card and shop.
struct ArcSetting {
    Process process = Process::mag_135;
    material::WireClass wire;
    double wire_diameter_m = 0;
    material::GasMixture gas; // all zero: none
    double volts_v = 0;
    double wire_feed_m_per_s = 0;
    double tip_distance_m = 0;
    double current_a = 0; // from the melting rate, or as set for TIG
};

struct ArcState {
    Transfer transfer = Transfer::short_circuit;
    std::optional<double> spray_from_a; // none where the gas gives no spray
    double usual_volts_v = 0;
    double off_volts_v = 0; // volts set less usual volts
    Condition condition = Condition::steady;
    // Short-circuit only: drops per second that reach the pool, and 0 (wild) to 1 (even). Drop diameter 1.2 wire
    // diameters on the usual line, larger with longer arcs; an estimate, +-40 %. Practice: 20-200 per second.
    double shorts_per_s = 0;
    double steadiness = 0;
};
ArcState arc_state(const ArcSetting& setting);

std::optional<double> spray_current_a(double wire_diameter_m, material::Metal metal, const material::GasMixture& gas);

// IEC 60974-1:2017 cl. 11.2, from memory: MIG, MAG, flux-cored 14 + 0.05 I up to 44 V; TIG 10 + 0.04 I up to 34 V.
double load_volts_v(Process process, double current_a);

text::Wording in_words(Transfer transfer);
const char* in_words(Condition condition);

} // namespace holdtrue::arc
