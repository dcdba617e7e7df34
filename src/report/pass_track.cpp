#include "report/pass_track.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::report {

PassTrack track_of(const part::Part& part, int pass_index, bool reversed, const Projection& projection,
                   const DepthImage& surface) {
    const part::Pass& pass = part.passes[static_cast<std::size_t>(pass_index)];
    const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
    const double thick = std::max(part.panels[static_cast<std::size_t>(joint.panel_a)].thickness_m,
                                  part.panels[static_cast<std::size_t>(joint.panel_b)].thickness_m);
    std::vector<part::Point> points;
    if (pass.kind == part::PassKind::plug) {
        points.push_back(joint.path[static_cast<std::size_t>(std::lround(pass.from_m))]);
    } else {
        // A little short of both ends, so that neighbours stay apart.
        constexpr int pieces = 24;
        const double length_m = pass.to_m - pass.from_m;
        const double short_m = pass.kind == part::PassKind::run ? std::min(0.1 * length_m, 5 / projection.scale()) : 0;
        for (int k = 0; k <= pieces; ++k)
            points.push_back(part::path_point(joint, pass.from_m + short_m + k * (length_m - 2 * short_m) / pieces));
        if (reversed)
            std::ranges::reverse(points);
    }
    PassTrack track;
    std::size_t in_sight = 0;
    for (const part::Point& point : points) {
        track.places.push_back(projection.place(point));
        // A weld sits on the faces of its sheets, half a thickness off the drawn mid-surfaces at most.
        in_sight +=
            surface.visible(track.places.back(), projection.depth_m(point), 0.25 * thick + 1 / projection.scale());
    }
    track.seen = 2 * in_sight >= points.size();
    return track;
}

} // namespace holdtrue::report
