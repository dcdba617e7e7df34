// Writes a quantity for a person: number, space, unit. The number of decimals is what a shop works to.
#pragma once

#include "units/units.h"

#include <string>

namespace holdtrue::units {

enum class System { metric, imperial };

// Decimals follow what a fabricator reads off a tool: 0.01 mm or 0.001 in for lengths. A size is written without the
// noughts that end it in mm, a reading with them.
std::string length_text(double si_m, System system = System::metric);        // "1.25 mm", "3 mm", "0.118 in"
std::string reading_text(double si_m, System system = System::metric);       // "1.25 mm", "3.00 mm", "0.118 in"
std::string temperature_text(double kelvin, System system = System::metric); // "180 °C"
std::string difference_text(double kelvin, System system = System::metric);  // "45 K", "81 °F"
std::string angle_text(double rad);                                          // "0.35°"
std::string travel_text(double m_per_s, System system = System::metric);     // "330 mm/min"
std::string wire_feed_text(double m_per_s, System system = System::metric);  // "5.2 m/min"
std::string flow_text(double m3_per_s, System system = System::metric);      // "14 L/min"
std::string heat_input_text(double j_per_m, System system = System::metric); // "0.24 kJ/mm"
std::string duration_text(double s);                                         // "45 s", "12 min 05 s", "1 h 03 min"
std::string clock_text(double s);                                            // "0:45", "12:05", "1:03:20"
// Any quantity, with three significant digits: for rules and remarks that do not know what they compare.
std::string quantity_text(double si, const Dimension& dimension, System system = System::metric);
// The unit that it uses: mm/min for travel, else the dimension's first; imperial its last (time has only s).
const Unit& workshop_unit(const Dimension& dimension, System system);
// Three significant digits, never an exponent: "18.5", "0.118", "1460"; "not known" for what is no number.
std::string significant_text(double value);
// A plain number with a fixed count of decimals; never "-0.00".
std::string number_text(double value, int decimals);
std::string signed_text(double value, int decimals); // with its sign, "+" too

} // namespace holdtrue::units
