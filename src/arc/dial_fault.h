// A dial that is broken, as an author writes it in marks of the dial (in a shop file, or as a variant of an exercise):
//   stuck = 6        it does not move from this mark
//   works = [3, 7]   it works between these marks only
//   dead = [5, 6]    it does not work between these marks; at both of them it does
#pragma once

#include "arc/shop.h"
#include "text/toml_reader.h"

namespace holdtrue::arc {

struct DialFault {
    std::vector<DeadRange> dead; // [V] or [m/s]; empty: sound
};

// Reads the three keys of a table, at most one of which may be there; `dial` says what its marks give.
DialFault read_dial_fault(text::Table& table, const std::optional<Dial>& dial);

// Takes what is broken from the source: from its ranges where that is an end of the dial, otherwise as a dead range.
void break_volts_dial(PowerSource& source, const DialFault& fault);
void break_feed_dial(PowerSource& source, const DialFault& fault);

// The value nearest to the one wanted that the source can be set to.
double settable_volts_v(const PowerSource& source, double wanted_v);
double settable_feed_m_per_s(const PowerSource& source, double wanted_m_per_s);

} // namespace holdtrue::arc
