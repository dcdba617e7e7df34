// Welds and waits on a WeldHeat, and writes down what an outcome tells about each pass.
//
// Cooling time t8/5 and the widths are those of the section across the weld at mid-pass. An element of the mesh is
// often wider than the zone above 800 C, so that section is solved for itself (heat/weld_section.h) from the mesh's
// temperature before the arc; `section_element_m` says how finely.
#pragma once

#include "heat/weld_heat.h"

#include <memory>
#include <optional>
#include <stop_token>
#include <vector>

namespace holdtrue::heat {

struct PassFigures {
    int pass = 0;                  // index into Part::passes
    double start_s = 0, end_s = 0; // arc on, arc off
    double heat_j = 0;             // net heat the arc brought
    double interpass_k = 0;        // hottest place along the pass just before its arc strikes, ISO 13916
    double peak_k = 0;             // hottest place of the mesh while the arc burns
    double t85_s = 0;              // cooling time from 800 to 500 C; 0 if mid-pass never got above 800 C
    double width_500_m = 0;        // of the zone across mid-pass that went above 500 C, both members together
    double width_800_m = 0;
    double section_element_m = 0;
};

struct TemperatureFrame {
    double time_s = 0;
    bool arc_on = false;
    part::Point torch{0, 0, 0};       // while the arc burns
    std::vector<float> temperature_k; // node_count
};

class PassRecord {
public:
    // Frames are stored every `frame_interval_s` while an arc burns, ever more sparsely while the part cools, and at
    // the end of every call; without an interval there are none. `heat` must outlive the record. Without sections the
    // figures that come from the cross section at mid-pass (t85_s, widths, section_element_m) stay 0: they cost more
    // than the rest of a coarse preview.
    PassRecord(WeldHeat& heat, std::optional<double> frame_interval_s, bool sections = true);
    ~PassRecord();

    // As the functions of the same name of WeldHeat. weld() returns the new entry of passes().
    const PassFigures& weld(const Arc& arc, std::stop_token stop = {});
    void wait(double time_s, double until_below_k, std::stop_token stop = {});

    const std::vector<PassFigures>& passes() const; // in the order welded
    std::vector<TemperatureFrame> take_frames();    // those stored since the last call

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace holdtrue::heat
