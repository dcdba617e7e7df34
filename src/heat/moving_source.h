// The arc on the mesh: a Gaussian of heat about the torch on each of the two panels,
//   power of node i = P share S_i w_i / sum_j S_j w_j,   w = exp(-r^2 / (2 sigma^2))
// so that the power is exact on any mesh, cut-outs and edges included. Averaged over a step by the midpoint rule, at
// places no further than a quarter of sigma apart along the path. Cut off at 4 sigma (3e-4 of the heat, given back by
// the normalisation).
//
// Where sigma is less than 0.6 of the longest cell edge on the path, it is raised to that: the nodes then see the
// Gaussian to about 0.2 % (Poisson's sum, 2 exp(-2 pi^2 0.6^2)), and it cannot fall between them.
#pragma once

#include "heat/pass_track.h"
#include "heat/weld_heat.h"

#include <vector>

namespace holdtrue::heat {

class MovingSource {
public:
    MovingSource(const part::Mesh& mesh, const ConductionGrid& grid, const PassTrack& track, const Arc& arc);

    double duration_s() const { return duration_s_; }
    double longest_step_s() const { return longest_step_s_; } // that still resolves the passing of the arc
    part::Point torch(double since_strike_s) const;
    // Mean power of each node between two times after the arc struck; the sum is the arc's power.
    std::vector<NodePower> powers(double from_s, double to_s) const;

private:
    struct Candidate {
        int node;
        part::Point position;
        double face_m2;
    };
    struct Member {
        double power_w = 0, sigma_m = 0;
        std::vector<Candidate> candidates; // within reach of the track
    };
    double along_m(double since_strike_s) const;

    const PassTrack& track_; // must outlive the source
    Arc arc_;
    double duration_s_ = 0, longest_step_s_ = 0;
    std::array<Member, 2> members_;
};

} // namespace holdtrue::heat
