// What a power source can do: duty cycle, and its dials.
// Duty cycle, IEC 60974-1 (10 min period, 40 C; the thermal rule, from memory): X2 = X1 (I1/I2)^2, at most 1.
// A dial is only known where the user measured it (6-second feed check, volts under load): between measured marks it
// is interpolated linearly, beyond them refused, because dials are seldom linear and often end in a stop.
#pragma once

#include "arc/shop.h"

#include <optional>

namespace holdtrue::arc {

// Share of a 10 min period, 0 to 1; nullopt when the rating is not known.
std::optional<double> duty_at(const PowerSource& source, double current_a);
// Highest current for welding without a pause: I1 sqrt(X1); nullopt when the rating is not known.
std::optional<double> continuous_current_a(const PowerSource& source);

// Throw InputError outside the measured points; `value_words` names the quantity ("volts").
double value_at_mark(const Dial& dial, double mark);
double mark_at_value(const Dial& dial, double value);
// nullopt instead of a refusal.
std::optional<double> mark_if_measured(const Dial& dial, double value);

} // namespace holdtrue::arc
