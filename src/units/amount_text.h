// What a weld takes, as a shop counts it.
#pragma once

#include "units/quantity_text.h"

namespace holdtrue::units {

std::string mass_text(double kg, System system);            // "84.2 g", "0.186 lb"
std::string mass_rate_text(double kg_per_s, System system); // "1.65 kg/h", "3.64 lb/h"
std::string gas_text(double m3, System system);             // "33.3 L", "1.18 ft³"

} // namespace holdtrue::units
