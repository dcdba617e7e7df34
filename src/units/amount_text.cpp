#include "units/amount_text.h"

namespace holdtrue::units {
namespace {

constexpr double hour = 60 * minute;                             // [s]
constexpr double litre = 1e-3;                                   // [m^3]
constexpr double pound = 0.45359237;                             // [kg]
constexpr double cubic_foot = 12 * 12 * 12 * inch * inch * inch; // [m^3]

std::string either(double metric, const char* metric_unit, double imperial, const char* imperial_unit, System system) {
    return system == System::imperial ? significant_text(imperial) + " " + imperial_unit
                                      : significant_text(metric) + " " + metric_unit;
}

} // namespace

std::string mass_text(double kg, System system) { return either(kg * 1e3, "g", kg / pound, "lb", system); }

std::string mass_rate_text(double kg_per_s, System system) {
    return either(kg_per_s * hour, "kg/h", kg_per_s * hour / pound, "lb/h", system);
}

std::string gas_text(double m3, System system) { return either(m3 / litre, "L", m3 / cubic_foot, "ft³", system); }

} // namespace holdtrue::units
