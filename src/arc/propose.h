// Finds settings for a joint: a window of volts, wire feed and travel (TIG: volts, current and travel) in which every
// rule of the book is met, and what bounds it.
//
// The middle is searched on a grid (about 1500 settings): fewest failed rules, then fewest cautions, then nearest to
// the usual current of the thickness and the leg wanted. Around it a box grows a step at a time on each of its six
// sides for as long as all of its corners add nothing to the findings of the middle. So any low, middle and high may
// be combined. Cautions that no setting avoids (galvanised steel) are told with the window.
// Where no setting meets every rule, the rules in conflict are named, and changes are tried that would make a window.
#pragma once

#include "arc/rule_book.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::arc {

// What a welder left open is proposed; what was set is kept.
struct OpenFields {
    bool volts = true, drive = true, travel = true; // drive: wire feed, or current for TIG
};

struct Side {
    double value = 0;
    std::string rule;   // that would be broken beyond it; empty: the window ends here by choice
    std::string reason; // in words
};
struct Span {
    Side low, high;
    double middle = 0;
    bool open = true; // false: set by the welder
};
struct Window {
    SettingCard card; // with the middle values
    Span volts, drive, travel;
    SetupFigures figures;          // at the middle
    std::vector<Finding> findings; // at the middle; none fails
};

struct WayOut {
    std::string words; // "1.2 mm wire and 82 % Ar, 18 % CO2"
    Window window;     // what it would give
};
struct Proposal {
    std::optional<Window> window;
    // Without one:
    std::vector<Finding> conflicts; // what fails at the best setting, and what curing each would break
    std::vector<WayOut> ways_out;   // tried, and found to give a window
};

// `card` carries wire, gas, tip distance, aim and what is not open. Rounded values of the window stay inside it:
// 0.1 V; 0.1 m/min or 1 in/min; 5 mm/min or 0.1 in/min; 1 A. `try_ways_out` false skips that search.
Proposal propose(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                 const OpenFields& open = {}, units::System system = units::System::metric, bool try_ways_out = true);
// The window alone, in much less time where there is none.
std::optional<Window> window_of(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                                const OpenFields& open = {}, units::System system = units::System::metric);

// The same where wire, gas or tip distance are left open too: takes those of the shop (wires of the card's process)
// that leave the fewest findings, then those nearest to what is usual for the thickness.
struct OpenConsumables {
    bool wire = false, gas = false, tip_distance = false;
};
SettingCard choose_consumables(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                               const OpenFields& open, const OpenConsumables& choose);

// Where to aim when nobody says: at the corner, or two thirds on a member at least 1.5 times as thick as the other.
double usual_aim(const Section& section);
// Contact tip to work that suits the process and wire: 12 mm short-circuit, 18 mm spray, 20 mm flux-cored.
double usual_tip_distance_m(Process process, double thickness_m, const material::GasMixture& gas);

} // namespace holdtrue::arc
