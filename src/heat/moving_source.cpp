#include "heat/moving_source.h"

#include "text/verify.h"
#include "units/portable_math.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::heat {
namespace {

constexpr double reach_in_sigma = 4;
constexpr double sigma_per_cell = 0.6;
constexpr double sub_step_in_sigma = 0.25;
constexpr double step_in_sigma = 0.5;        // of travel; a quarter of it moves peaks by less than 1 % (test)
constexpr double steel_diffusivity = 1.5e-5; // [m^2/s], cold; only sets the step of a resting arc

} // namespace

MovingSource::MovingSource(const part::Mesh& mesh, const ConductionGrid& grid, const PassTrack& track, const Arc& arc)
    : track_(track), arc_(arc) {
    VERIFY(arc.net_power_w >= 0 && arc.sigma_m > 0 && arc.share_a >= 0 && arc.share_a <= 1, "arc out of range");
    const bool resting = track.length_m == 0;
    duration_s_ = resting ? arc.plug_s : track.length_m / arc.travel_m_per_s;
    VERIFY(std::isfinite(duration_s_) && duration_s_ > 0, "an arc burns for a time");

    double narrowest_m = std::numeric_limits<double>::infinity();
    for (std::size_t m = 0; m < 2; ++m) {
        Member& member = members_[m];
        member.power_w = arc.net_power_w * (m == 0 ? arc.share_a : 1 - arc.share_a);
        member.sigma_m = arc.sigma_m;
        for (const TrackPoint& point : track.points)
            member.sigma_m = std::max(member.sigma_m, sigma_per_cell * cell_size_m(mesh, point.on[m].cell));
        narrowest_m = std::min(narrowest_m, member.sigma_m);

        const double reach_m = reach_in_sigma * member.sigma_m;
        const part::PanelGrid& panel = mesh.panels[track.panel[m]];
        for (int node = panel.first_node; node < panel.first_node + panel.nu * panel.nv; ++node) {
            if (!mesh.node_alive[node])
                continue;
            const auto within = [&](const TrackPoint& point) {
                return (point.on[m].position - mesh.position_m[node]).squaredNorm() <= reach_m * reach_m;
            };
            if (std::ranges::any_of(track.points, within))
                member.candidates.push_back({node, mesh.position_m[node], grid.face_m2[grid.slot_of_node[node]]});
        }
        VERIFY(!member.candidates.empty(), "the arc reaches each of its panels");
    }
    longest_step_s_ = resting ? narrowest_m * narrowest_m / (4 * steel_diffusivity)
                              : step_in_sigma * narrowest_m / arc.travel_m_per_s;
}

double MovingSource::along_m(double since_strike_s) const {
    const double gone_m = std::clamp(since_strike_s * arc_.travel_m_per_s, 0.0, track_.length_m);
    return arc_.reversed ? track_.length_m - gone_m : gone_m;
}

part::Point MovingSource::torch(double since_strike_s) const { return track_.torch(along_m(since_strike_s)); }

std::vector<NodePower> MovingSource::powers(double from_s, double to_s) const {
    std::vector<NodePower> result;
    for (std::size_t m = 0; m < 2; ++m) {
        const Member& member = members_[m];
        if (member.power_w == 0)
            continue;
        const double way_m = (to_s - from_s) * (track_.length_m > 0 ? arc_.travel_m_per_s : 0);
        const int places = std::max(1, static_cast<int>(std::ceil(way_m / (sub_step_in_sigma * member.sigma_m))));
        const double reach_m = reach_in_sigma * member.sigma_m;
        std::vector<double> power(member.candidates.size(), 0.0), weight(member.candidates.size());
        for (int k = 0; k < places; ++k) {
            const double along = along_m(from_s + (to_s - from_s) * (k + 0.5) / places);
            const part::Point foot = track_.foot(static_cast<int>(m), along);
            double sum = 0;
            for (std::size_t c = 0; c < member.candidates.size(); ++c) {
                const Candidate& candidate = member.candidates[c];
                const double r2 = (candidate.position - foot).squaredNorm();
                weight[c] = r2 > reach_m * reach_m
                                ? 0.0
                                : candidate.face_m2 * units::exp_minus(r2 / (2 * member.sigma_m * member.sigma_m));
                sum += weight[c];
            }
            VERIFY(sum > 0, "the arc finds a node");
            const double each_w = member.power_w / places / sum;
            for (std::size_t c = 0; c < power.size(); ++c)
                power[c] += each_w * weight[c];
        }
        for (std::size_t c = 0; c < power.size(); ++c)
            if (power[c] > 0)
                result.push_back({member.candidates[c].node, power[c]});
    }
    return result;
}

} // namespace holdtrue::heat
