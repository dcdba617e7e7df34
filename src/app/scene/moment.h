// What an outcome shows at one time: the temperature field between two stored frames, the shape between two moves,
// and where every gauge stands. Linear between what is stored; nothing here computes physics.
#pragma once

#include "weld/outcome.h"

#include <vector>

namespace holdtrue::app::scene {

struct Moment {
    int move = 0;          // under way; move_count when all is done
    double move_share = 0; // of that move, 0 to 1
    int frame_a = 0, frame_b = 0;
    float frame_share = 0; // 0: frame_a, 1: frame_b
    bool arc_on = false;
    part::Point torch = part::Point::Zero();
};

// Times outside the job are taken to its start or end. An outcome without frames gives frame_a = -1.
Moment moment_at(const weld::Outcome& outcome, double time_s);

// node_count values each.
std::vector<float> temperature_k(const weld::Outcome& outcome, const Moment& moment);
std::vector<Eigen::Vector3f> displacement_m(const weld::Outcome& outcome, const Moment& moment);

// Reading of a gauge at that moment, [m or rad].
double gauge_value(const weld::Outcome& outcome, int gauge, const Moment& moment);

// A per-node value at a place of the mesh.
double value_at(const part::Attachment& place, const std::vector<float>& per_node);

// Temperature over time of one place, from the stored frames: {time_s, kelvin}.
struct HistoryPoint {
    double time_s, kelvin;
};
std::vector<HistoryPoint> history(const weld::Outcome& outcome, const part::Attachment& place);

// An exaggeration of 1, 2, 5, 10, ... with which the largest displacement shows as about 1/25 of the part's size.
double suggested_exaggeration(const weld::Outcome& outcome);

} // namespace holdtrue::app::scene
