// The flags of `holdtrue setup`, as written.
#pragma once

#include <string>

namespace CLI {
class App;
}

namespace holdtrue::command_line {

// Flags as words; empty: not given.
struct SetupFlags {
    std::string units = "metric", process, wire, wire_class, gas, joint = "fillet", t1, t2, size, gap;
    std::string volts, feed, travel, current, volts_dial, feed_dial;
    std::string tip, flow, polarity, motion, aim, preheat, start;
    std::string metal = "mild_steel", steel, coated = "none", bared;
    std::string length, passes, tack_length, tack_spacing, plug_spacing, plug_time, angle, root_face;
    std::string shade, draught, shop;
    bool backing = false, both_sides = false;
    bool json = false, all = false, calibration_sheet = false;
    std::string out, paper = "a4"; // of the calibration sheet as PDF
};
void add_flags(CLI::App& command, SetupFlags& flags);

} // namespace holdtrue::command_line
