// Models of the safety lessons. They teach orders of magnitude; none of them replaces a measurement, a permit or the
// rules of the place.
#include "lesson/model_groups.h"

#include <cmath>

namespace holdtrue::lesson {
namespace {

using units::litre_per_minute;

// Filter shades are steps in current: 29 CFR 1910.133(a)(5) for the minimum, ANSI Z49.1 for comfort (from memory;
// it suggests none below 60 A, where the minimum is repeated). Exposure falls with the square of the distance from a
// small source; 1 at a distance of 1 m.
std::vector<double> arc_rays(std::span<const double> in) {
    const double current_a = in[0], distance_m = in[1];
    const double minimum = current_a < 60 ? 7 : 10;
    const double comfort = current_a < 60 ? 7 : current_a <= 160 ? 11 : current_a <= 250 ? 12 : 14;
    return {1 / (distance_m * distance_m), minimum, comfort};
}

// T = 8 h / 2^((L - 90)/5): 29 CFR 1910.95 table G-16a. NIOSH 98-126 (from memory) uses 85 dB(A) and 3 dB.
std::vector<double> noise_time(std::span<const double> in) {
    return {8 * 3600 / std::exp2((in[0] - 90) / 5), 8 * 3600 / std::exp2((in[0] - 85) / 3)};
}

// A gas that leaks into a closed, well-stirred space pushes out the mixture: dc/dt = -c q/V, c(0) = 20.9 %.
// 19.5 % is the lower limit of 29 CFR 1910.146(b). Real spaces are not stirred: argon and CO2 lie at the bottom.
std::vector<double> leak_oxygen(std::span<const double> in) {
    const double volume_m3 = in[0], leak_m3_per_s = in[1], time_s = in[2];
    constexpr double fresh = 0.209, limit = 0.195;
    return {fresh * std::exp(-leak_m3_per_s * time_s / volume_m3), volume_m3 / leak_m3_per_s * std::log(fresh / limit)};
}

// Steady, well-stirred room: concentration = source / air flow.
std::vector<double> fume_dilution(std::span<const double> in) {
    const double fume_kg_per_s = in[0], air_m3_per_s = in[1], limit_kg_per_m3 = in[2];
    return {fume_kg_per_s / air_m3_per_s, fume_kg_per_s / limit_kg_per_m3};
}

// The farthest a thrown particle can land below its start, whatever its angle, without air drag and without a bounce:
// R = v/g sqrt(v^2 + 2 g h) (projectile motion).
std::vector<double> spark_reach(std::span<const double> in) {
    const double height_m = in[0], speed_m_per_s = in[1];
    constexpr double g = 9.80665;
    const double reach_m = speed_m_per_s / g * std::sqrt(speed_m_per_s * speed_m_per_s + 2 * g * height_m);
    constexpr double rule_m = 35 * 12 * units::inch; // 29 CFR 1910.252(a)(2): 35 feet
    return {reach_m, rule_m, reach_m / rule_m};
}

// Ohm's law through a body.
std::vector<double> body_current(std::span<const double> in) { return {in[0] / in[1]}; }

// Ideal gas: content at 1 bar = V p, and gauge pressure follows absolute temperature. Real argon at 200 bar and 15 C
// holds some 6 % more (from memory), CO2 cylinders hold liquid and do not follow this at all.
std::vector<double> cylinder(std::span<const double> in) {
    const double volume_m3 = in[0], pressure_pa = in[1], flow_m3_per_s = in[2], temperature_k = in[3];
    constexpr double air_pa = 1.01325e5;
    const double content_m3 = volume_m3 * pressure_pa / air_pa;
    const double warm_pa = (pressure_pa + air_pa) * temperature_k / units::celsius(15) - air_pa;
    return {content_m3 / flow_m3_per_s, content_m3, warm_pa};
}

// Zinc burnt off beside a seam if none is ground away: both faces, all of it as oxide. An upper bound.
std::vector<double> zinc(std::span<const double> in) {
    const double coating_m = in[0], width_m = in[1], limit_kg_per_m3 = in[2];
    constexpr double zinc_kg_per_m3 = 7140, oxide_per_zinc = 81.38 / 65.38; // molar masses
    const double zinc_kg_per_m = 2 * coating_m * width_m * zinc_kg_per_m3;
    return {zinc_kg_per_m, zinc_kg_per_m * oxide_per_zinc / limit_kg_per_m3};
}

} // namespace

std::vector<Model> safety_models() {
    using units::celsius;
    return {
        {"arc_rays",
         "rays against distance, shade against current",
         "inverse square law; 29 CFR 1910.133(a)(5); ANSI Z49.1 (from memory)",
         {{"current", "current", &units::current, 20, 500, 120},
          {"distance", "distance from the arc", &distance, 0.3, 20, 0.5}},
         {{"exposure", "rays, as many times those at 1 m", &plain},
          {"minimum_shade", "lowest shade allowed", &plain},
          {"comfort_shade", "shade suggested to start from", &plain}},
         arc_rays},
        {"noise_time",
         "time allowed in noise",
         "29 CFR 1910.95; NIOSH 98-126 (from memory)",
         {{"level", "sound level", &sound_level, 80, 115, 95}},
         {{"allowed", "time allowed a day", &duration, 1}, {"advised", "time that NIOSH advises", &duration, 1}},
         noise_time},
        {"leak_oxygen",
         "oxygen left while shielding gas leaks into a closed space",
         "well-stirred space; 29 CFR 1910.146 for the limit",
         {{"volume", "volume of the space", &volume, 0.2, 200, 2},
          {"leak", "gas leaking", &units::flow, 0.5 * litre_per_minute, 40 * litre_per_minute, 10 * litre_per_minute},
          {"time", "time", &duration, 0, 4 * 3600, 600}},
         {{"oxygen", "oxygen left", &percentage}, {"time_to_limit", "time until 19.5 %", &duration}},
         leak_oxygen},
        {"fume_dilution",
         "fume in a stirred room",
         "steady balance of source and air flow",
         {{"fume", "fume made", &fume_rate, 0.1e-6, 30e-6, 5e-6},
          {"air", "fresh air", &airflow, 50.0 / 3600, 20000.0 / 3600, 2000.0 / 3600},
          {"limit", "limit", &concentration, 0.01e-6, 10e-6, 1e-6}},
         {{"fume_in_air", "fume in the air", &concentration},
          {"air_needed", "fresh air to stay at the limit", &airflow}},
         fume_dilution},
        {"spark_reach",
         "how far a spark can land",
         "projectile motion without drag; 29 CFR 1910.252(a)(2) for the 35 feet",
         {{"height", "height of the work", &distance, 0, 30, 3},
          {"speed", "speed of the spark", &units::speed, 1, 15, 6}},
         {{"reach", "farthest landing", &distance},
          {"rule", "clear distance of the rule", &distance},
          {"ratio", "landing against the rule", &plain}},
         spark_reach},
        {"body_current",
         "current through a body",
         "Ohm's law",
         {{"volts", "voltage", &units::voltage, 10, 120, 70},
          {"resistance", "resistance of skin, body and clothing", &resistance, 500, 100000, 1000}},
         {{"current", "current through the body", &small_current}},
         body_current},
        {"cylinder",
         "what a cylinder holds and how long it lasts",
         "ideal gas law",
         {{"volume", "water volume of the cylinder", &volume, 2e-3, 80e-3, 50e-3, 1},
          {"pressure", "gauge pressure at 15 °C", &pressure, 5e5, 300e5, 200e5},
          {"flow", "gas flow", &units::flow, 4 * litre_per_minute, 30 * litre_per_minute, 14 * litre_per_minute},
          {"temperature", "temperature of the cylinder", &units::temperature, celsius(-20), celsius(80), celsius(15)}},
         {{"lasts", "arc time it lasts", &duration, 1},
          {"content", "gas inside, let down to the open air", &volume},
          {"warm_pressure", "gauge pressure when it is as warm as that", &pressure}},
         cylinder},
        {"zinc",
         "zinc burnt off beside a seam",
         "mass balance; an upper bound",
         {{"coating", "zinc on each face", &coating, 2e-6, 200e-6, 20e-6},
          {"width", "width burnt off", &units::length, 0, 60e-3, 15e-3},
          {"limit", "limit for zinc oxide", &concentration, 1e-6, 10e-6, 5e-6}},
         {{"zinc", "zinc burnt off", &line_mass}, {"air", "air to thin it to the limit", &air_per_length}},
         zinc},
    };
}

} // namespace holdtrue::lesson
