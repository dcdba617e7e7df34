// Models of the settings lessons; all but simple arithmetic is asked of arc/.
#include "arc/arc_condition.h"
#include "arc/bead.h"
#include "arc/melting_rate.h"
#include "arc/power_source.h"
#include "lesson/model_groups.h"
#include "material/filler_wire.h"
#include "material/shielding_gas.h"

#include <algorithm>
#include <numbers>

namespace holdtrue::lesson {
namespace {

using std::numbers::pi;
using units::litre_per_minute, units::mm, units::minute;

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

// Solid steel wire short-circuiting in 75 % argon, 25 % CO2: the case the lessons speak of.
double deposit_m3_per_s(double diameter_m, double feed_m_per_s) {
    arc::ArcSetting setting;
    setting.wire = material::wire_class("ER70S-6");
    setting.wire_diameter_m = diameter_m;
    setting.gas = {.argon = 0.75, .co2 = 0.25};
    setting.wire_feed_m_per_s = feed_m_per_s;
    return arc::deposit_m3_per_s(setting, arc::Transfer::short_circuit);
}

// Metal laid per length of travel, and the fillet it makes.
std::vector<double> bead(std::span<const double> in) {
    const double deposit = deposit_m3_per_s(in[0], in[1]);
    const double area_m2 = deposit / in[2];
    const arc::BeadShape shape = arc::bead_shape(part::JointType::fillet, area_m2, 0.01, 0, 0);
    return {shape.leg_m, shape.throat_m, area_m2, deposit * material::density_kg_per_m3(material::Metal::mild_steel)};
}

std::vector<double> wire_current(std::span<const double> in) {
    const arc::MeltingRate rate = arc::melting_rate(in[0], material::WireForm::solid, material::Metal::mild_steel);
    return {rate.current_a(in[1], arc::electrode_extension_m(in[2]))};
}

// A wire fills a plug hole through a sheet.
std::vector<double> plug_fill(std::span<const double> in) {
    const double volume_m3 = pi / 4 * in[0] * in[0] * in[1];
    return {volume_m3 / deposit_m3_per_s(in[2], in[3])};
}

std::string gas_group(std::span<const double> in) {
    const double rest = std::max(0.0, 1 - in[0] - in[1] - in[2]);
    return material::iso_14175_group({.argon = in[0], .helium = rest, .co2 = in[1], .oxygen = in[2]});
}
std::string gas_group_co2(std::span<const double> in) {
    return material::iso_14175_group({.argon = 1 - in[0], .co2 = in[0]});
}

std::vector<double> flow_units(std::span<const double> in) { return {in[0]}; }

std::vector<double> duty_cycle(std::span<const double> in) {
    arc::PowerSource source;
    source.rated_current_a = in[0];
    source.rated_duty = in[1];
    return {arc::duty_at(source, in[2]).value(), arc::continuous_current_a(source).value()};
}

// A wire feed dial that was measured at two marks.
std::vector<double> dial(std::span<const double> in) {
    return {arc::value_at_mark({"feed", {{in[1], in[2]}, {in[3], in[4]}}}, in[0])};
}

// One ampere for each thousandth of an inch (common practice, no source).
std::vector<double> thickness_current(std::span<const double> in) { return {in[0] / (0.001 * units::inch)}; }

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
        {"wire_current",
         "current that a wire feed draws",
         "Lesnewich 1958 (from memory), fitted to practice for thin wire",
         {diameter, feed, {"tip_distance", "tip distance", &units::length, 8 * mm, 25 * mm, 12 * mm}},
         {{"current", "current", &units::current}},
         wire_current},
        {"bead",
         "bead left by a run",
         "metal balance; share of the wire that stays: AWS Welding Handbook (from memory)",
         {diameter, feed, travel},
         {{"leg", "leg of the fillet", &units::length},
          {"throat", "throat of the fillet", &units::length},
          {"area", "metal across the bead", &units::area},
          {"rate", "metal laid in an hour of arc", &deposit_rate}},
         bead},
        {"plug_fill",
         "time to fill a plug hole",
         "metal balance; share of the wire that stays: AWS Welding Handbook (from memory)",
         {{"hole", "hole", &units::length, 5 * mm, 30 * mm, 12 * mm},
          {"thickness", "sheet with the hole", &units::length, 1 * mm, 12 * mm, 3 * mm},
          diameter,
          feed},
         {{"time", "arc time in the hole", &units::time}},
         plug_fill},
        {"gas_group",
         "group of a shielding gas",
         "ISO 14175:2008 (from memory)",
         {{"argon", "argon", &percentage, 0, 1, 0.75},
          {"co2", "CO2", &percentage, 0, 1, 0.25},
          {"oxygen", "oxygen", &percentage, 0, 0.15, 0}},
         {},
         nullptr,
         gas_group},
        {"gas_group_co2",
         "group of argon with CO2",
         "ISO 14175:2008 (from memory)",
         {{"co2", "CO2", &percentage, 0.01, 0.5, 0.25}},
         {},
         nullptr,
         gas_group_co2},
        {"flow_units",
         "gas flow in other units",
         "definition of the cubic foot",
         {{"flow", "gas flow", &units::flow, 3 * litre_per_minute, 40 * litre_per_minute, 14 * litre_per_minute}},
         {{"flow", "gas flow", &units::flow, 1}},
         flow_units},
        {"thickness_current",
         "an ampere for each thousandth of an inch",
         "common practice, no source",
         {{"thickness", "thickness", &units::length, 0.6 * mm, 6 * mm, 2 * mm}},
         {{"current", "current", &units::current}},
         thickness_current},
        {"duty_cycle",
         "duty cycle",
         "IEC 60974-1 (from memory)",
         {{"rated_current", "rated current", &units::current, 60, 600, 170},
          {"rated_duty", "rated share of ten minutes", &percentage, 0.1, 1, 0.35},
          current},
         {{"duty", "share of ten minutes", &percentage}, {"continuous", "current without a pause", &units::current}},
         duty_cycle},
        {"dial",
         "what a dial gives between two measured marks",
         "straight line between measurements",
         {{"mark", "mark on the dial", &plain, 4, 6, 5},
          {"low_mark", "lower mark measured", &plain, 0, 4, 4},
          {"low_feed", "feed there", &units::wire_feed, 1 / minute, 20 / minute, 4.2 / minute},
          {"high_mark", "upper mark measured", &plain, 6, 20, 6},
          {"high_feed", "feed there", &units::wire_feed, 1 / minute, 20 / minute, 7 / minute}},
         {{"value", "feed", &units::wire_feed}},
         dial},
    };
}

} // namespace holdtrue::lesson
