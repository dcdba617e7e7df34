#include "app/scene/moment.h"

#include "app/scene/surface.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app::scene {

namespace {
using Index = std::size_t;
}

Moment moment_at(const weld::Outcome& outcome, double time_s) {
    Moment moment;
    const auto& moves = outcome.moves;
    const auto next = std::ranges::upper_bound(moves, time_s, {}, &weld::MoveOutcome::start_s);
    moment.move = next == moves.begin() ? 0 : static_cast<int>(next - moves.begin()) - 1;
    if (!moves.empty()) {
        const weld::MoveOutcome& move = moves[Index(moment.move)];
        const double length_s = move.end_s - move.start_s;
        moment.move_share = length_s > 0 ? std::clamp((time_s - move.start_s) / length_s, 0.0, 1.0)
                                         : (time_s >= move.end_s ? 1.0 : 0.0);
        // After the last move the part cools and is freed: one more, unnamed step.
        if (moment.move + 1 == static_cast<int>(moves.size()) && time_s > move.end_s) {
            ++moment.move;
            const double rest_s = outcome.total_s - move.end_s;
            moment.move_share = rest_s > 0 ? std::clamp((time_s - move.end_s) / rest_s, 0.0, 1.0) : 1.0;
        }
    }

    const auto& frames = outcome.frames;
    if (frames.empty()) {
        moment.frame_a = moment.frame_b = -1;
        return moment;
    }
    const auto after = std::ranges::upper_bound(frames, time_s, {}, &weld::Frame::time_s);
    moment.frame_b = std::min(static_cast<int>(after - frames.begin()), static_cast<int>(frames.size()) - 1);
    moment.frame_a = after == frames.begin() ? 0 : static_cast<int>(after - frames.begin()) - 1;
    const weld::Frame &a = frames[Index(moment.frame_a)], &b = frames[Index(moment.frame_b)];
    if (b.time_s > a.time_s)
        moment.frame_share = static_cast<float>(std::clamp((time_s - a.time_s) / (b.time_s - a.time_s), 0.0, 1.0));
    moment.arc_on = a.arc_on;
    if (a.arc_on)
        moment.torch = b.arc_on && a.move == b.move
                           ? part::Point(a.torch + double(moment.frame_share) * (b.torch - a.torch))
                           : a.torch;
    return moment;
}

std::vector<float> temperature_k(const weld::Outcome& outcome, const Moment& moment) {
    if (moment.frame_a < 0)
        return std::vector<float>(outcome.mesh->position_m.size(), static_cast<float>(outcome.part->ambient_k));
    std::vector<float> field = outcome.frames[Index(moment.frame_a)].temperature_k;
    const std::vector<float>& other = outcome.frames[Index(moment.frame_b)].temperature_k;
    if (moment.frame_share > 0)
        for (Index k = 0; k < field.size(); ++k)
            field[k] += moment.frame_share * (other[k] - field[k]);
    return field;
}

std::vector<Eigen::Vector3f> displacement_m(const weld::Outcome& outcome, const Moment& moment) {
    std::vector<Eigen::Vector3f> shape(outcome.mesh->position_m.size(), Eigen::Vector3f::Zero());
    const auto& stored = outcome.displacement_m;
    if (stored.empty())
        return shape;
    const int last = static_cast<int>(stored.size()) - 1;
    const int after = std::min(moment.move, last), before = after - 1;
    const float share = moment.move > last ? 1.0f : static_cast<float>(moment.move_share);
    for (Index k = 0; k < shape.size(); ++k) {
        const Eigen::Vector3f start = before >= 0 ? stored[Index(before)][k] : Eigen::Vector3f::Zero();
        shape[k] = start + share * (stored[Index(after)][k] - start);
    }
    return shape;
}

double gauge_value(const weld::Outcome& outcome, int gauge, const Moment& moment) {
    const weld::GaugeOutcome& found = outcome.gauges[Index(gauge)];
    const int count = static_cast<int>(found.after_move.size());
    const auto after = [&](int move) {
        return move < 0 ? found.nominal : move < count ? found.after_move[Index(move)] : found.value;
    };
    const double start = after(moment.move - 1);
    return start + moment.move_share * (after(moment.move) - start);
}

double value_at(const part::Attachment& place, const std::vector<float>& per_node) {
    double value = 0;
    for (Index k = 0; k < 4; ++k)
        value += place.weight[k] * double(per_node[Index(place.node[k])]);
    return value;
}

std::vector<HistoryPoint> history(const weld::Outcome& outcome, const part::Attachment& place) {
    std::vector<HistoryPoint> points;
    points.reserve(outcome.frames.size());
    for (const weld::Frame& frame : outcome.frames)
        points.push_back({frame.time_s, value_at(place, frame.temperature_k)});
    return points;
}

double suggested_exaggeration(const weld::Outcome& outcome) {
    float largest_m = 0;
    if (!outcome.displacement_m.empty())
        for (const Eigen::Vector3f& move : outcome.displacement_m.back())
            largest_m = std::max(largest_m, move.norm());
    const Box box = bounds(*outcome.mesh);
    if (largest_m <= 0 || box.empty())
        return 1;
    const double wanted = (box.high - box.low).norm() / 25 / double(largest_m);
    double nice = 1;
    for (const double step : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0})
        if (step <= wanted)
            nice = step;
    return nice;
}

} // namespace holdtrue::app::scene
