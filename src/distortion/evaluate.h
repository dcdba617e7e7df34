// How a part moves while it is welded: from what each step of a job did to the metal, to where its nodes and gauges
// end up. weld::simulate() hands over one Step per move; the models behind evaluate() know nothing of plans.
#pragma once

#include "part/mesh.h"

#include <span>
#include <stop_token>
#include <string>
#include <vector>

namespace holdtrue::distortion {

// What one move of the job did. Temperatures [K] must outlive the call.
// Before the first step the part is at ambient temperature.
struct Step {
    enum class Kind { weld, wait, turn, fix_clamp, free_clamp };
    Kind kind = Kind::wait;
    int pass = -1;  // weld: index into Part::passes
    int clamp = -1; // fix_clamp, free_clamp
    bool reversed = false;
    double heat_input_j_per_m = 0; // weld: net, along the run (a plug: see heat_j)
    double heat_j = 0;             // weld: net, in all
    double arc_s = 0;              // weld: time the arc burned
    double travel_m_per_s = 0;
    double along_factor = 1, across_factor = 1; // on the pull; on shrinkage across and angle: for jobs that scatter
    double throat_m = 0;                        // weld: of the bead laid
    double deposit_area_m2 = 0;
    double interpass_k = 0;                   // weld: along the pass, just before the arc strikes
    double end_s = 0;                         // clock at the end of the step
    std::span<const float> temperature_end_k; // node_count, at the end of the step
};

struct GaugeBand {
    double band = 0;       // the model's own error each side, in the gauge's unit
    text::Sentence source; // what the band is made of, and what it was validated against
    // Readings of the finished part under each of the assumptions that the band spans: what two jobs differ by can be
    // told more surely than where either ends, because both would be off together.
    std::vector<double> assumed;
};

struct Result {
    text::Sentence model;
    // [step][node]; one more after the last step: cold and with every clamp freed.
    std::vector<std::vector<Eigen::Vector3f>> displacement_m;
    std::vector<std::vector<double>> gauge_after; // [step (one more as above)][gauge], readings, not changes
    std::vector<GaugeBand> bands;                 // gauge_count
};

struct Wanted {
    bool fields = true; // displacement_m
    bool bands = true;  // costs three more jobs
};

class CondensedPart;

// `ready`: the same part and mesh condensed before (distortion/condensed_part.h), which saves some seconds.
// What is not wanted is left empty.
Result evaluate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps,
                std::stop_token stop = {}, const CondensedPart* ready = nullptr, const Wanted& wanted = {});

} // namespace holdtrue::distortion
