#include "part/part.h"

#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::part {
namespace {

template <class Named>
int index_of(const std::vector<Named>& list, std::string_view name) {
    const auto found = std::ranges::find(list, name, &Named::name);
    return found == list.end() ? -1 : static_cast<int>(found - list.begin());
}

// Where a distance along the path falls: between path[from] and path[to], at `share` of the way.
struct PathPlace {
    std::size_t from = 0, to = 0;
    double share = 0;
};

std::size_t segment_count(const Joint& joint) {
    return joint.path.empty() ? 0 : joint.closed_path ? joint.path.size() : joint.path.size() - 1;
}

PathPlace locate(const Joint& joint, double along_m) {
    VERIFY(!joint.path.empty(), "a joint has a path");
    if (joint.type == JointType::plug) {
        const double last = static_cast<double>(joint.path.size() - 1);
        const auto plug = static_cast<std::size_t>(std::clamp(std::round(along_m), 0.0, last));
        return {plug, plug + 1 < joint.path.size() ? plug + 1 : plug, 0};
    }
    if (joint.closed_path) {
        const double length = path_length_m(joint);
        along_m = std::fmod(along_m, length);
        if (along_m < 0)
            along_m += length;
    }
    PathPlace place;
    const std::size_t segments = segment_count(joint);
    for (std::size_t k = 0; k < segments; ++k) {
        place.from = k;
        place.to = (k + 1) % joint.path.size();
        const double length = (joint.path[place.to] - joint.path[place.from]).norm();
        place.share = length > 0 ? along_m / length : 0;
        if (along_m <= length)
            break;
        along_m -= length;
    }
    place.share = std::clamp(place.share, 0.0, 1.0);
    return place;
}

} // namespace

int find_panel(const Part& part, std::string_view name) { return index_of(part.panels, name); }
int find_joint(const Part& part, std::string_view name) { return index_of(part.joints, name); }
int find_pass(const Part& part, std::string_view name) { return index_of(part.passes, name); }
int find_pose(const Part& part, std::string_view name) { return index_of(part.poses, name); }
int find_clamp(const Part& part, std::string_view name) { return index_of(part.clamps, name); }
int find_gauge(const Part& part, std::string_view name) { return index_of(part.gauges, name); }

Point path_point(const Joint& joint, double along_m) {
    const PathPlace place = locate(joint, along_m);
    return joint.path[place.from] + place.share * (joint.path[place.to] - joint.path[place.from]);
}

Point path_tangent(const Joint& joint, double along_m) {
    const PathPlace place = locate(joint, along_m);
    const Point chord = joint.path[place.to] - joint.path[place.from];
    return chord.norm() > 0 ? Point(chord.normalized()) : Point(1, 0, 0);
}

double path_length_m(const Joint& joint) {
    double length = 0;
    if (joint.type != JointType::plug)
        for (std::size_t k = 0; k < segment_count(joint); ++k)
            length += (joint.path[(k + 1) % joint.path.size()] - joint.path[k]).norm();
    return length;
}

} // namespace holdtrue::part
