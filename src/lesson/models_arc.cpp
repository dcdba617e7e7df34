// Models of the settings lessons; all but simple arithmetic is asked of arc/.
#include "lesson/model_groups.h"

#include <cmath>
#include <numbers>

namespace holdtrue::lesson {
namespace {

using std::numbers::pi;
using units::litre_per_minute, units::mm, units::minute;

constexpr double wire_area_m2(double diameter_m) { return pi / 4 * diameter_m * diameter_m; }

// What the welder does at the machine: wire run out in a counted time.
std::vector<double> feed_check(std::span<const double> in) { return {in[0] / in[1]}; }

std::vector<double> heat_input_of(std::span<const double> in) {
    const double arc_w = in[0] * in[1];
    constexpr double k = 0.8; // EN 1011-1: 131, 135, 136, 114
    return {k * arc_w / in[2], arc_w / in[2], k * arc_w};
}

// Gas leaves the nozzle as a column; a cross-draught comparable with its speed carries it away. The Reynolds number
// with the viscosity of argon at 20 C (1.3e-5 m^2/s, from memory) says when it turns turbulent: about 2300 in a pipe
// (O. Reynolds 1883).
std::vector<double> nozzle(std::span<const double> in) {
    const double flow_m3_per_s = in[0], bore_m = in[1], draught_m_per_s = in[2];
    const double speed_m_per_s = flow_m3_per_s / (pi / 4 * bore_m * bore_m);
    constexpr double argon_m2_per_s = 1.3e-5;
    return {speed_m_per_s, draught_m_per_s / speed_m_per_s, speed_m_per_s * bore_m / argon_m2_per_s};
}

// Deposit of a run: metal fed per length of travel, less spatter; an equal-legged flat fillet of that area.
std::vector<double> bead(std::span<const double> in) {
    const double diameter_m = in[0], feed_m_per_s = in[1], travel_m_per_s = in[2];
    constexpr double efficiency = 0.95, steel_kg_per_m3 = 7850;
    const double deposit_m3_per_s = wire_area_m2(diameter_m) * feed_m_per_s * efficiency;
    const double area_m2 = deposit_m3_per_s / travel_m_per_s;
    return {std::sqrt(2 * area_m2), std::sqrt(area_m2), area_m2, deposit_m3_per_s * steel_kg_per_m3};
}

} // namespace

std::vector<Model> arc_models() {
    const Input volts{"volts", "arc voltage", &units::voltage, 12, 35, 18};
    const Input current{"current", "current", &units::current, 30, 350, 120};
    const Input travel{"travel", "travel speed", &units::travel, 1.5 * mm, 15 * mm, 5 * mm, 1};
    const Input diameter{"diameter", "wire diameter", &units::length, 0.6 * mm, 1.6 * mm, 0.8 * mm};
    const Input feed{"feed", "wire feed speed", &units::wire_feed, 1 / minute, 16 / minute, 6 / minute};
    return {
        {"feed_check",
         "wire run out in a counted time",
         "arithmetic",
         {{"length", "wire run out", &units::length, 50 * mm, 5000 * mm, 640 * mm},
          {"time", "time counted", &units::time, 1, 60, 6}},
         {{"feed", "wire feed speed", &units::wire_feed}},
         feed_check},
        {"heat_input",
         "heat input of a run",
         "EN 1011-1, k = 0.8 for process 135; the AWS form leaves k out",
         {volts, current, travel},
         {{"heat", "heat input with k = 0.8", &heat_input},
          {"arc_energy", "arc energy, k = 1", &heat_input},
          {"power", "power into the metal", &power}},
         heat_input_of},
        {"nozzle",
         "shielding gas leaving the nozzle",
         "flow through a round opening; Reynolds 1883",
         {{"flow", "gas flow", &units::flow, 3 * litre_per_minute, 40 * litre_per_minute, 14 * litre_per_minute},
          {"bore", "bore of the nozzle", &units::length, 8 * mm, 24 * mm, 13 * mm},
          {"draught", "draught across it", &units::speed, 0, 6, 0.5}},
         {{"gas_speed", "speed of the gas", &units::speed},
          {"ratio", "draught against gas speed", &plain},
          {"reynolds", "Reynolds number", &plain}},
         nozzle},
        {"bead",
         "bead left by a run",
         "metal balance, 95 % of the wire stays (AWS Welding Handbook, from memory)",
         {diameter, feed, travel},
         {{"leg", "leg of a flat fillet", &units::length},
          {"throat", "throat of a flat fillet", &units::length},
          {"area", "metal across the bead", &units::area},
          {"rate", "metal laid in an hour of arc", &deposit_rate}},
         bead},
    };
}

} // namespace holdtrue::lesson
