// The outcome: everything one simulation found. Immutable; tables, JSON, pictures, reports, marks and the window are
// readers of it and compute no physics.
#pragma once

#include "arc/arc.h"
#include "arc/setup_change.h"
#include "part/mesh.h"
#include "weld/plan.h"

#include <algorithm>
#include <array>
#include <memory>
#include <string>
#include <vector>

namespace holdtrue::weld {

// One temperature picture. node_count values, float is enough for drawing.
struct Frame {
    double time_s = 0;
    int move = 0; // index of the move during which it was taken
    std::vector<float> temperature_k;
    // While an arc burns: where.
    bool arc_on = false;
    part::Point torch{0, 0, 0};
};

// What happened during one move of the plan.
struct MoveOutcome {
    double start_s = 0, end_s = 0;
    // The rest only for a welded pass:
    bool welded = false;
    arc::SetupChange setup_change; // from the card of the pass welded before; none before the first pass
    double setup_change_s = 0;     // what it took, before the arc
    arc::ArcFigures arc;
    double heat_j = 0;      // net heat brought by the pass
    double interpass_k = 0; // hottest place along the pass just before its arc strikes (ISO 13916 place of measurement)
    std::array<double, 3> halves_k{}; // how unevenly the part is heated as the arc strikes (weld/halves.h)
    double peak_k = 0;                // hottest place of the mesh while it burns
    double t85_s = 0;                 // cooling time 800 to 500 C at mid-pass, from the field; 0 if never above 800 C
    double width_500_m = 0, width_800_m = 0; // of the zone across mid-pass that went above 500 C, 800 C
    std::vector<double> gauge_contribution;  // gauge_count; change of each gauge due to this move [m or rad]
};

struct GaugeOutcome {
    double nominal = 0, value = 0;  // [m] or [rad]
    double band = 0;                // the model's own error, each side; 0: not worked out
    text::Sentence band_source;     // what the band is made of, and what it was validated against
    std::vector<double> after_move; // move_count
    std::vector<double> assumed;    // readings under the assumptions that the band spans (distortion/evaluate.h)
    double peak_k = 0;              // hottest that any of its points got
};

struct EnergyBalance {
    double brought_j = 0, stored_j = 0, lost_to_air_j = 0, lost_to_clamps_j = 0;
    double error() const { // relative
        return brought_j > 0 ? (brought_j - stored_j - lost_to_air_j - lost_to_clamps_j) / brought_j : 0;
    }
};

enum class Status { finished, cancelled };

struct Outcome {
    std::string program_version;
    std::shared_ptr<const part::Part> part;
    std::shared_ptr<const arc::Shop> shop;
    Plan plan;
    std::shared_ptr<const part::Mesh> mesh;
    Status status = Status::finished;
    double total_s = 0;             // from the first move to the cold part
    double arc_s = 0;               // arc on
    std::vector<MoveOutcome> moves; // one per move of the plan
    std::vector<GaugeOutcome> gauges;
    std::vector<Frame> frames;
    std::vector<float> peak_k; // node_count
    // Displacement of every node after every move, then cold and unclamped: displacement_m[k][node].
    std::vector<std::vector<Eigen::Vector3f>> displacement_m;
    text::Sentence distortion_model; // "condensed shell"
    EnergyBalance energy;
    int heat_steps = 0;

    // Moves before which something was set anew, and the time that took in all.
    int setup_changes() const {
        return static_cast<int>(
            std::ranges::count_if(moves, [](const MoveOutcome& move) { return move.setup_change.any(); }));
    }
    double setup_change_s() const {
        double sum_s = 0;
        for (const MoveOutcome& move : moves)
            sum_s += move.setup_change_s;
        return sum_s;
    }
};

} // namespace holdtrue::weld
