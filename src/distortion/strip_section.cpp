#include "distortion/strip_section.h"

#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {
namespace {

// Strip edges on [from, to] whose spacing follows finest + growth * (distance to the nearest weld line): equal steps
// of the integral of 1 / spacing, found on a fine grid. Mirrored input gives mirrored edges, but for rounding.
std::vector<double> graded_edges(double from, double to, const std::vector<double>& weld_lines_m,
                                 const Grading& grading) {
    const int samples = 4000;
    const double step = (to - from) / samples;
    auto density = [&](double at) {
        double nearest = to - from;
        for (const double line : weld_lines_m)
            nearest = std::min(nearest, std::abs(at - line));
        return 1 / (grading.finest_m + grading.growth * nearest);
    };
    std::vector<double> count(samples + 1, 0.0);
    for (int i = 0; i < samples; ++i)
        count[i + 1] = count[i] + step * density(from + (i + 0.5) * step);

    const int strips = std::max(2, static_cast<int>(std::ceil(count.back())));
    std::vector<double> edges{from};
    for (int k = 1, i = 0; k < strips; ++k) {
        const double wanted = count.back() * k / strips;
        while (count[i + 1] < wanted)
            ++i;
        edges.push_back(from + step * (i + (wanted - count[i]) / (count[i + 1] - count[i])));
    }
    edges.push_back(to);
    return edges;
}

void append(std::vector<Strip>& strips, const std::vector<double>& edges, double thickness_m, double yield_pa,
            bool lever) {
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
        const double at = (edges[i] + edges[i + 1]) / 2;
        strips.push_back({at, edges[i + 1] - edges[i], thickness_m, lever ? at : 0.0, yield_pa});
    }
}

} // namespace

StripSection plate_section(double width_m, double thickness_m, double yield_pa, const std::vector<double>& weld_lines_m,
                           const Grading& grading) {
    VERIFY(width_m > 0 && thickness_m > 0 && yield_pa > 0, "a plate has a size and a strength");
    StripSection section;
    append(section.strips, graded_edges(0, width_m, weld_lines_m, grading), thickness_m, yield_pa, true);
    return section;
}

StripSection joint_section(const Member& a, const Member& b, bool b_across, const Grading& grading) {
    VERIFY(a.width_m > 0 && a.thickness_m > 0 && b.width_m > 0 && b.thickness_m > 0, "members have a size");
    auto thickness = [](const Member& member) { return member.thickness_m * (member.both_sides ? 2 : 1); };
    StripSection section;
    append(section.strips, graded_edges(-a.width_m, 0, {0}, grading), thickness(a), a.yield_pa, true);
    append(section.strips, graded_edges(0, b.width_m, {0}, grading), thickness(b), b.yield_pa, !b_across);
    return section;
}

} // namespace holdtrue::distortion
