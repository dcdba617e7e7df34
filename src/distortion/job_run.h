// One job on a part, step by step: groups are laid, cool and shrink; clamps hold and let go; faces meet.
//
//   birth     a group's ties begin to bear at the place where the hot part has them, free of force
//   lag       a group's shrinkage grows as its place cools, from 0 at 500 C to all of it at 80 C, never back
//   remelting a tack that is welded over loses its ties and its own shrinkage
//   contact   faces along seams that are not yet welded may touch but not cross (frictionless, at group middles)
// Left out: friction, modulus that falls with heat, creep, buckling, the fields inside a pass (between the
// temperatures at its start and end, interpolated), gravity.
#pragma once

#include "distortion/evaluate.h"
#include "distortion/heat_strain.h"
#include "distortion/response.h"
#include "distortion/shrinkage_law.h"

namespace holdtrue::distortion {

struct JobSettings {
    YieldCurve curve = YieldCurve::proof;
    double hot_k = 773.15, cold_k = 353.15; // between which shrinkage develops
    bool contact = true;
};

class JobRun {
public:
    JobRun(const PartModel& model, Response& response, const JobSettings& settings = {});

    void play(const Step& step);
    void finish(); // ambient temperature, every clamp freed

    std::vector<double> gauges();             // readings now
    Eigen::Matrix<double, 6, 1> frame();      // mean motion of the part now
    double deepest_overlap_m();               // of open faces; 0 if none cross
    bool settled() const { return settled_; } // contact found its answer every time

private:
    struct Laid {
        int group = 0;
        int shrink = 0; // action
        double grown = 0, grown_at_start = 0, grown_at_end = 0;
        double born = -1; // share of the present step; -1: before it
    };
    void weld(const Step& step);
    void lay(int group, const Step& step, double prior_stress_pa, double share);
    void remelt_tacks(int group);
    void begin_heat(const Step& step);
    void heat_to(double share);
    double temperature_at(int group, std::span<const float> temperature_k) const;
    double grown_at(double kelvin) const;
    double prior_stress_pa(int group);
    void settle();
    void fix_tie(int group);

    const PartModel& model_;
    Response& response_;
    JobSettings settings_;
    std::vector<Laid> laid_;
    std::vector<char> tied_;    // group_count
    std::vector<char> contact_; // group_count; its opening row is fixed as a contact
    std::vector<char> clamped_; // clamp_count
    int heat_start_, heat_end_; // actions
    bool settled_ = true;
};

} // namespace holdtrue::distortion
